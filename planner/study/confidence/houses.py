"""Houses that fit the file: every assumed value drawn from its range.

Values are independent and uniform, but for shared causes: the loads of the base load are draws of
one guess, and so are twins, which the same words were assumed of. What the price book assumes of
an engine is drawn too. Use and weather are the design day, and are not drawn.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from planner.facts.engine import GOVERNOR_S, INERTIA_S, Usual
from planner.facts.home import Home, Load
from planner.facts.price_book import Generator
from planner.study.verify.ends import changed_by, spread_of
from planner.study.wishes import with_comfort

BASE = frozenset({"general", "small-appliance", "laundry"})  # categories of the base load
IN_TURN = ("size", "running", "power_factor", "nameplate", "motor", "locked_rotor",
           "start_power_factor", "start_seconds")
"""Keys that are drawn, each before those that follow from it."""
ENGINE: Mapping[str, Usual] = {"inertia": INERTIA_S, "governor_lag": GOVERNOR_S}
Where = tuple[str, str]  # id of a load, a comfort or the generator; key


@dataclass(frozen=True, slots=True)
class Guess:
    """One thing that is not known, and all values that hang on it."""

    label: str
    key: str
    value: str
    places: tuple[Where, ...]


def guesses_of(home: Home, generator: Generator) -> tuple[Guess, ...]:
    """List what is not known of a home and of a generator, shared causes once."""
    found: dict[tuple[str, str, str], Guess] = {}

    def add(cause: tuple[str, str, str], label: str, value: str, place: Where) -> None:
        known = found.get(cause)
        places = (*known.places, place) if known else (place,)
        found[cause] = Guess(known.label if known else label, place[1], value, places)

    for load in home.loads:
        for one in load.assumed:
            if one.key in IN_TURN and spread_of(one) > 0.0:
                base = load.code.category in BASE
                cause = ("base load", one.key, "") if base else (load.kind, one.key, one.text)
                add(cause, load.label, one.text, (load.id, one.key))
    for comfort in home.comforts:
        for one in comfort.assumed:
            if one.key == "time_constant" and one.spread > 0.0:
                add(("rooms", one.key, one.text), comfort.label, one.text, (comfort.id, one.key))
    for key, usual in ENGINE.items():
        if key in generator.unstated:
            add((generator.id, key, ""), generator.label, f"{usual.value:g} s",
                (generator.id, key))
    return tuple(found.values())


def drawn_home(home: Home, at: Mapping[Where, float]) -> Home:
    """The home with every guess at a place of its range, from -1 to 1; 0 is as assumed."""
    loads = tuple(_drawn(load, at) for load in home.loads)
    drawn = replace(home, loads=loads)
    for comfort in home.comforts:
        for one in comfort.assumed:
            place = at.get((comfort.id, one.key), 0.0)
            if one.key == "time_constant" and place:
                drawn = with_comfort(drawn, comfort.id, time_constant_h=comfort.time_constant_h
                                     * (1.0 + place * one.spread))
    return drawn


def _drawn(load: Load, at: Mapping[Where, float]) -> Load:
    assumed = sorted((one for one in load.assumed if one.key in IN_TURN),
                     key=lambda one: IN_TURN.index(one.key))
    for one in assumed:
        place = at.get((load.id, one.key), 0.0)
        if place:
            ways = changed_by(load, one, place * spread_of(one))
            load = ways[0][1] if ways else load
    return load


def drawn_generator(generator: Generator, at: Mapping[Where, float]) -> Generator:
    """The generator with what its maker does not state at a place of its range, from -1 to 1."""
    def drawn(key: str, stated: float) -> float:
        place, usual = at.get((generator.id, key)), ENGINE[key]
        if place is None:
            return stated
        return (usual.low + usual.high) / 2.0 + place * (usual.high - usual.low) / 2.0

    return replace(generator, inertia_s=drawn("inertia", generator.inertia_s),
                   governor_s=drawn("governor_lag", generator.governor_s))
