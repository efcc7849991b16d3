"""Comforts and the loads that serve them: which nature serves which kind, and what follows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from planner.facts.comfort import Comfort, ComfortKind, Nature
from planner.facts.home import Home, Load

KIND_OF: Mapping[Nature, ComfortKind] = MappingProxyType({
    "room": "room", "tank": "hot water", "box": "food", "battery": "car",
    "pressure": "running water", "pit": "pit", "task": "task", "clock": "clock",
})
"""The kind of comfort that loads of a nature serve; what is only woken serves none."""

ORDER: tuple[ComfortKind, ...] = (
    "room", "hot water", "meals", "task", "car", "food", "running water", "pit", "clock")
"""In which the comforts of a home are listed."""

ALONE: frozenset[ComfortKind] = frozenset({"hot water", "car", "food", "running water", "pit"})
"""Kinds of comfort that one load serves: there is one tank, one battery, one box, one pit."""


def in_order(comforts: list[Comfort]) -> tuple[Comfort, ...]:
    """List comforts by their kind, then by id: the order of the file changes nothing."""
    return tuple(sorted(comforts, key=lambda one: (ORDER.index(one.kind), one.id)))


def with_comforts(home: Home, comforts: tuple[Comfort, ...]) -> Home:
    """Give a home its comforts, and each load the one that it serves.

    Parameters
    ----------
    home : Home
        Without comforts, or with others.
    comforts : tuple of Comfort
        A load serves one of them at most.

    Returns
    -------
    Home
        A load has the importance of its comfort, 0 without one; the first load of a must-run
        comfort is must-run.
    """
    serves = {name: one for one in comforts for name in one.loads}
    return replace(home, comforts=comforts, loads=tuple(
        _serving(load, serves.get(load.id)) for load in home.loads))


def _serving(load: Load, comfort: Comfort | None) -> Load:
    if comfort is None:
        return replace(load, comfort="", importance=0)
    first = comfort.must_run and comfort.loads[0] == load.id
    return replace(load, comfort=comfort.id, importance=comfort.importance,
                   must_run=load.must_run or first)


def seasons_of(home: Home, comfort: Comfort) -> tuple[bool, bool]:
    """Whether the loads of a room cool it, and whether they heat it, on some design day."""
    kinds = {load.use_on(day).kind for load in home.loads if load.id in comfort.loads
             for day in home.days}
    return "cooling" in kinds, "heating" in kinds
