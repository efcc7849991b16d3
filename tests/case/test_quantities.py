"""Units at the fence: what text is taken, what is refused, and in which words."""

from __future__ import annotations

import subprocess
import sys

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.units import DIMENSIONS, UnitError, magnitude, parse, parse_rate, registry, written


@pytest.mark.parametrize(("text", "dimension", "unit", "value"), [
    ("3.5 kW", "power", "W", 3500.0),
    ("3500 W", "power", "kW", 3.5),
    ("82 A", "current", "A", 82.0),
    ("22 kA", "fault current", "A", 22_000.0),
    ("25 %", "share", "1", 0.25),
    ("25%", "share", "%", 25.0),
    ("2400 ft^2", "area", "ft^2", 2400.0),
    ("36 kBtu/h", "cooling", "ton", 3.0),  # 1 ton of cooling = 12 000 Btu/h, by definition
    ("30 min", "time", "h", 0.5),
    ("-4 degF", "temperature", "degF", -4.0),
    ("1.20 USD/therm", "price of gas", "USD/therm", 1.2),
])
def test_text_with_a_unit_is_read(text, dimension, unit, value):
    """A number and an allowed unit give the quantity, in any unit of its dimension."""
    assert magnitude(parse(text, dimension), unit) == pytest.approx(value)


@pytest.mark.parametrize(("text", "message"), [
    (3.5, '3.5 has no unit. Write "3.5 kW" (units: kW, W).'),
    ("3.5", '"3.5" has no unit. Write "3.5 kW" (units: kW, W).'),
    ("3.5 KW", 'unit "KW" is not one of kW, W. Did you mean "3.5 kW"?'),
    ("1,500 W", '"1,500 W" separates thousands. Write "1500 W".'),
    ("1 500 W", '"1 500 W" separates thousands. Write "1500 W".'),
    ("5 kVA", '"5 kVA" is apparent power; real power is expected. Give it in kW, W. '
              "kW is kVA times the power factor."),
    ("5 mW", 'unit "mW" is not one of kW, W. Give it in kW or W.'),
    ("nan kW", '"nan kW" is not a number with a unit. Write "10 kW" (units: kW, W).'),
    (True, 'true is not a quantity. Write "10 kW" (units: kW, W).'),
    ([], 'a list is not a quantity. Write "10 kW" (units: kW, W).'),
])
def test_a_refusal_says_what_was_found_and_what_to_write(text, message):
    """Anything but a number with a unit of real power is refused, with the mend in words."""
    with pytest.raises(UnitError) as refusal:
        parse(text, "power")
    assert str(refusal.value) == message


@pytest.mark.parametrize(("text", "dimension", "remedy"), [
    ("185 m^2", "area", 'That is "1991.3 ft^2".'),  # 185 / 0.3048²
    ("-11 degC", "temperature", 'That is "12.2 degF".'),
    ("190 L", "volume", 'That is "50.2 gal".'),  # 190 / 3.785411784
    ("10000 m^2", "area", 'That is "107639.1 ft^2".'),
    ("1" + "0" * 400 + " m", "length", "Give it in ft or in."),
    ("9000 EUR", "money", "Give it in USD."),
    ("5", "time", 'Say whether it is "5 h", "5 min", "5 s" or "5 day".'),
])
def test_a_remedy_never_changes_the_value(text, dimension, remedy):
    """What is metric is converted; where a unit can only be guessed, no number is put to it."""
    with pytest.raises(UnitError) as refused:
        parse(text, dimension)
    assert refused.value.remedy == remedy


@pytest.mark.parametrize(("text", "meant"), [
    ("20 amps", "A"), ("3 tons", "ton"), ("2 hours", "h"), ("50 gallons", "gal"),
    ("200 sqft", "ft^2"), ("70 F", "degF"), ("10 percent", "%"), ("3 HP", "hp"),
])
def test_a_common_misspelling_is_recognised(text, meant):
    """The unit that was meant is suggested."""
    number = text.split()[0]
    names = [name for name, dimension in DIMENSIONS.items() if meant in dimension.spellings]
    with pytest.raises(UnitError, match=f'Did you mean "{number} {meant.replace("^", ".")}"'):
        parse(text, names[0])


@pytest.mark.parametrize("target", ["kW", "kVAr", "hp", "A", "Btu/h"])
def test_apparent_power_never_becomes_another_kind(target):
    """10 kVA is not a number of kilowatts, nor of anything else but kVA."""
    with pytest.raises(pint.DimensionalityError):
        magnitude(parse("10 kVA", "apparent power"), target)


@pytest.mark.parametrize("unit", ["kg", "cfm", "kelvin", "m", "F", "mole", "lb"])
def test_units_outside_the_list_do_not_exist(unit):
    """The registry holds the project's own list and nothing else: no mass, no farad."""
    with pytest.raises((pint.UndefinedUnitError, ValueError)):
        registry.Quantity(1.0, unit).to("kW")
    assert unit not in {spelling for d in DIMENSIONS.values() for spelling in d.spellings}


def test_every_spelling_is_a_unit_of_its_dimension():
    """Each spelling of the allow-list parses, and converts to its dimension's own unit."""
    for name, dimension in DIMENSIONS.items():
        for spelling in dimension.spellings:
            assert magnitude(parse(f"2 {spelling}", name), dimension.unit) > 0.0


def test_a_rate_divides():
    """3 % per 1000 ft is 0.03 for each thousand feet; a rate without "per" is refused."""
    rate = parse_rate("3 % per 1000 ft", "share", "length")
    assert magnitude(rate, "1/ft") * 1000.0 == pytest.approx(0.03)
    with pytest.raises(UnitError, match="is not a rate"):
        parse_rate("3 %", "share", "length")
    with pytest.raises(UnitError, match="divides by"):
        parse_rate("3 % per 0 ft", "share", "length")


@given(st.floats(min_value=-1e6, max_value=1e6, allow_nan=False, allow_infinity=False))
def test_what_is_written_is_read_back(value):
    """Writing a value and reading it gives the very same float."""
    assert magnitude(parse(written(value, "kW"), "power"), "kW") == value


def test_the_default_registry_is_not_loaded():
    """Importing the units never builds the library's own registry, which is slow and lax."""
    code = ("import planner.units, pint\n"
            "kind = type(pint.application_registry.get())\n"
            "print(kind.__name__)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "LazyRegistry"


def test_days_are_written_as_in_a_spell():
    """"3 days" and "3 day" are the same 72 hours; messages list one spelling."""
    assert parse("3 days", "time").to("h").magnitude == 72.0
    assert parse("3 day", "time").to("h").magnitude == 72.0
    with pytest.raises(UnitError) as caught:
        parse("3", "time")
    assert "days" not in str(caught.value)


@pytest.mark.parametrize(("text", "dimension", "remedy"), [
    ("7", "pressure", 'Say whether it is "7 psi" or "7 inWC".'),
    ("7 in wc", "pressure", 'Did you mean "7 inWC"?'),
    ("7 in. w.c.", "pressure", 'Did you mean "7 inWC"?'),
    ("2400 sq ft", "area", 'Did you mean "2400 ft^2"?'),
    ("500 galons", "volume", 'Did you mean "500 gal"?'),
    ("180'", "length", 'Did you mean "180 ft"?'),
])
def test_what_a_trade_writes_is_understood_and_a_pressure_never_guessed(text, dimension, remedy):
    """7 inches of water taken for 7 psi would be 28 times the pressure."""
    with pytest.raises(UnitError) as caught:
        parse(text, dimension)
    assert caught.value.remedy == remedy
