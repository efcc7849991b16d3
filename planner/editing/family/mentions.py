"""Things that a statement mentions: kinds found anywhere, the longest name first."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Literal

from planner.editing.family import names
from planner.editing.family.marks import Mark, Statement, phrases
from planner.editing.values import Value

Wish = Literal["must run", "matters most", "can wait", "don't care"]
NOTHING = "nothing"  # a kind: what draws nothing worth planning, or is not planned
SEVERAL = "several"  # a kind: words that may mean several
_WORD = re.compile(r"[a-z0-9'/]+(?:-[a-z0-9]+)*")
_JOINED = re.compile(r"[\s-]+")
_DEFINITE = re.compile(r"\b(?:the|my|our|his|her|their|that|this|mom's|mothers?'?s?)\s+"
                       r"(?:[a-z'-]+\s+){0,2}$")
_PLACE = re.compile(r"\b(?:in|at|from|by|behind|near|over|to|for|of) (?:the|my|our|a)\s+$")
_ANOTHER = re.compile(r"\b(?:an?|another|second|third|other|extra|one|new)\s+"
                      r"(?:(?!the\b|my\b|our\b)[\w/.'-]+\s+){0,3}$")
DOINGS = frozenset(("charging",))  # what a thing does that was named before
FUELLED = {"range": "gas range", "cooktop": "gas range", "wall oven": "gas range",
           "electric dryer": "gas dryer", "electric water heater": NOTHING, "pool heater": NOTHING,
           "space heater": NOTHING, "gas furnace": "gas furnace", "gas boiler": "gas boiler",
           "furnace blower": "gas furnace"}
VARIABLE = {
    "central air conditioner": "inverter air conditioner", "heat pump": "inverter heat pump",
    "pool pump": "variable-speed pool pump", "well pump": "variable-speed well pump"}
_VARIABLE = re.compile(r"(?:[^.;:]|\d\.\d){0,24}?\b(?:inverter|var(?:iable)?[\s-]+speed)\b"
                       r"(?! (?:ac|a/c|air|heat|pool|well|pump))")
_VARIABLE_BEFORE = re.compile(
    r"\b(?:inverter|variable[\s-]+speed)(?:\s+type)?\s+(?:[\w.]+\s+){0,2}$")
_ON_DEMAND = re.compile(r"\b(?:tankless|on[\s-]demand|instant(?:aneous)?)\s+(?:\w+\s+)?$")
_BURNS = re.compile(r"\b(?:gas|propane|lp)\b")
_BOILER = re.compile(r"boiler[^.;:]{0,15}$")
_ALONE_BEFORE = re.compile(r"(?:^|[,;:.(]|\band|-)\s*(?:the|our|my)?\s*$")
_ALONE_BEHIND = re.compile(r"\s*(?:$|[,;:.)-]|is\b|are\b|comes?\b|by\b|from\b|and\b|\d)")
ELECTRIC = {"gas furnace": "electric furnace", "furnace blower": "electric furnace"}


@dataclass
class Mention:
    """One thing that is mentioned, and what is said of it.

    Attributes
    ----------
    kind : str
        A kind of the library, `NOTHING` or `SEVERAL`.
    words : str
        What it is called in the text.
    count : int
        How many there are.
    counted : bool
        Whether the text says how many.
    """

    kind: str
    words: str
    place: Statement
    start: int
    end: int
    definite: bool = False
    another: bool = False
    count: int = 1
    counted: bool = False
    fuel: str = ""
    gone: bool = False
    sizes: list[tuple[float, str]] = field(default_factory=list)
    shared: bool = False  # whether its count comes from its sizes
    units: dict[int, list[tuple[str, Value]]] = field(default_factory=dict)
    plate: list[tuple[str, Value]] = field(default_factory=list)
    wish: Wish | None = None
    section: str = ""

    @property
    def is_load(self) -> bool:
        """Whether it draws, is planned, is there, and can be told."""
        return self.kind not in (NOTHING, SEVERAL) and not self.gone


def mentions_of(found: Statement) -> list[Mention]:
    """Find what a statement mentions, in its order, and take the names out."""
    found.take(_IDIOMS, "noise", lambda _: ("", None))
    made: list[Mention] = []
    words = [(match.start(), match.end()) for match in _WORD.finditer(found.left)]
    at = 0
    while at < len(words):
        known = _longest(found, words, at)
        if known is None:
            at += 1
            continue
        last, kind = known
        start, end = words[at][0], words[last][1]
        before = found.text[:start]
        if found.text[start:end] == "hot water" and not _stands_alone(found, start, end):
            if _BOILER.search(before):
                found.mark(Mark(start, end, "noise", ""))
            at = last + 1
            continue
        if found.text[start:end] in names.places() and _PLACE.search(before):
            at = last + 1
            continue
        made.append(Mention(kind, found.text[start:end], found, start, end,
                            definite=_DEFINITE.search(before) is not None
                            or found.text[start:end] in DOINGS,
                            another=_ANOTHER.search(before) is not None))
        at = last + 1
    for one in made:
        _specify(one)
        found.mark(Mark(one.start, one.end, "kind", one.kind))
    return made


def _stands_alone(found: Statement, start: int, end: int) -> bool:
    """Whether ``hot water`` is said by itself, and not of what heats the house or of pipes."""
    before = found.text[:start]
    return (_BOILER.search(before) is None and _ALONE_BEFORE.search(before) is not None
            and _ALONE_BEHIND.match(found.text[end:]) is not None)


def _specify(one: Mention) -> None:
    """Let a word before or behind tell which of two kinds it is."""
    before, behind = one.place.text[:one.start], one.place.text[one.end:one.end + 30]
    if "water heater" in one.words and _ON_DEMAND.search(before) and "tankless" not in one.words:
        one.words = f"tankless {one.words}"
        one.kind = ("gas tankless water heater" if _BURNS.search(one.words)
                    else "tankless electric water heater" if "electric" in one.words else SEVERAL)
    if one.words == "variable speed pump" and re.search(r"\bwell\b", one.place.text):
        one.kind = "variable-speed well pump"
    if one.kind in VARIABLE and (_VARIABLE.match(behind) or _VARIABLE_BEFORE.search(before)):
        one.kind = VARIABLE[one.kind]


def with_fuel(one: Mention, fuel: str) -> None:
    """Let a fuel say what kind a thing is."""
    if fuel == "electric":
        one.kind = ELECTRIC.get(one.kind, one.kind)
        if one.kind == SEVERAL and "tankless" in one.words:
            one.kind = "tankless electric water heater"
    else:
        one.fuel = fuel
        if "tankless" in one.words:
            one.kind = "gas tankless water heater"
        elif one.kind not in ("power-vent water heater", "gas tankless water heater"):
            one.kind = FUELLED.get(one.kind, one.kind)


def takes_fuel(one: Mention) -> bool:
    """Whether it may burn something, or be electric instead."""
    return (one.kind in FUELLED or "tankless" in one.words
            or one.kind in ("gas range", "gas dryer", "power-vent water heater"))


def _longest(found: Statement, words: list[tuple[int, int]], at: int) -> tuple[int, str] | None:
    most = at
    while most + 1 < len(words) and most - at + 1 < names.MOST_WORDS and _JOINED.fullmatch(
            found.left[words[most][1]:words[most + 1][0]]):
        most += 1
    for last in range(most, at - 1, -1):
        said = " ".join(found.left[a:b] for a, b in words[at:last + 1])
        for form in _forms(said):
            if form in names.no_loads():
                return last, NOTHING
            if form in names.vague():
                return last, SEVERAL
            if form in names.names():
                return last, names.names()[form]
    return None


def _forms(said: str) -> tuple[str, ...]:
    """Spellings under which a name may stand."""
    spaced = said.replace("-", " ")
    forms = [said, spaced]
    for one in (said, spaced):
        forms += [one.removesuffix("s"), one.removesuffix("es"), one.removesuffix("'s")]
    return tuple(dict.fromkeys(forms))


_IDIOMS = phrases(r"\b(?:%s)\b", list(names.idioms()))
