"""What is not known of a home and of what a price book offers for it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import networkx as nx
import numpy as np

from planner.arrays import Ints
from planner.facts.engine import GOVERNOR_S, INERTIA_S, SOFT_START_TIMES, Usual
from planner.facts.home import Home
from planner.facts.price_book import Generator, SoftStarter
from planner.study.verify.ends import spread_of

BASE = frozenset({"general", "small-appliance", "laundry"})  # categories of the base load
IN_TURN = ("size", "running", "power_factor", "nameplate", "motor", "locked_rotor",
           "start_power_factor", "start_seconds")
"""Keys that are drawn, each before those that follow from it."""
ENGINE = {"inertia": INERTIA_S, "governor_lag": GOVERNOR_S}
Where = tuple[str, str]  # id of a load, a comfort or a part of the price book; key


@dataclass(frozen=True, slots=True)
class Guess:
    """One thing that is not known, and all values that hang on it."""

    label: str
    key: str
    value: str
    places: tuple[Where, ...]


@dataclass(frozen=True, slots=True)
class Range:
    """A value of the price book that its maker does not state."""

    guess: Guess
    usual: Usual


def guesses_of(home: Home) -> tuple[Guess, ...]:
    """List what is not known of a home, shared causes once."""
    found: dict[tuple[str, str, str], Guess] = {}
    for cause, label, value, place in _guessed(home):
        known = found.get(cause)
        places = (*known.places, place) if known else (place,)
        found[cause] = Guess(known.label if known else label, place[1], value, places)
    return tuple(found.values())


def _guessed(home: Home) -> Iterator[tuple[tuple[str, str, str], str, str, Where]]:
    for load in home.loads:
        for one in load.assumed:
            if one.key in IN_TURN and spread_of(one) > 0.0:
                base = load.code.category in BASE
                cause = ("base load", one.key, "") if base else (load.kind, one.key, one.text)
                yield cause, load.label, one.text, (load.id, one.key)
    for comfort in home.comforts:
        for one in comfort.assumed:
            if one.key == "time_constant" and one.spread > 0.0:
                yield (("rooms", one.key, one.text), comfort.label, one.text,
                       (comfort.id, one.key))


def book_guesses(generator: Generator, starters: tuple[SoftStarter, ...]) -> tuple[Range, ...]:
    """List what is not known of a generator and of the soft starters that are chosen with it."""
    engine = [Range(Guess(generator.label, key, f"{usual.value:g} s", ((generator.id, key),)),
                    usual) for key, usual in ENGINE.items() if key in generator.unstated]
    soft = [Range(Guess(one.label, "start_seconds", f"{SOFT_START_TIMES.value:g} times as long",
                        ((one.id, "start_seconds"),)), SOFT_START_TIMES)
            for one in dict.fromkeys(starters) if not one.start_s]
    return (*engine, *soft)


@dataclass(frozen=True)
class Groups:
    """What is drawn together: a comfort with its loads, and what shares a cause.

    Each is the number of its group: of a guess, shape (G,); of a load, shape (n,); of a comfort,
    shape (C,).
    """

    count: int
    guess: Ints
    load: Ints
    comfort: Ints


def groups_of(home: Home, guesses: tuple[Guess, ...]) -> Groups:
    """Tell what has to be drawn together, so that each comfort is worked out from one draw."""
    graph = nx.Graph()
    graph.add_nodes_from(("load", load.id) for load in home.loads)
    for comfort in home.comforts:
        nx.add_path(graph, [("comfort", comfort.id), *(("load", one) for one in comfort.loads)])
    comforts = {one.id for one in home.comforts}
    for number, guess in enumerate(guesses):
        for owner, key in guess.places:
            about = "comfort" if key == "time_constant" and owner in comforts else "load"
            graph.add_edge(("guess", number), (about, owner))
    of = {node: number for number, nodes in enumerate(nx.connected_components(graph))
          for node in nodes}

    def numbers(nodes: list[tuple[str, object]]) -> Ints:
        return np.array([of[node] for node in nodes], dtype=np.int64)

    return Groups(
        max(of.values(), default=-1) + 1,
        guess=numbers([("guess", number) for number in range(len(guesses))]),
        load=numbers([("load", load.id) for load in home.loads]),
        comfort=numbers([("comfort", one.id) for one in home.comforts]))
