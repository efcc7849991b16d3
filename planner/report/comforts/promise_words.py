"""What is promised of a comfort, and which promises no generator can keep."""

from __future__ import annotations

from collections.abc import Callable

from planner.facts.comfort import Comfort, ComfortKind, Promise
from planner.report.words import hour, number
from planner.service.house import House
from planner.service.kept import in_unit
from planner.tolerances import ceiled, floored

NOTHING_LOST: dict[ComfortKind, str] = {
    "hot water": "always hot", "meals": "never cut", "task": "all done", "food": "food safe",
    "running water": "always runs", "pit": "never overflows", "clock": "as always",
}
"""What is said where nothing is missed."""
SAME = 1e-6  # in the unit of a comfort


def promise_words(comfort: Comfort) -> str:
    """Say what is promised: ``60 to 82 degF``, ``40 miles by 7:00``; empty if nothing is."""
    if comfort.promise is None:
        return ""
    return SAID.get(comfort.kind, _plainly)(comfort, comfort.promise)


def beyond_promise_sentences(house: House) -> tuple[str, ...]:
    """Say which promises not even unlimited power keeps, and what it is with the utility."""
    return tuple(said for c in range(len(house.home.comforts))
                 for d in range(len(house.weights)) if (said := _beyond(house, c, d)))


def _room(_comfort: Comfort, asked: Promise) -> str:
    coldest, warmest = asked.coldest_degf, asked.warmest_degf
    if coldest is not None and warmest is not None:
        return f"{coldest:g} to {warmest:g} degF"
    if coldest is not None:
        return f"no colder than {coldest:g} degF"
    return "" if warmest is None else f"no warmer than {warmest:g} degF"


def _showers(_comfort: Comfort, asked: Promise) -> str:
    if asked.cold_showers is None:
        return ""
    return f"at most {showers(asked.cold_showers)}" if asked.cold_showers else "no cold shower"


def showers(count: float) -> str:
    """Count cold showers: ``one shower cold``, ``3 showers cold``."""
    return "one shower cold" if count == 1.0 else f"{count:g} showers cold"


def _car(_comfort: Comfort, asked: Promise) -> str:
    if asked.miles is None:
        return ""
    by = "" if asked.by_h is None else f" by {hour(asked.by_h)}"
    return f"{ceiled(asked.miles, 1.0):.0f} miles{by}"


def _plainly(comfort: Comfort, asked: Promise) -> str:
    return NOTHING_LOST[comfort.kind] if asked.uncut or asked.safe else ""


SAID: dict[ComfortKind, Callable[[Comfort, Promise], str]] = {
    "room": _room, "hot water": _showers, "car": _car}


def _beyond(house: House, c: int, d: int) -> str:
    """Say that the utility itself does not keep a promise on a day; empty if it does."""
    comfort, day = house.home.comforts[c], house.home.days[d].label
    store, asked = house.nature.levels[c][d], comfort.promise
    reached = in_unit(house, c, d, float(house.nature.unlimited[c, d]))
    if asked is None or (comfort.kind in ("room", "car") and not store.loads):
        return ""
    if comfort.kind == "room":
        limit = asked.warmest_degf if store.cooling else asked.coldest_degf
        if limit is None or (reached <= limit + SAME if store.cooling else reached >= limit - SAME):
            return ""
        return (f"No generator keeps {comfort.label} at {limit:g} degF: on {day} it is "
                f"{number(reached, 0)} degF with the utility.")
    if comfort.kind == "car":
        if asked.miles is None or reached >= asked.miles - SAME:
            return ""
        return (f"No generator gives {comfort.label} {asked.miles:g} miles: on {day} there are "
                f"{floored(reached, 1.0):.0f} with the utility.")
    limit = asked.cold_showers or 0.0
    return (f"No generator keeps what is promised of {comfort.label} on {day}: the utility does "
            "not.") if promise_words(comfort) and reached > limit + SAME else ""
