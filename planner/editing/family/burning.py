"""Fuels: what burns what, what heats the house, and which fuel the house has."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from planner.editing.family.marks import TAKEN, Statement
from planner.editing.family.mentions import Mention, takes_fuel, with_fuel
from planner.editing.family.near import near, next_to, only_signs

NONE = "no gas"
_SAID = (("propane", "propane"), ("lp", "propane"), ("gas", "gas"))
_BURNT = ("gas", "natural gas", "propane")
_SO = re.compile(r"[\s,]*(?:and )?so (?:is|are|was|were)\b")
_FEEDS = re.compile(r"\s*(?:feeds|fuels|runs|powers|goes to|supplies)\b")
_HEAT = re.compile(r"\x00+\s*(?:forced air\s+)?heat\b(?!\s+pump)"
                   r"|heat(?:ed|ing)?\s*(?:is|:|with|by|on|from)*\s*(?:by\s+)?\x00")


def burn(here: Statement, made: Sequence[Mention]) -> list[str]:
    """Give the fuels of a statement to its things, and say which are spoken of."""
    said = [NONE] if here.of(NONE) else []
    said += [mark.key for mark in here.of("no load") if mark.key == "propane"]
    for one in made:
        for word, fuel in _SAID:
            if re.search(rf"\b{word}\b", one.words):
                said.append(fuel)
                one.fuel = fuel
    for mark in here.of("fuel"):
        said += [mark.key] if mark.key in _BURNT else []
        tail = here.text[mark.end:]
        _, behind = next_to(made, mark.start, mark.end)
        if behind is not None and _SO.match(tail) and takes_fuel(behind):
            with_fuel(behind, mark.key)
        fed = [one for one in made if one.start > mark.end] if _FEEDS.match(tail) else \
            _about(here, made, mark.start)
        for one in fed:
            if takes_fuel(one):
                with_fuel(one, mark.key)
    return said


def _about(here: Statement, made: Sequence[Mention], place: int) -> list[Mention]:
    """The thing that a fuel is about: of its segment, or right before it."""
    segment = here.segment_of(place)
    beside = [one for one in near(here, made, place) if here.segment_of(one.start) == segment
              or only_signs(here, one.end, place)]
    able = [one for one in beside if takes_fuel(one)]
    return able[:1]


def heat_in(here: Statement) -> str:
    """The fuel that heats the house, where a statement says so; else empty."""
    burnt = [mark for mark in here.of("fuel") if mark.key in _BURNT]
    text = here.text
    for mark in burnt:
        text = f"{text[:mark.start]}{TAKEN * (mark.end - mark.start)}{text[mark.end:]}"
    return burnt[0].key if burnt and _HEAT.search(text) else ""


def fuel_of(said: Collection[str]) -> str:
    """The fuel of a house: natural gas if it is named, else propane, else gas is natural gas."""
    if "natural gas" in said and NONE not in said:
        return "natural gas"
    if "propane" in said:
        return "propane"
    return "natural gas" if "gas" in said and NONE not in said else ""
