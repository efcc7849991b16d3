"""What the description of a circuit means: kinds of appliance, or lights and receptacles."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from planner.case.library import kinds
from planner.editing.everyday import kind_named

GENERAL, KITCHEN = "lighting and receptacles", "kitchen receptacles"
_TOKENS = re.compile(r"[a-z0-9/'.-]+")
_PARTS = re.compile(r"\s*(?:(?<!\d)/|/(?!\d)|[,;+&]|\band\b|\bw/)\s*")
_GENERAL_WORDS = re.compile(r"\b(?:lights|receptacles)\b")
_HEAT_PUMP = re.compile(r"(?<!\d)(?<!\d[ -])(?<![½¼¾])(?<![½¼¾] )\bhp\b(?!\s*motor)")
_DEVICE = re.compile(r"(?<![\w.])\d{2,3}\s*(?:a|amps?)\b(?!/)|\(?\b[12]\s*-?\s*p(?:ole)?s?\b\)?"
                     r"|\b(?:120|240|208|220|230|115|110)\s*v(?:olts?|ac)?\b"
                     r"|\b120/240\s*v?\b|\b[ds]p\b")


@dataclass(frozen=True, slots=True)
class Part:
    """One thing on a circuit: a kind, "" where none is called so, and the words to read it from."""

    kind: str
    words: str


def written_out(words: str) -> str:
    """Write the shorthand of a description out, in small letters, without breaker and volts."""
    text = " ".join(_DEVICE.sub(" ", f" {words.casefold()} ").split())
    text = re.sub(r"(?<=[a-z])-(?=\d)", " ", _HEAT_PUMP.sub("heat pump", text))
    return _spelt(text)


def _spelt(text: str) -> str:
    short = _short()
    return _short_pattern().sub(
        lambda found: short.get(found[0]) or short[found[0].rstrip(".")], text)


def parts_of(words: str) -> tuple[Part, ...]:
    """Read a description: ``Disp/DW`` is two, ``Kit lts, hall recs`` is one of `GENERAL`."""
    if kind_named(words) == "vehicle charger":  # its amperes are its size
        return (Part("vehicle charger", words),)
    text = written_out(words)
    found: dict[str, Part] = {}
    for said in _PARTS.split(text):
        piece = _spelt(said)
        if not re.search(r"[a-z]", piece) or (_says_nothing(piece) and piece != text):
            continue
        one = _part(piece)
        found.setdefault(one.kind or piece, one)
    return tuple(found.values())


def _says_nothing(piece: str) -> bool:
    """Whether a piece of a description only says more of another: ``Oven, elec``."""
    return all(word in _words("beside") or word == "electric" for word in piece.split()) \
        and "lights" not in piece and "receptacles" not in piece and piece not in _alone()


def on_both_legs(words: str) -> bool:
    """Whether a description means one thing that is on both legs only."""
    parts = parts_of(words)
    kind = kinds().get(parts[0].kind) if len(parts) == 1 else None
    return kind is not None and kind.legs == ["both"] and kind.name != GENERAL


def _part(piece: str) -> Part:
    plain = " ".join(_TOKENS.findall(piece))
    alone = _alone().get(plain)
    if alone is not None:
        return Part(alone, alone)
    if KITCHEN in plain and "lights" not in plain.split():
        return Part(KITCHEN, piece)
    rest = " ".join(_GENERAL_WORDS.sub(" ", piece).split())
    if "lights" in plain.split() or _only_places(plain):
        return Part(GENERAL, piece)
    if "receptacles" in plain.split() and (not rest or _only_places(rest)):
        return Part(GENERAL, piece)
    named = kind_named(rest)
    if named is not None:
        return Part(named, rest)
    return Part(GENERAL if kind_named(piece) == GENERAL else "", piece)


def _only_places(text: str) -> bool:
    words = [word.strip("'.-#") for word in re.findall(r"[a-z0-9'-]+", text)]
    plain = [word for word in words if word and not word.isdecimal()]
    places = _words("words")
    return bool(plain) and any(word in places for word in plain) and all(
        word in places or word in _words("beside") or re.fullmatch(r"[a-z]?\d+", word)
        for word in plain)


@cache
def _table() -> Mapping[str, Any]:
    text = files("planner.editing.circuits").joinpath("shorthand.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


@cache
def _short() -> Mapping[str, str]:
    table = _table()["short"]
    return {**{meant: meant for meant in table},  # so that what is written out stays
            **{short: meant for meant, shorts in table.items() for short in shorts}}


@cache
def _short_pattern() -> re.Pattern[str]:
    longest = sorted(_short(), key=len, reverse=True)
    return re.compile(rf"(?<![\w/'.])(?:{'|'.join(map(re.escape, longest))})(?![\w'])\.?(?!\d)")


@cache
def _alone() -> Mapping[str, str]:
    return {word: kind for kind, words in _table()["alone"].items() for word in words}


@cache
def _words(key: str) -> frozenset[str]:
    return frozenset(_table()["places"][key])
