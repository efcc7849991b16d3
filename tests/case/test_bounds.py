"""Every quantity of a file has bounds: what lies beyond is refused in a sentence that says them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from planner.case import bounds
from planner.case.book.read import read_book_text
from planner.case.read import read_home_text
from planner.errors import CaseError, Severity
from planner.quoting import MOST_QUOTED
from tests.case.files import HEAD, load_text

BOOK = (Path(__file__).parents[2] / "cases" / "demo_price_book.toml").read_text("utf-8")
HOME = HEAD.replace("\n[[panels]]", """\
small_appliance_circuits = 2

[code.measured]
peak = "20 kVA"
days = 400
interval = "15 min"

[limits]
allowed_dip = "25 %"
largest_share = "90 %"

[[panels]]""", 1) + load_text(
    "it", "workshop tools", 'running = "2 kW"', "power_factor = 0.8", 'nameplate = "3 kVA"',
    'locked_rotor = "90 A"', 'motor = "1.5 hp"', "start_power_factor = 0.5", 'mca = "12 A"',
    'mop = "20 A"', 'wait = "1 h"', "importance = 3", 'leg = "both"',
    'surge = [{for = "0.3 s", kw = "2 kW", kva = "9 kVA"}]',
    'use.every = { kind = "cooling", balance = "70 degF", full_duty = "80 %", offset = "1 h" }')
OF_HOMES = {
    "service": "A", "floor_area": "ft^2", "altitude": "ft", "summer_design": "degF", "peak": "kVA",
    "interval": "min", "allowed_dip": "%", "largest_share": "%", "feeder": "A", "low": "degF",
    "running": "kW", "nameplate": "kVA", "locked_rotor": "A", "motor": "hp", "mca": "A",
    "mop": "A", "wait": "h", "for": "s", "kw": "kW", "kva": "kVA", "balance": "degF",
    "full_duty": "%", "offset": "h",
}
OF_BOOKS = {
    "relocation": "USD", "permits": "USD", "maintenance_per_year": "USD", "natural_gas":
    "USD/therm", "propane": "USD/gal", "short_time": "%", "altitude": "% per 1000 ft",
    "altitude_from": "ft", "temperature": "% per 10 degF", "price": "USD", "installation": "USD",
    "inertia": "s", "power": "kW", "apparent": "kVA", "current": "A", "full_load": "Btu/h",
    "rating": "A", "motor": "hp", "factor": "%",
}
BARE_OF_HOMES = ("days", "weight", "power_factor", "start_power_factor", "importance",
                 "small_appliance_circuits")
BARE_OF_BOOKS = ("reactance", "positions", "poles", "modules")
ABSURD = {
    "200 nines": "9" * 200, "400 digits": "1" * 400, "5,000 digits": "7" * 5000,
    "a fraction of 500 digits": "3" * 500 + ".5", "minus 300 nines": "-" + "9" * 300,
}
BARE = {
    "infinity": "inf", "minus infinity": "-inf", "nan": "nan", "400 digits": "1" * 400,
    "5,000 sixteenths": "0x" + "f" * 5000, "1e400": "1e400", "minus 200 nines": "-" + "9" * 200,
}


def with_value(text, key, value):
    """Put a value in place of the first one that a key has; it must have one."""
    found, count = re.subn(rf'(?m)(^|[{{ ,.]){key} = ("[^"]*"|[-\d.]+)',
                           lambda match: f"{match[1]}{key} = {value}", text, count=1)
    assert count == 1, key
    return found


def refusal(text):
    """Read a home or a price book and give the errors that refuse it."""
    read = read_book_text if "[book]" in text else read_home_text
    with pytest.raises(CaseError) as refused:
        read(text, "the.toml")
    return [one for one in refused.value.findings if one.severity is Severity.ERROR]


def test_unspoiled_both_files_are_sound():
    """What is refused below is the value that was put in."""
    assert read_home_text(HOME, "the.toml")[0].load("it").running_kw == 2.0
    assert read_book_text(BOOK, "the.toml")[0].generators


@pytest.mark.parametrize("what", ABSURD)
@pytest.mark.parametrize(("text", "key", "unit"), [
    *((HOME, key, unit) for key, unit in OF_HOMES.items()),
    *((BOOK, key, unit) for key, unit in OF_BOOKS.items())],
    ids=[*OF_HOMES, *(f"book {key}" for key in OF_BOOKS)])
def test_a_quantity_beyond_all_sense_is_refused_with_what_is_allowed(text, key, unit, what):
    """The finding names the key, quotes the beginning of the value, and says the bound."""
    findings = refusal(with_value(text, key, f'"{ABSURD[what]} {unit}"'))
    about = [one for one in findings if one.where.endswith((key, f"{key}.for", "seconds"))]
    assert about, findings
    assert all(len(one.sentence) < MOST_QUOTED + 60 for one in about)
    assert any(re.search(r"At (most|least) -?[\d.]+|without the minus|without a minus|Write |"
                         r"Say whether ",
                         one.remedy) for one in about)
    assert any(ABSURD[what][:20] in one.sentence for one in about)


@pytest.mark.parametrize("what", BARE)
@pytest.mark.parametrize(("text", "key"), [
    *((HOME, key) for key in BARE_OF_HOMES),
    *((BOOK, key) for key in BARE_OF_BOOKS)], ids=[*BARE_OF_HOMES, *BARE_OF_BOOKS])
def test_a_bare_number_beyond_all_sense_is_refused_with_what_is_allowed(text, key, what):
    """Infinity, nan, and integers too large for a float are no numbers of a file."""
    findings = [one for one in refusal(with_value(text, key, BARE[what]))
                if one.where.endswith(key)]
    assert len(findings) == 1
    assert re.search(r"number (from [\d.]+ to [\d.]+)?", findings[0].remedy)
    assert len(findings[0].sentence) < MOST_QUOTED + 60


@pytest.mark.parametrize("what", BARE)
@pytest.mark.parametrize("key", ["service", "running", "price_book", "fuel", "edition", "label"])
def test_a_bare_number_in_place_of_text_is_refused(key, what):
    """However large it is, it is only said to be no text."""
    text = HOME.replace('fuel =', 'price_book = "book.toml"\nfuel =', 1)
    findings = [one for one in refusal(with_value(text, key, BARE[what]))
                if one.where.endswith(key)]
    assert len(findings) == 1
    assert len(str(findings[0])) < 300


def test_a_number_of_5000_digits_is_refused_by_its_file():
    """The parser does not convert it; the refusal speaks of the number, not of the parser."""
    findings = refusal(HOME.replace("weight = 1\n", f"weight = {'9' * 5000}\n"))
    assert [(one.where, one.sentence) for one in findings] == [
        ("the.toml", "a number of it has thousands of digits.")]


@pytest.mark.parametrize(("key", "within", "beyond", "rule"), [
    ("running", "288 kW", "288.1 kW", "At most 288 kW, what a 1200 A service carries."),
    ("running", "1200 A", "1201 A", "At most 1200 A, what a 1200 A service carries."),
    ("running", "288000 VA", "288001 VA", "At most 288000 VA, what a 1200 A service carries."),
    ("feeder", "6000 A", "6001 A",
     "At most 6000 A, the largest standard rating, NEC 240.6(A)."),
    ("wait", "7 day", "8 day", "At most 7 day, a week."), ("wait", "168 h", "169 h", "At most"),
    ("for", "60 s", "2 min", "At most 1 min."),
])
def test_the_ends_are_allowed_and_said_in_the_unit_that_was_written(key, within, beyond, rule):
    """A bound is a value that passes; what is refused is told the bound in its own unit."""
    wrong = HOME.replace("importance = 3", "importance = 9")  # refused in any case
    passed = [one.where.rpartition(": ")[2] for one in refusal(
        with_value(wrong, key, f'"{within}"').replace("power_factor = 0.8", "power_factor = 1"))]
    assert passed[0] == "importance"
    assert not any(where.endswith(key) for where in passed)
    findings = refusal(with_value(wrong, key, f'"{beyond}"'))
    assert any(one.remedy.startswith(rule) for one in findings), findings


@pytest.mark.parametrize(("lines", "key", "sentence"), [
    (('running = "200 kW"', "power_factor = 0.05"), "running", "it draws 16,667 A at 240 V"),
    (('running = "200 kVA"', 'leg = "L1"'), "running", "it draws 1,667 A at 120 V"),
    (('running = "20 A"', 'motor = "380 hp"', 'code_letter = "U"'), "locked_rotor",
     "it starts with 35,451 A at 240 V"),
])
def test_values_that_are_beyond_bounds_together_are_refused(lines, key, sentence):
    """Each alone would do; together they make more than any service carries."""
    leg = () if any("leg" in line for line in lines) else ('leg = "both"',)
    findings = refusal(HEAD + load_text("it", "workshop tools", *lines, *leg))
    assert [(one.where, one.sentence[: len(sentence)]) for one in findings] == [
        (f"the.toml: load it: {key}", sentence)]


@pytest.mark.parametrize(("header", "most"), [
    ("[[loads]]", bounds.MOST_LOADS), ("[[days]]", bounds.MOST_DAYS),
    ("[[panels]]", bounds.MOST_PANELS)])
def test_a_list_has_a_bound_too(header, most):
    """One finding speaks of the whole list, not one for each of its items."""
    findings = refusal(HOME + f"\n{header}\n" * (most + 1))
    name = header.strip("[]")
    assert f"the.toml: {name}" in [one.where for one in findings]
    assert f"At most {most:,}." in [one.remedy for one in findings]
    assert len(findings) < 10


def test_every_bound_can_be_met():
    """The least of every bound is below its most, and both are quantities of its dimension."""
    found = [one for one in vars(bounds).values() if isinstance(one, bounds.Bound)]
    assert len(found) > 25
    for bound in found:
        least, most = bound.ends
        assert least < most
        assert bound.least.split()[0] not in ("inf", "nan")
