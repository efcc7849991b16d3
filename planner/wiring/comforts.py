"""Which comforts a home has where nobody says: one for each room, and one for each other load.

What a file says of comforts, and what the appliance library shares among loads, stands above this
(`planner.case.comforts`); both speak through the same functions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType

from planner.facts.comfort import Comfort, ComfortKind, Nature
from planner.facts.home import Home, Load
from planner.wiring.rooms import rooms_by_rule

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


def comforts_of(home: Home) -> tuple[Comfort, ...]:
    """Give a comfort for every room and for every other load that serves by itself.

    Each takes the highest importance of its loads, and promises nothing. A load whose nature is
    ``woken`` serves none.
    """
    loads = {load.id: load for load in home.loads}
    found = []
    for room in rooms_by_rule(home):
        stages = tuple(name for name in room.loads if loads[name].nature == "room")
        if stages:
            found.append(Comfort(
                room.id, room.label, "room", stages, max(loads[one].importance for one in stages),
                heating_set_degf=home.heating_set_degf, cooling_set_degf=home.cooling_set_degf,
                lived_in=room.lived_in))
    found += [Comfort(load.id, load.label, KIND_OF[load.nature], (load.id,), load.importance)
              for load in home.loads if load.nature not in ("room", "woken")]
    return in_order(found)


def in_order(comforts: list[Comfort]) -> tuple[Comfort, ...]:
    """List comforts by their kind, then by id: the order of the file changes nothing."""
    return tuple(sorted(comforts, key=lambda one: (ORDER.index(one.kind), one.id)))


def with_comforts(home: Home, comforts: tuple[Comfort, ...] | None = None) -> Home:
    """Give a home its comforts, and each load the one that it serves.

    Parameters
    ----------
    home : Home
        Without comforts, or with others.
    comforts : tuple of Comfort, optional
        Those of `comforts_of` if they are not given.

    Returns
    -------
    Home
        A load has the importance of its comfort, 0 without one; the first load of a must-run
        comfort is must-run.
    """
    comforts = comforts_of(home) if comforts is None else comforts
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
