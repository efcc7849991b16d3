"""The header of a panel schedule: which column is which, by the words of the trade."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

ROLES: dict[str, re.Pattern[str]] = {role: re.compile(words) for role, words in {
    "circuit": r"(?:circuit|ckt|cct|circ|cir|crkt|pos|position|space|slot|no|num|number|#|breaker"
               r"|bkr|brkr|pole space)(?: ?(?:no|num|number|nos|nbr|#|position|pos|id))?",
    "words": r"(?:(?:circuit|ckt|load|branch) ?)?(?:description|desc|descr|directory|designation"
             r"|legend|name|label|served|serves)|loads?|load served|loads served|equipment"
             r"|areas? served|serving|what|use|feeds|item|appliance|room|location"
             r"|(?:left|right|odd|even)(?: ?(?:hand )?(?:side|bus|row|loads?|circuits?))?",
    "breaker": r"(?:breaker|bkr|brkr|cb|ocpd|ocp|trip|fuse|device|circuit breaker|ckt bkr|c b|c/b)"
               r"(?: ?(?:size|amps?|amperes?|a|rating|trip|setting))?"
               r"|(?:amps?|amperes?|amperage|a|rating|size)(?: ?(?:trip|rating))?",
    "poles": r"(?:no of |num of |number of |# of |# )?(?:poles?|p)|(?:breaker|bkr|cb) poles?",
    "volts": r"volts?|v|voltage|vac",
    "va": r"(?:(?:connected|conn|circuit|ckt|calc|calculated|total)? ?(?:load|demand|power)? ?)?"
          r"(?:va|kva|kw|watts?|w|volt ?amps|volt amperes)(?: total)?"
          r"|(?:connected|conn|calculated) (?:load|power)|nameplate(?: (?:va|kva|kw|w|watts))?",
    "leg": r"legs?|phases?|ph|bus|ø|line|l1/l2|a/b|leg/phase",
    "panel": r"panel(?: ?(?:name|id|no|board))?|pnl|panelboard|load ?cent(?:er|re)|board|lc",
    "wire": r"(?:wire|conductor|cable|awg|gauge|conduit|ground|cu/al)"
            r"(?: ?(?:size|awg|type|gauge))?",
    "notes": r"notes?|remarks?|comments?|type|afci/gfci|protection",
    "kind": r"kind",
    "unread": r"connection|priority|modules?|basis|breaker basis",
}.items()}
POWER_UNITS = {"kva": 1000.0, "kw": 1000.0, "va": 1.0, "watts": 1.0, "watt": 1.0, "w": 1.0}
_BREAKER_TOO = frozenset({"breaker", "bkr", "brkr"})
_PLACES = re.compile(r"[\[({].*?[\])}]")


@dataclass(frozen=True, slots=True)
class Half:
    """Places of the columns of one side of a schedule, by role; factor from power to VA."""

    places: dict[str, int]
    va_factor: float | None


@dataclass(frozen=True, slots=True)
class Header:
    """One side, or the two sides of a schedule that is drawn like its panel; columns not read."""

    halves: tuple[Half, ...]
    unread: tuple[str, ...]


def header_of(cells: Sequence[str]) -> Header | None:
    """Read a line as the header of a panel schedule; None if it is none.

    It needs a column of descriptions and one of positions or of breakers. ``breaker`` is the
    position where another column has the amperes. Two columns of descriptions are the two sides.
    """
    names = [_plain(cell) for cell in cells]
    roles = _devices(names, _by_phase(names, [_role(name) for name in names]))
    sides = _sides(roles)
    if sides is None:
        return None
    halves = tuple(_half(roles, names, cells, part) for part in sides)
    if any("words" not in half.places or not half.places.keys() & {"circuit", "breaker"}
           for half in halves):
        return None
    if len(halves) == 1 and "kind" in roles and not {"circuit", "poles"} & set(roles):
        return None  # a table of loads, whose columns are keys of a home file
    taken = {place for half in halves for role, place in half.places.items() if role != "unread"}
    return Header(halves, tuple(" ".join(cell.split()) for place, cell in enumerate(cells)
                                if cell.strip() and (place not in taken or roles[place] == "wire")))


def _plain(cell: str) -> str:
    text = _PLACES.sub(" ", cell) if _PLACES.sub(" ", cell).strip() else cell.strip("()[]{} ")
    return " ".join(re.sub(r"[._:*\-]+", " ", text.casefold()).split())


def _role(name: str) -> str:
    if not name:
        return ""
    fitting = [role for role, words in ROLES.items() if words.fullmatch(name)]
    return fitting[0] if fitting else "?"


def _by_phase(names: Sequence[str], roles: list[str]) -> list[str]:
    """Two columns of power, one for each leg, as schedules with loads by phase have them."""
    for first, second in (("a", "b"), ("l1", "l2"), ("phase a", "phase b"), ("va a", "va b"),
                          ("a va", "b va"), ("va l1", "va l2"), ("l1 va", "l2 va")):
        if names.count(first) == 1 and names.count(second) == 1:
            return [{first: "va", second: "va of L2"}.get(name, role)
                    for name, role in zip(names, roles, strict=True)]
    return roles


def _devices(names: Sequence[str], roles: list[str]) -> list[str]:
    """``Breaker`` is a position only where other columns have amperes, and none the circuit."""
    others = {role for name, role in zip(names, roles, strict=True) if name not in _BREAKER_TOO}
    if "circuit" not in others and "breaker" in others:
        return roles
    return ["breaker" if name in _BREAKER_TOO else role
            for name, role in zip(names, roles, strict=True)]


def _sides(roles: Sequence[str]) -> tuple[range, ...] | None:
    """One side, or the most even cut after which each side has a column of descriptions."""
    count = Counter(roles)
    if count["words"] != 2 or count["circuit"] not in (0, 2):
        return (range(len(roles)),)
    found = []
    for cut in range(1, len(roles)):
        parts = Counter(roles[:cut]), Counter(roles[cut:])
        if all(part["words"] == 1 and max(part[role] for role in ("circuit", "breaker", "poles"))
               <= 1 for part in parts):
            found.append((abs(2 * cut - len(roles)), cut))
    if not found or (count["circuit"] == 0 and count["breaker"] < 2):
        return (range(len(roles)),)
    cut = min(found)[1]
    return range(cut), range(cut, len(roles))


def _half(
    roles: Sequence[str], names: Sequence[str], cells: Sequence[str], part: range
) -> Half:
    places: dict[str, int] = {}
    for place in part:
        if roles[place] not in ("", "?"):
            places.setdefault(roles[place], place)
    _second_load(places, roles, names, part)
    factor = None
    if "va" in places:
        said = cells[places["va"]].casefold()
        factor = next((POWER_UNITS[unit] for unit in POWER_UNITS
                       if re.search(rf"(?<![a-z]){unit}(?![a-z])", said)), None)
    return Half(places, factor)


def _second_load(
    places: dict[str, int], roles: Sequence[str], names: Sequence[str], part: range
) -> None:
    """Where several columns may describe, the surest word does; ``load`` then is the power."""
    found = [place for place in part if roles[place] == "words"]
    if len(found) < 2:
        return
    best = min(found, key=lambda place: (not names[place].startswith(("desc", "circuit d")),
                                         "desc" not in names[place],
                                         names[place] in ("room", "location", "load", "loads"),
                                         place))
    places["words"] = best
    rest = next((place for place in found if place != best and names[place] in ("load", "loads")),
                None)
    if rest is not None and "va" not in places:
        places["va"] = rest
