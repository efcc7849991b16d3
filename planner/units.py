"""Units at the fence: text in, quantity out; kVA never becomes kW without a power factor.

The one registry of the project reads `units.txt` beside this file, so only units listed there
exist, real, apparent and shaft power are dimensions of their own, and a ton is a cooling ton.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass
from decimal import Decimal
from pathlib import Path
from typing import Any, TypeAlias

import pint

from planner.quoting import MOST_QUOTED, quoted, shortened

Quantity: TypeAlias = pint.Quantity[Any]

registry: pint.UnitRegistry[Any] = pint.UnitRegistry(Path(__file__).with_name("units.txt"))


@dataclass(frozen=True, slots=True)
class Dimension:
    """A kind of quantity: what it is called, its own unit, the spellings a file may use."""

    words: str
    unit: str
    spellings: tuple[str, ...]


DIMENSIONS: dict[str, Dimension] = {
    "power": Dimension("real power", "kW", ("kW", "W")),
    "apparent power": Dimension("apparent power", "kVA", ("kVA", "VA")),
    "reactive power": Dimension("reactive power", "kVAr", ("kVAr", "VAr")),
    "shaft power": Dimension("shaft power of a motor", "hp", ("hp",)),
    "current": Dimension("current", "A", ("A",)),
    "fault current": Dimension("current into a short circuit", "A", ("A", "kA")),
    "voltage": Dimension("voltage", "V", ("V",)),
    "energy": Dimension("electrical energy", "kWh", ("kWh",)),
    "cooling": Dimension("cooling or heating capacity", "ton", ("ton", "kBtu/h", "Btu/h")),
    "heat rate": Dimension("heat per hour", "Btu/h", ("Btu/h", "kBtu/h")),
    "time": Dimension("time", "h", ("h", "min", "s", "day")),
    "frequency": Dimension("frequency", "Hz", ("Hz",)),
    "length": Dimension("length", "ft", ("ft", "in")),
    "area": Dimension("area", "ft^2", ("ft^2", "ft2")),
    "volume": Dimension("volume", "gal", ("gal",)),
    "fuel rate": Dimension("fuel burned per hour", "gal/h", ("gal/h",)),
    "gas flow": Dimension("flow of gas", "ft^3/h", ("ft^3/h", "ft3/h")),
    "pressure": Dimension("gas pressure", "psi", ("psi", "inWC")),
    "heating value": Dimension("heating value of gas", "Btu/ft^3", ("Btu/ft^3", "Btu/ft3")),
    "loudness": Dimension("sound level", "dB", ("dB",)),
    "temperature": Dimension("temperature", "degF", ("degF",)),
    "share": Dimension("share", "%", ("%",)),
    "money": Dimension("money", "USD", ("USD",)),
    "price of gas": Dimension("price per therm", "USD/therm", ("USD/therm",)),
    "price of propane": Dimension("price per gallon", "USD/gal", ("USD/gal",)),
    "price per foot": Dimension("price per foot", "USD/ft", ("USD/ft",)),
}
_PINT_NAMES = {"%": "percent", "ft2": "ft^2", "ft3/h": "ft^3/h", "Btu/ft3": "Btu/ft^3"}
_ALSO = {"days": "day"}
"""Read like the spelling beside it, and not listed in messages: a spell is written "3 days"."""
_MEANT = {
    "h": "hour hours hr hrs", "min": "minute minutes mins m", "s": "second seconds sec secs",
    "day": "days d", "gal": "gallon gallons", "A": "amp amps ampere amperes", "ton": "tons",
    "ft": "foot feet ' ′", "in": "inch inches \" ″", "ft^2": "sqft sf ft² ft**2",
    "degF": "f °f deg fahrenheit", "%": "percent pct", "USD": "$ usd dollars",
    "kBtu/h": "kbtuh kbtu mbh", "Btu/h": "btuh btu btu/hr", "V": "volt volts",
    "psi": "psig lb/in^2 pounds", "inWC": "in.wc inwc iwc inh2o", "ft^3/h": "cfh scfh ft³/h cf/h",
    "kW": "kilowatt kilowatts", "W": "watt watts", "hp": "horsepower",
}
_MEANT_PHRASES = {
    "ft^2": ("sq ft", "sq. ft.", "sq. ft", "square feet", "square foot"),
    "degF": ("deg f", "degrees f", "degrees", "° f", "°"),
    "inWC": ("in wc", "in. wc", "in w.c.", "in. w.c.", "inches wc", "inches w.c.",
             "inches of water", "inches water column", "in of water", "in", "inches"),
}
# Own unit per unit, and what is added. The foot is 0.3048 m and the US gallon 3.785411784 L by
# definition (NIST SP 811, 2008, B.8); degrees Fahrenheit from Celsius and kelvin as there.
_METRIC = {
    "m^2": ("ft^2", 1.0 / 0.3048**2, 0.0), "m2": ("ft^2", 1.0 / 0.3048**2, 0.0),
    "m²": ("ft^2", 1.0 / 0.3048**2, 0.0), "m": ("ft", 1.0 / 0.3048, 0.0),
    "cm": ("in", 1.0 / 2.54, 0.0), "mm": ("in", 1.0 / 25.4, 0.0),
    "l": ("gal", 1.0 / 3.785411784, 0.0), "litre": ("gal", 1.0 / 3.785411784, 0.0),
    "liter": ("gal", 1.0 / 3.785411784, 0.0), "degc": ("degF", 1.8, 32.0),
    "°c": ("degF", 1.8, 32.0), "c": ("degF", 1.8, 32.0), "k": ("degF", 1.8, -459.67),
}
_TYPED = re.compile(r"\s*([+-]?\d{1,3}(?:,\d{3})+(?:\.\d+)?|[+-]?\d*\.?\d+)\s*(\D*?)\s*")
_NUMBER = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)"
_QUANTITY = re.compile(rf"\s*({_NUMBER})\s*(\S*)\s*")
_THOUSANDS = re.compile(r"\s*[+-]?\d{1,3}(?:[, ]\d{3})+(?:\.\d+)?\s*(?:[^\d\s]\S*)?\s*")
_RATE = re.compile(rf"\s*(.+?)\s+per\s+({_NUMBER}\s*\S+)\s*")
BELOW_ZERO = ("temperature", "length")  # an altitude
UNSURE = ("time", "pressure")  # a bare number of it may be in any of its units
LONGEST = 1000
"""Characters of a quantity: `written` needs 330 for the smallest float, and a longer text is not
worth looking through."""
LARGEST = 1e9
"""Of any unit, where nothing closer bounds it: a thousand million of anything is a slip."""


class UnitError(ValueError):
    """Text that is not a quantity of the dimension asked for.

    `sentence` says what was found and what is allowed, `remedy` what to write instead.
    """

    def __init__(self, sentence: str, remedy: str = "") -> None:
        super().__init__(f"{sentence} {remedy}".strip())
        self.sentence = sentence
        self.remedy = remedy


def parse(text: object, *dimensions: str, bounded: bool = True) -> Quantity:
    """Read text such as ``"3.5 kW"`` as a quantity of one of the dimensions.

    Parameters
    ----------
    text : object
        What the file holds. Only text with a number and a unit passes.
    dimensions : str
        Keys of `DIMENSIONS`; the first gives the example in messages.
    bounded : bool
        Whether more than `LARGEST` of the unit is refused here; not where the caller has closer
        bounds to name. The number can be infinite then.

    Returns
    -------
    Quantity

    Raises
    ------
    UnitError
        A bare number, an unknown unit, a unit of another dimension, no number at all, or far too
        large a one.
    """
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise UnitError(f"{quoted(text)} is not a quantity.", _write("10", dimensions))
    if not isinstance(text, str):
        number = f"{text:g}" if abs(text) <= LARGEST else quoted(text)
        raise UnitError(f"{number} has no unit.", _write(number, dimensions))
    if len(text) > LONGEST:
        raise UnitError(f"{quoted(text)} is not a number with a unit.", _write("10", dimensions))
    if _THOUSANDS.fullmatch(text):
        plain = re.sub(r"(?<=\d)[, ](?=\d)", "", text.strip())
        raise UnitError(f"{quoted(text)} separates thousands.", f"Write {quoted(plain)}.")
    match = _QUANTITY.fullmatch(text)
    if match is None:
        meant = next((one for name in dimensions for unit in DIMENSIONS[name].spellings
                      if (one := tidied(text, unit)) != text), None)
        remedy = f"Did you mean {quoted(meant)}?" if meant else _write("10", dimensions)
        raise UnitError(f"{quoted(text)} is not a number with a unit.", remedy)
    number, unit = match.groups()
    unit = _ALSO.get(unit, unit)
    if not unit:
        raise UnitError(f"{quoted(text)} has no unit.", _write(number, dimensions))
    allowed = _spellings(dimensions)
    if unit not in allowed:
        raise _wrong_unit(number, unit, dimensions)
    if bounded and not abs(float(number)) <= LARGEST:
        raise UnitError(f"{quoted(text)} is too high.", f"At most {LARGEST:.0f} {unit}.")
    quantity: Quantity = registry.Quantity(float(number), _PINT_NAMES.get(unit, unit))
    return quantity


def tidied(text: str, unit: str) -> str:
    """Write what people type as a file has it, if it is sure what they mean; else the same text.

    A bare number takes the unit; ``2,400 sq ft`` becomes ``2400 ft^2``, ``97 F`` becomes
    ``97 degF``. Nothing is converted.

    Parameters
    ----------
    text : str
        As it was typed.
    unit : str
        The unit that is expected, such as ``ft^2``.
    """
    found = _TYPED.fullmatch(text) if len(text) <= LONGEST else None
    if found is None:
        return text
    number, said = found[1].replace(",", ""), " ".join(found[2].casefold().split())
    own = DIMENSIONS[name].spellings if (name := dimension_of(unit)) else (unit,)
    for spelling in dict.fromkeys((unit, *own)):
        if said in {"", spelling.casefold(), *_MEANT.get(spelling, "").split(),
                    *_MEANT_PHRASES.get(spelling, ())} and (said or spelling == unit):
            return f"{number} {spelling}"
    return text


def parse_rate(text: object, dimension: str, per: str) -> Quantity:
    """Read text such as ``"3 % per 1000 ft"`` as a quantity divided by a quantity.

    Raises
    ------
    UnitError
        The word ``per`` is missing, or one of the two parts is not of its dimension.
    """
    sample = f"3 {DIMENSIONS[dimension].unit} per 10 {DIMENSIONS[per].unit}"
    is_short = isinstance(text, str) and len(text) <= LONGEST
    match = _RATE.fullmatch(text) if isinstance(text, str) and is_short else None
    if match is None:
        raise UnitError(f"{quoted(text)} is not a rate.", f'Write for example "{sample}".')
    below = parse(match[2], per)
    if below.magnitude <= 0.0:
        sentence = f"{quoted(text)} divides by {shortened(match[2])}."
        raise UnitError(sentence, f'Write for example "{sample}".')
    rate: Quantity = parse(match[1], dimension) / below
    return rate


def magnitude(quantity: Quantity, unit: str) -> float:
    """Value of a quantity in a unit; a share in ``"1"`` is a plain fraction.

    Raises
    ------
    pint.DimensionalityError
        The unit is of another dimension: kVA is never read as kW.
    """
    name = "" if unit == "1" else _PINT_NAMES.get(unit, unit)
    return float(quantity.m_as(name))


def written(value: float, unit: str) -> str:
    """Write a value the way a file has it, so that `parse` reads the very same value back."""
    digits = format(Decimal(repr(float(value))), "f")
    return f"{digits.removesuffix('.0')} {unit}"


def dimension_of(unit: str) -> str | None:
    """Name the first dimension that a unit's spelling belongs to; None if there is no such unit."""
    for name, dimension in DIMENSIONS.items():
        if unit in dimension.spellings:
            return name
    return None


def _wrong_unit(number: str, unit: str, dimensions: tuple[str, ...]) -> UnitError:
    wanted = " or ".join(DIMENSIONS[name].words for name in dimensions)
    allowed = _spellings(dimensions)
    other = dimension_of(unit)
    if other is not None:
        found = DIMENSIONS[other].words
        sentence = f"{quoted(f'{number} {unit}')} is {found}; {wanted} is expected."
        remedy = f"Give it in {', '.join(allowed)}."
        if {other, *dimensions} >= {"power", "apparent power"}:
            remedy += " kW is kVA times the power factor."
        return UnitError(sentence, remedy)
    close = [name for name in allowed if unit.lower() in _MEANT.get(name, "").split()]
    close += [name for name in allowed if name.lower() == unit.lower()]
    close += difflib.get_close_matches(unit, allowed, n=1, cutoff=0.7)
    words = {word: name for name in allowed for word in _MEANT.get(name, "").split()}
    close += [words[word] for word in difflib.get_close_matches(unit.lower(), words, 1, 0.8)]
    remedy = f"Give it in {_any_of(allowed)}."
    metric = _METRIC.get(unit.lower())
    if metric and metric[0] in allowed and abs(float(number)) <= LARGEST:
        own, per, more = metric
        remedy = f"That is {quoted(written(round(float(number) * per + more, 1), own))}."
    elif close:
        remedy = f"Did you mean {quoted(f'{number} {close[0]}')}?"
    return UnitError(f"unit {quoted(unit)} is not one of {', '.join(allowed)}.", remedy)


def _spellings(dimensions: tuple[str, ...]) -> list[str]:
    return [unit for name in dimensions for unit in DIMENSIONS[name].spellings]


def _any_of(names: list[str]) -> str:
    """List names with ``or`` before the last."""
    return " or ".join((", ".join(names[:-1]), names[-1])) if len(names) > 1 else names[0]


def _write(number: str, dimensions: tuple[str, ...]) -> str:
    units = _spellings(dimensions)
    if dimensions[0] in UNSURE:  # seconds or hours, psi or inches of water: nothing is guessed
        sample = number if len(number) <= MOST_QUOTED // 2 and float(number) >= 0.0 else "10"
        return f"Say whether it is {_any_of([quoted(f'{sample} {unit}') for unit in units])}."
    others = f" (units: {', '.join(units)})" if len(units) > 1 else ""
    sample = number if len(number) <= MOST_QUOTED // 2 else "10"
    if dimensions[0] == "share" and units[0] == "%" and 0.0 < float(sample) < 1.0:
        sample = f"{100.0 * float(sample):g}"  # 0.9 of the whole
    if float(sample) < 0.0 and dimensions[0] not in BELOW_ZERO:
        sample = "10"
    return f'Write "{sample} {units[0]}"{others}.'
