"""The price book: what is read, what is refused, and what the demonstration book may say."""

from __future__ import annotations

import tomllib
from itertools import pairwise
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.errors import CaseError, Severity
from planner.facts.engine import GOVERNOR_S, LOW_HZ

CASES = Path(__file__).parents[2] / "cases"
DEMO = CASES / "demo_price_book.toml"
BROKEN = sorted(CASES.glob("broken_price_book_*.toml"))
BTU_PER_KWH = 3412.0  # US Energy Information Administration


@pytest.fixture(scope="module")
def demo():
    """Give the demonstration price book."""
    return read_book(DEMO)[0]


def changed(folder, old, new, count=1):
    """Path of the demonstration book with a piece of its text replaced."""
    text = DEMO.read_text(encoding="utf-8")
    assert old in text
    path = folder / "book.toml"
    path.write_text(text.replace(old, new, count), encoding="utf-8")
    return path


def test_there_are_broken_price_books():
    """Enough kinds of defect are covered, each in a file named after it."""
    assert len(BROKEN) >= 3


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_book_is_refused_with_all_its_findings(path):
    """The findings are those the file expects, one for one, in order; exit code 2."""
    expected = tomllib.loads(path.read_text(encoding="utf-8"))["expected"]["findings"]
    with pytest.raises(CaseError) as refusal:
        read_book(path)
    found = [str(finding).split(f"{path.name}: ", 1)[1] for finding in refusal.value.findings]
    assert found == expected
    assert refusal.value.exit_code == 2


def test_the_demo_book_has_no_finding():
    """Nothing in the book that the homes use is doubtful."""
    assert read_book(DEMO)[1] == ()


def test_the_demo_book_says_that_it_is_invented(demo):
    """The notice, which stands beside every price, says that prices are invented, no offer."""
    assert "invented" in demo.notice.lower()
    assert "not an offer" in demo.notice.lower()


def test_labels_of_the_demo_book_are_plain_words(demo):
    """No part carries a model code: labels are words, numbers and units."""
    parts = (*demo.generators, *demo.transfers, *demo.modules, *demo.controllers,
             *demo.soft_starters)
    for part in parts:
        for word in part.label.replace("-", " ").replace(",", " ").split():
            assert word.isalpha() or word.replace(".", "", 1).isdigit()


def test_larger_generators_of_the_demo_book_carry_more_and_cost_more(demo):
    """Along each way of cooling, power on both fuels and installed price rise together."""
    for cooling in ("air", "liquid"):
        generators = [g for g in demo.generators if g.cooling == cooling]
        assert len(generators) >= 3
        for small, large in pairwise(generators):
            assert small.price + small.installation < large.price + large.installation
            for fuel in ("natural gas", "propane"):
                assert small.ratings[fuel].kw < large.ratings[fuel].kw
                assert small.ratings[fuel].fuel.full_load_btu_h < (
                    large.ratings[fuel].fuel.full_load_btu_h)


def test_ratings_of_the_demo_book_are_physical(demo):
    """Efficiency is 18-25 % at full load (HHV, from memory), and worse at half load."""
    for generator in demo.generators:
        assert 0.12 <= generator.reactance <= 0.25  # chosen; likely 0.15-0.30, from memory
        assert 1.05 <= generator.short_time <= 1.1501  # common practice, no source
        assert generator.ratings["natural gas"].kw < generator.ratings["propane"].kw
        for rating in generator.ratings.values():
            assert rating.kva >= rating.kw
            assert rating.amperes == pytest.approx(1000.0 * rating.kva / 240.0, abs=0.1)
            full = rating.kw * BTU_PER_KWH / rating.fuel.full_load_btu_h
            half = 0.5 * rating.kw * BTU_PER_KWH / rating.fuel.half_load_btu_h
            assert 0.18 <= full <= 0.25
            assert half < full


def test_slopes_and_datums_are_read(demo):
    """3.5 % per 1000 ft above the sea, 1 % per 10 degF above 77, as its header says."""
    loss = demo.generators[0].derating
    assert loss.altitude_per_1000_ft == pytest.approx(0.035)
    assert loss.altitude_datum_ft == 0.0
    assert loss.temperature_per_10_degf == pytest.approx(0.01)
    assert loss.temperature_datum_degf == 77.0
    assert not loss.kva_too


def test_a_slope_may_be_written_per_any_length(tmp_path):
    """0.3 % per 100 ft is 3 % per 1000 ft: the text carries its own units."""
    book, _ = read_book(changed(tmp_path, 'altitude = "3.5 % per 1000 ft"',
                                'altitude = "0.3 % per 100 ft"'))
    assert book.generators[0].derating.altitude_per_1000_ft == pytest.approx(0.03)


def test_what_is_known_of_an_engine_is_read(tmp_path):
    """Lag, protection, senses and the seconds of a soft start; what is not stated is usual."""
    said = ('governor_lag = "0.3 s"\nunder_frequency = "52 Hz"\nunder_frequency_after = "8 s"\n'
            'under_voltage = "80 %"\nunder_voltage_after = "3 s"\ninertia = "0.35 s"')
    book, _ = read_book(changed(tmp_path, 'inertia = "0.35 s"', said))
    first, second = book.generators[:2]
    assert (first.governor_s, first.low_frequency_hz, first.low_frequency_s) == (0.3, 52.0, 8.0)
    assert (first.low_voltage, first.low_voltage_s) == (0.8, 3.0)
    assert (second.governor_s, second.low_frequency_hz) == (GOVERNOR_S.value, LOW_HZ.value)
    assert [one.senses for one in book.modules] == [
        "current", "current", "call", "current", "call"]
    assert book.soft_starters[0].start_s is None
    book, _ = read_book(changed(tmp_path, 'factor = "50 %"', 'factor = "50 %"\nstart = "1.2 s"'))
    assert book.soft_starters[0].start_s == pytest.approx(1.2)
    assert book.soft_starters[0].short_circuit_a == 5000.0
    book, _ = read_book(changed(tmp_path, 'suits = ["compressor"]\nshort_circuit = "5000 A"',
                                'suits = ["compressor"]'))
    assert book.soft_starters[1].short_circuit_a is None
    book, _ = read_book(changed(tmp_path, 'action = "contactor"',
                                'action = "contactor"\nsenses = "nothing"'))
    assert book.modules[0].senses == "nothing"


def test_the_stem_is_the_id(tmp_path):
    """A book is called like its file."""
    assert read_book(changed(tmp_path, "Demonstration", "Another"))[0].id == "book"


@pytest.mark.parametrize(("old", "new", "where", "words"), [
    ('current = "31.8 A"', 'current = "37.5 A"', "generator air-8-5: ratings.natural gas.current",
     "37.5 A is not what 7.65 kVA gives at 240 V, 31.9 A per leg."),
    ("reactance = 0.25", "reactance = 0.02", "generator air-8-5: reactance",
     "0.02 is outside the likely 0.05 to 0.4."),
    ('full_load = "131000 Btu/h"', 'full_load = "900000 Btu/h"',
     "generator air-8-5: ratings.natural gas.full_load", "3% efficiency at full load"),
    ('factor = "50 %"', 'factor = "100 %"', "soft starter soft-18: factor",
     "it leaves the starting current as it is."),
    ('action = "thermostat"', 'action = "thermostat"\npoles = 2', "module thermostat: poles",
     "it is not read: a thermostat module opens a control circuit."),
])
def test_doubtful_figures_are_warned_of(tmp_path, old, new, where, words):
    """An unlikely figure does not stop the work; one warning stands beside it."""
    _, findings = read_book(changed(tmp_path, old, new))
    assert [finding.severity for finding in findings] == [Severity.WARNING]
    assert findings[0].where == f"book.toml: {where}"
    assert findings[0].sentence.startswith(words)


def test_modules_without_a_controller_are_warned_of(tmp_path):
    """Modules that nothing drives let no load take turns."""
    text = DEMO.read_text(encoding="utf-8")
    start, end = text.index("[[controllers]]"), text.index("[[soft_starters]]")
    path = tmp_path / "book.toml"
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    _, findings = read_book(path)
    assert [finding.where for finding in findings] == ["book.toml: controllers"]


def test_without_transfer_equipment_there_is_no_book(tmp_path):
    """A generator without transfer equipment must never be planned: backfeed kills."""
    text = DEMO.read_text(encoding="utf-8")
    start, end = text.index("[[transfers]]"), text.index("[[modules]]")
    path = tmp_path / "book.toml"
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    with pytest.raises(CaseError) as refusal:
        read_book(path)
    assert [finding.where for finding in refusal.value.findings] == ["book.toml: transfers"]
    assert "without transfer equipment" in refusal.value.findings[0].sentence


def test_a_missing_price_book_is_one_plain_finding(tmp_path):
    """A file that is not there gives one sentence, no traceback."""
    with pytest.raises(CaseError, match="there is no such file") as refusal:
        read_book(tmp_path / "none.toml")
    assert len(refusal.value.findings) == 1
