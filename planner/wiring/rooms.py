"""Which loads heat or cool the same room.

A room is what one thermostat holds. The rule, in this order:

1. A load that heats or cools by the weather belongs to the room that its key ``room`` names.
2. Without the key, what blows through one air mover (an air handler, a furnace's blower, a furnace)
   serves one room, and so does the air mover: a heat pump, its back-up heat, the furnace that the
   air conditioner needs. An air mover whose loads name rooms serves the first of them, by name.
   Back-up heat that blows through nothing belongs to the room of the first heat pump, by id.
3. Everything else has a room of its own: a window unit, a baseboard, a circulator of a boiler.

A heat tape and an attic fan keep a pipe and an attic, not a room that somebody lives in; they have
a thermostat of their own all the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.facts.home import Home, Load

AIR_HANDLER = "air handler"
AIR_MOVERS = frozenset({AIR_HANDLER, "furnace blower", "gas furnace", "electric furnace"})
HEAT_PUMPS = frozenset({"heat pump", "inverter heat pump"})
BACK_UP = "heat pump back-up heat"
NOT_LIVED_IN = frozenset({"heat tape", "attic fan"})
ALL_ROOMS = "House"  # where one thermostat holds all
THERMAL = ("cooling", "heating")


@dataclass(frozen=True, slots=True)
class Room:
    """A room and what heats or cools it.

    Attributes
    ----------
    id : str
        Its name in the file, else the id of its air mover, else that of its only load.
    label : str
        What people call it.
    loads : tuple of str
        Ids in the order of their stages: what comes on first, the back-up heat behind.
    lived_in : bool
        Whether people are in it.
    """

    id: str
    label: str
    loads: tuple[str, ...]
    lived_in: bool = True


def heats_or_cools(load: Load) -> bool:
    """Whether a load holds a temperature against the weather on some day."""
    return any(use.kind in THERMAL for use in load.use.values())


def only_woken(home: Home) -> frozenset[str]:
    """Ids of the loads that never heat or cool by themselves.

    On every day on which one of them has a use by the weather, another load that needs it has a
    use of the same kind: a blower below a dual-fuel heat pump. An air handler has no heat of its
    own, so that any load by the weather that needs it is enough.
    """
    needed_by: dict[str, list[Load]] = {}
    for load in home.loads:
        for needed in load.requires:
            needed_by.setdefault(needed, []).append(load)
    return frozenset(load.id for load in home.loads
                     if _is_always_led(home, load, needed_by.get(load.id, [])))


def _is_always_led(home: Home, load: Load, by: Sequence[Load]) -> bool:
    leaders = [other for other in by if other.id not in load.requires]
    if load.kind == AIR_HANDLER:
        return any(map(heats_or_cools, leaders))
    days = [day for day in home.days if load.use_on(day).kind in THERMAL]
    return bool(leaders and days) and all(
        any(other.use_on(day).kind == load.use_on(day).kind for other in leaders) for day in days)


def rooms_of(home: Home) -> tuple[Room, ...]:
    """Give the rooms of a home, by their id: its comforts that are rooms, else those by rule."""
    if not home.comforts:
        return rooms_by_rule(home)
    known = {load.id for load in home.loads}
    rooms = (Room(one.id, one.label, tuple(name for name in one.loads if name in known),
                  one.lived_in) for one in home.comforts if one.kind == "room")
    return tuple(sorted((room for room in rooms if room.loads), key=lambda room: room.id))


def rooms_by_rule(home: Home) -> tuple[Room, ...]:
    """Give the rooms by the rule above, by their id; the order of the file changes no room.

    The stages of a room: compressors, then all others, both by id, then back-up heat in the order
    of the file.
    """
    thermal = {load.id: load for load in home.loads if heats_or_cools(load)}
    found: dict[str, list[Load]] = {}
    for load in thermal.values():
        found.setdefault(_room_id(load, thermal), []).append(load)
    return tuple(_room(key, found[key], alone=len(found) == 1) for key in sorted(found))


def _room_id(load: Load, thermal: dict[str, Load]) -> str:
    if load.room:
        return load.room
    mover = _mover(load, thermal)
    if mover is None:
        pumps = sorted(one.id for one in thermal.values() if one.kind in HEAT_PUMPS)
        return _room_id(thermal[pumps[0]], thermal) if pumps and load.kind == BACK_UP else load.id
    if mover.room:
        return mover.room
    named = sorted(one.room for one in thermal.values()
                   if one.room and _mover(one, thermal) is mover)
    unnamed = any(not one.room for one in thermal.values()
                  if one is not mover and _mover(one, thermal) is mover)
    return named[0] if named and load is mover and not unnamed else mover.id


def _mover(load: Load, thermal: dict[str, Load]) -> Load | None:
    """The air mover that a load blows through, by its id the first; itself if it is one."""
    if load.kind in AIR_MOVERS:
        return load
    through = sorted(other for other in load.requires
                     if other in thermal and thermal[other].kind in AIR_MOVERS)
    return thermal[through[0]] if through else None


def _room(key: str, loads: list[Load], *, alone: bool) -> Room:
    stages = in_stages(loads)
    named = any(load.room == key for load in loads)
    lived_in = any(load.kind not in NOT_LIVED_IN for load in loads)
    label = key if named else ALL_ROOMS if alone and lived_in else _label(key, stages)
    return Room(key, label, tuple(load.id for load in stages), lived_in)


def in_stages(loads: Sequence[Load]) -> tuple[Load, ...]:
    """Put what heats or cools a room in the order in which it comes on; back-up heat as it is."""
    first = sorted((load for load in loads if load.kind != BACK_UP),
                   key=lambda load: (not load.compressor, load.id))
    return (*first, *(load for load in loads if load.kind == BACK_UP))


def _label(key: str, stages: Sequence[Load]) -> str:
    """Name a room after the air mover or the load that it is called by."""
    load = next(one for one in stages if one.id == key)
    return f"Rooms of {load.label}" if load.kind in AIR_MOVERS else f"Room of {load.label}"
