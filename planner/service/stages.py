"""Who heats or cools a room on a design day, and how large the room therefore is."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from planner.facts.home import DesignDay, Home, Load, Use
from planner.service.capacity import heat_btu_h
from planner.service.use import cached_calls, use_on
from planner.wiring.rooms import THERMAL, Room, rooms_of


def stages_on(home: Home, day: DesignDay) -> Mapping[int, tuple[Room, tuple[int, ...]]]:
    """Give for every load that heats or cools on a day its room and all its stages, in order.

    Loads by their place in the home. A blower whose room is heated or cooled by a load that needs
    it is no stage: it follows that load. A room is heated or cooled, never both by one thermostat.
    """
    place = {load.id: i for i, load in enumerate(home.loads)}
    found: dict[int, tuple[Room, tuple[int, ...]]] = {}
    for room in rooms_of(home):
        for direction in THERMAL:
            stages = tuple(place[one] for one in room.loads
                           if _works(home, day, home.loads[place[one]], direction))
            found.update(dict.fromkeys(stages, (room, stages)))
            if stages and home.comforts:
                break  # it is cooled on this day; what heats it is locked out
    return found


def leaders(home: Home, day: DesignDay, load: Load) -> tuple[int, ...]:
    """Find the thermostats that need a load on the same day, by their place in the home."""
    kind = use_on(load, day).kind
    return tuple(
        place for place, other in enumerate(home.loads)
        if load.id in other.requires and use_on(other, day).kind == kind
        and cached_calls(use_on(other, day), day).any()
    )


def _works(home: Home, day: DesignDay, load: Load, direction: str) -> bool:
    use = use_on(load, day)
    return (use.kind == direction and bool(cached_calls(use, day).any())
            and not leaders(home, day, load))


def balance_of(uses: Sequence[Use]) -> float:
    """Outdoor temperature at which a room needs nothing: that of its mildest stage [degF]."""
    balances = [use.balance_degf for use in uses]
    return min(balances) if uses[0].kind == "cooling" else max(balances)


def loss_of(loads: Sequence[Load], uses: Sequence[Use], day: DesignDay) -> float:
    """Give the loss at which the loads of a room together run their full duty [Btu/(h·degF)].

    Parameters
    ----------
    loads, uses : sequence
        Its stages, all cooling or all heating.
    day : DesignDay
        The day on which they draw their running kW.

    Notes
    -----
    UA = Σ dutyₖ(T)·heatₖ(T) / |T − balance| at the most extreme design temperature T of the stages,
    with the duty of each as the plan counts it at T.
    """
    cooling = uses[0].kind == "cooling"
    designs = [use.design_degf for use in uses]
    design_degf = max(designs) if cooling else min(designs)
    there = np.array(design_degf)
    heat = sum(_duty(use, design_degf) * float(heat_btu_h(load, use.kind, day, there))
               for load, use in zip(loads, uses, strict=True))
    return heat / abs(design_degf - balance_of(uses))


def _duty(use: Use, outdoor_degf: float) -> float:
    share = (outdoor_degf - use.balance_degf) / (use.design_degf - use.balance_degf)
    return min(1.0, max(0.0, share) * use.full_duty)
