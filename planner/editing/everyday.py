"""From what people call a thing to a kind of the library, and from a line of a list to a load."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Collection, Mapping
from difflib import get_close_matches
from functools import cache
from importlib.resources import files

from planner.case.library import kinds
from planner.editing.plate_words import plate_of
from planner.editing.values import Value
from planner.physics.wire.branch import CONTINUOUS
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A

_AMOUNT = (r"\d+[ -]+[1-9]\d*/[1-9]\d*|[1-9]\d*/[1-9]\d*|\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d+,\d{1,2}"
           r"|\d*\.?\d+")
_FRACTIONS = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"}
_UNITS = {
    "ton": ("ton", "tons"), "kW": ("kw", "kilowatt", "kilowatts"), "W": ("w", "watt", "watts"),
    "gal": ("gal", "gals", "gallon", "gallons"), "hp": ("hp", "horsepower"),
    "A": ("a", "amp", "amps", "ampere", "amperes"),
    "kBtu/h": ("kbtu/h", "kbtuh", "kbtu", "k btu/h", "k btuh", "k btu", "mbh"),
    "Btu/h": ("btu/h", "btuh", "btu"),
    "ft^2": ("ft2", "ft^2", "sqft", "sf", "sq ft", "sq. ft.", "sq. ft", "square feet"),
}
_SPELT = {spelling: unit for unit, spellings in _UNITS.items() for spelling in spellings}
_LONGEST_FIRST = "|".join(sorted(map(re.escape, _SPELT), key=len, reverse=True))
_SIZE = re.compile(
    rf"(?<![\w./])(?<!\d,)({_AMOUNT})\s*-?\s*({_LONGEST_FIRST})(?![\w/])", re.IGNORECASE)
_SHORT = re.compile(r"(?<![\w./,-])(\d{1,2}(?:\.\d)?)\s?t(?!\w)|(?<![\w./,-])(\d{1,2})\s?k(?!\w)",
                    re.IGNORECASE)
"""Beside a word for cooling: ``3T`` is 3 ton, ``42k`` is 42 kBtu/h (common practice, no source)."""
_BREAKER = re.compile(r"\s*(?:\bon an?\b|\bwith an?\b)?\s*\b(?:breaker|circuit)\b", re.IGNORECASE)
MOST_STAGES = 6
"""The largest electric furnace of the library, 30 kW, in stages of 5 kW."""
_FUELS = frozenset({"gas", "propane", "oil", "lp", "wood"})
_WORDS = {word: number for number, word in enumerate(
    ("two", "three", "four", "five", "six", "seven", "eight", "nine"), start=2)}
_SEVERAL = re.compile(
    rf"\s*([2-9]|{'|'.join(_WORDS)})\s*(?:[x×]\s*|\s)(?=[^\d\s/])", re.IGNORECASE)
_SEVERAL_BEHIND = re.compile(r"(.*\D)(?:\b[x×]\s?([2-9])|\(\s*([2-9])\s*\))\s*", re.IGNORECASE)


def kind_named(words: str) -> str | None:
    """Find the kind that everyday words mean; None if none is called so.

    Words in front that only say which one it is do not matter: ``upstairs central air`` is central
    air. What burns gas or oil is no electric appliance of the same name.
    """
    name, parts = _name_in(words)
    kind = _names().get(name)
    return None if kind is None or _burns_otherwise(parts, kind) else kind


def asked_of(words: str) -> tuple[str, ...]:
    """What to write instead of words that mean several kinds; empty for all others."""
    return _asked().get(_name_in(words)[0], ())


def _name_in(words: str) -> tuple[str, list[str]]:
    """The name that some words hold, the first and longest, and all of the words."""
    parts = re.findall(r"[a-z0-9/'-]+", words.casefold())
    for start in range(len(parts)):
        for end in range(len(parts), start, -1):
            name = " ".join(parts[start:end])
            for said in (name, name.removesuffix("s")):
                if said in _names() or said in _asked():
                    return said, parts
    return "", parts


def _burns_otherwise(words: Collection[str], kind: str) -> bool:
    return bool(_FUELS.intersection(words)) and not kind.startswith(
        ("gas ", "furnace", "boiler", "power-vent"))


def kinds_like(words: str, most: int = 3) -> tuple[str, ...]:
    """Kinds whose names look like these words, the closest first."""
    close = get_close_matches(words.casefold(), list(_names()), n=3 * most, cutoff=0.5)
    return tuple(dict.fromkeys(_names()[name] for name in close))[:most]


def in_stages(row: dict[str, Value]) -> list[dict[str, Value]]:
    """Split electric heat into its stages, each a load of its own; everything else stays one."""
    kind = kinds().get(str(row["kind"]))
    if kind is None or kind.stage is None or kind.sizes[0].default is None:
        return [row]
    amount, _, unit = str(row.get("size", "")).partition(" ")
    kw = float(amount) if unit == "kW" else kind.sizes[0].default
    count = min(round(kw / kind.stage.value), MOST_STAGES)
    if count < 2 or (unit and unit != "kW"):
        return [row]
    sizes: dict[str, Value] = {"size": f"{kw / count:.4g} kW"} if unit else {}
    return [{**row, **sizes, "label": f"{row['label']}, stage {number}",
             "stage": f"{number} of {count}"} for number in range(1, count + 1)]


def how_many(line: str) -> tuple[int, str]:
    """Read a count ahead of a kind or behind it, and give the rest; 1 where a figure is no count.

    ``2 fridges``, ``two fridges``, ``fridge x 2`` and ``fridge (2)`` are two; ``2 ton AC``,
    ``2 stage heat pump`` and ``2 door fridge`` are one.
    """
    behind = _SEVERAL_BEHIND.fullmatch(line)
    if behind is not None and kind_named(behind[1]):
        return int(behind[2] or behind[3]), behind[1]
    several = _SEVERAL.match(line)
    if several is None or _SIZE.match(line.strip()):
        return 1, line
    rest = line[several.end():]
    words = re.findall(r"[a-z0-9/'-]+", rest.casefold())
    begins = any(" ".join(words[:end]).removesuffix("s") in _names()
                 or " ".join(words[:end]) in _names() for end in range(1, len(words) + 1))
    number = _WORDS[said] if (said := several[1].casefold()) in _WORDS else int(said)
    return (number, rest) if begins else (1, line)


def burns_fuel(words: str) -> bool:
    """Whether words speak of something that burns gas, oil or wood."""
    return bool(_FUELS.intersection(re.findall(r"[a-z]+", words.casefold())))


def load_in_words(line: str) -> dict[str, Value]:
    """Read a line of a list, such as ``central air, 3.5 ton, LRA 96``, as keys of a load.

    Returns
    -------
    dict
        ``kind`` (the words as they stand where no kind is called so), ``label`` (the words without
        what was read off them), ``size`` and what the nameplate says if the line has them.
    """
    for sign, written in _FRACTIONS.items():
        line = line.replace(sign, f" {written}")
    line, plate = plate_of(line)
    found = _SIZE.search(line)
    short = _cooling_size(line) if found is None else None
    if short is not None:
        line, size = short
    words = _plain(line if found is None else f"{line[:found.start()]} {line[found.end():]}")
    kind = kind_named(words) or words
    row: dict[str, Value] = {"kind": kind, "label": words[:1].upper() + words[1:]}
    if found is not None:
        row["size"] = _in_a_unit_of(kind, _number(found[1]), _SPELT[found[2].casefold()])
    elif short is not None:
        row["size"] = size
    if _is_a_breaker(row):
        row["breaker"] = row.pop("size")
        row["label"] = _BREAKER.sub("", str(row["label"])).strip() or row["label"]
    return {**row, **plate}


def _plain(words: str) -> str:
    """Words without the signs around them and the gaps of what was read off; brackets closed."""
    text = " ".join(words.replace(",", " ").split()).strip(" -:;.*•")
    text = re.sub(r"\(\s*\)", " ", re.sub(r"\(\s+", "(", re.sub(r"\s+\)", ")", text)))
    text = " ".join(text.split()).strip(" -:;.*•")
    if text.count("(") < text.count(")"):
        text = text.rstrip(") ")
    elif text.count("(") > text.count(")"):
        text = text.rstrip("( ") if text.endswith("(") else f"{text})"
    return text[1:-1] if text.startswith("(") and text.endswith(")") and text.count("(") == 1 \
        else text


def _cooling_size(line: str) -> tuple[str, str] | None:
    """Take ``3T`` or ``42k`` out of a line that means a cooling unit, as a size in tons."""
    found = _SHORT.search(line)
    if found is None:
        return None
    rest = f"{line[:found.start()]} {line[found.end():]}"
    kind = kind_named(rest)
    if kind is None or kinds()[kind].sizes[0].running.unit != "ton":
        return None
    size = f"{found[1]} ton" if found[1] else _in_a_unit_of(kind, float(found[2]), "kBtu/h")
    return rest, size


def _is_a_breaker(row: Mapping[str, Value]) -> bool:
    """Whether amperes are those of a breaker: of every kind that does not come in amperes.

    Of a charger they are where the words say so, or 125 % of them is no standard rating
    (NEC 240.6(A), 625.42): no charger for 50 A has a breaker, but a breaker of 50 A has a charger.
    """
    amperes, _, unit = str(row.get("size", "")).partition(" ")
    if unit != "A":
        return False
    if row["kind"] != "vehicle charger":
        kind = kinds().get(str(row["kind"]))
        return kind is not None and all(one.unit != "A" for one in kind.sizes) \
            and float(amperes) in STANDARD_RATINGS_A
    said = _BREAKER.search(str(row["label"])) is not None
    return said or (float(amperes) in STANDARD_RATINGS_A
                    and float(amperes) * CONTINUOUS not in STANDARD_RATINGS_A)


def size_in_words(text: str) -> str:
    """Write a size as a file has it: ``1 1/2 HP`` is ``1.5 hp``; the same text if it is no size."""
    for sign, written in _FRACTIONS.items():
        text = text.replace(sign, f" {written}")
    found = _SIZE.fullmatch(text.strip())
    return text if found is None else _sized(_number(found[1]), _SPELT[found[2].casefold()])


def _sized(value: float, unit: str) -> str:
    return f"{value:.4g} {unit}" if value < 1000.0 else f"{value:.0f} {unit}"


def _number(text: str) -> float:
    """Read an amount: ``1 1/2``, ``1/3``, ``1,500``, and ``3,5`` with a decimal comma."""
    if "/" in text:
        *whole, fraction = re.split(r"[ -]+", text)
        top, bottom = fraction.split("/")
        return float(whole[0] if whole else 0) + float(top) / float(bottom)
    if re.fullmatch(r"\d+,\d{1,2}", text):
        return float(text.replace(",", "."))
    return float(text.replace(",", ""))


def _in_a_unit_of(kind: str, value: float, unit: str) -> str:
    """Write a size; thousandths where the kind is sized in a thousand of the unit."""
    options = {option.unit for option in kinds()[kind].sizes} if kind in kinds() else {unit}
    larger = {"W": "kW", "Btu/h": "kBtu/h"}.get(unit)
    if unit not in options and larger in options:
        value, unit = value / 1000.0, larger
    elif unit == "Btu/h" and "ton" in options:
        value, unit = value / 12000.0, "ton"
    elif unit == "kBtu/h" and "ton" in options:
        value, unit = value / 12.0, "ton"
    return _sized(value, unit)


def everyday_names() -> Mapping[str, str]:
    """Kinds by what people call them, the names of the kinds among them."""
    return _names()


def several_kinds() -> Mapping[str, tuple[str, ...]]:
    """What to write instead of words that mean several kinds, by those words."""
    return _asked()


@cache
def _asked() -> Mapping[str, tuple[str, ...]]:
    text = files("planner.editing").joinpath("asked.toml").read_text(encoding="utf-8")
    return {name: tuple(instead) for name, instead in tomllib.loads(text).items()}


@cache
def _names() -> Mapping[str, str]:
    text = files("planner.editing").joinpath("everyday.toml").read_text(encoding="utf-8")
    everyday = {name: kind for kind, names in tomllib.loads(text).items() for name in names}
    return {**everyday, **{kind: kind for kind in kinds()}}
