"""Who waits for whom: which loads of a plan lose service, when, and what they were short of."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.plan.plan import Plan
from planner.service import loops
from planner.service.house import KW_ROW
from planner.service.replay import chosen_starts, relations
from planner.tolerances import meets, reaches

NOTABLE_KW = 1.0  # a load that draws less is not worth naming among those in the way


@dataclass(frozen=True, slots=True)
class Waiting:
    """One load that loses service, and the moment when it was furthest from having room.

    Attributes
    ----------
    load_id, label : str
    service : float
        Share of its calls that are served, 0-1.
    lost_h : float
        Hours a day that it wanted to run and did not, weighted over the design days.
    day : str
        Label of the day on which it was refused most often.
    from_h, to_h : float
        First hour and end of the last at which it was refused on that day.
    short_of : str
        Key of the limit that it missed most often: ``running``, ``legs``, ``feeder``,
        ``start-power``, ``start-dip``, or ``apart`` where a load that excludes it was on.
    missing : float
        Most that it missed that limit by, in `unit`.
    unit : str
    ahead : tuple of str
        Labels of the larger loads that were on then, largest first.
    """

    load_id: str
    label: str
    service: float
    lost_h: float
    day: str
    from_h: float
    to_h: float
    short_of: str
    missing: float
    unit: str
    ahead: tuple[str, ...]


def waiting_of(plan: Plan, most: int = 3) -> tuple[Waiting, ...]:
    """List the loads that lose most service hours in a plan, the greatest loss first.

    Parameters
    ----------
    plan : Plan
        Loads that are left off wait for nobody and are not listed.
    most : int
        How many are listed.
    """
    losing = [(part.called_h - part.served_h, i) for i, part in enumerate(plan.loads)
              if part.connection == "module" and not reaches(part.service, 1.0)]
    found = [_refused(plan, i) for _, i in sorted(losing, key=lambda pair: (-pair[0], pair[1]))]
    return tuple(one for one in found if one is not None)[:most]


def _tried(plan: Plan, i: int) -> list[int]:
    """Slots in which a load had a call pending and was not let on."""
    house, waits = plan.menu.house, plan.service.waits[i]
    served = np.flatnonzero(waits >= 0)
    answered = np.full(house.slots, house.slots)  # when each call was served, if ever
    answered[served - waits[served]] = served
    found = []
    for t in np.flatnonzero(waits < 0):
        first = max(t - int(house.wait_slots[i]), t - t % SLOTS_PER_DAY)
        if (house.calls[i, first:t + 1] & (answered[first:t + 1] > t)).any():
            found.append(int(t))
    return found


@dataclass(frozen=True)
class _State:
    """What is on, slot by slot, when a load's turn comes."""

    sums: Floats
    top: Floats
    on: Bools


def _refused(plan: Plan, i: int) -> Waiting | None:
    house = plan.menu.house
    state = _ahead_of(plan, i)
    misses = [(t, *miss) for t in _tried(plan, i) if (miss := _miss(plan, state, i, t))]
    if not misses:
        return None
    slots = np.array([miss[0] for miss in misses])
    weight = house.weights[slots // SLOTS_PER_DAY]
    by_day = np.bincount(slots // SLOTS_PER_DAY, weights=weight, minlength=len(house.weights))
    day = int(by_day.argmax())
    mine = [miss for miss in misses if miss[0] // SLOTS_PER_DAY == day]
    keys = [miss[1] for miss in mine]
    key = max(dict.fromkeys(keys), key=keys.count)
    slot, _, missing, unit = max((miss for miss in mine if miss[1] == key),
                                 key=lambda miss: (miss[2], -miss[0]))
    part = plan.loads[i]
    on_that_day = [miss[0] % SLOTS_PER_DAY for miss in mine]
    return Waiting(
        load_id=part.id, label=part.label, service=part.service,
        lost_h=part.called_h - part.served_h, day=house.home.days[day].label,
        from_h=min(on_that_day) * SLOT_H, to_h=(max(on_that_day) + 1) * SLOT_H,
        short_of=key, missing=missing, unit=unit, ahead=_larger(plan, state, slot),
    )


def _ahead_of(plan: Plan, i: int) -> _State:
    """Play what is always connected and all that stand ahead of a load."""
    house, supply, choice = plan.menu.house, plan.supply, plan.choice
    start_kw, start_kva = chosen_starts(supply, choice)
    needs, foes = relations(house)
    sums = np.zeros((house.draw.shape[0], house.slots))
    top = np.zeros(house.slots)
    on = np.zeros((house.count, house.slots), dtype=np.bool_)
    limits = (supply.caps(house), start_kw - house.draw[KW_ROW], start_kva, supply.short_time_kw,
              supply.startable_kva, needs, foes, sums, top, on)
    loops.place_direct(choice.connection_array(), house.calls, house.draw, *limits)
    before = np.array(choice.order[:choice.order.index(i)], dtype=np.int64)
    loops.replay_order(
        before, house.calls, house.wait_slots, house.draw, *limits,
        np.zeros((house.count, len(house.weights)), dtype=np.int64),
        np.zeros((house.count, house.slots), dtype=np.int64),
        np.zeros((house.count, house.slots), dtype=np.uint8))
    return _State(sums, top, on)


def _miss(plan: Plan, state: _State, i: int, slot: int) -> tuple[str, float, str] | None:
    """The limit that a load misses by the greatest share of it, if any: key, by how much, unit."""
    house, supply = plan.menu.house, plan.supply
    start_kw, start_kva = chosen_starts(supply, plan.choice)
    woken = [k for k in (i, *np.flatnonzero(house.closure[i])) if not state.on[k, slot]]
    if any(house.exclusive[k, state.on[:, slot]].any() for k in woken):
        return "apart", 0.0, ""
    rows = state.sums[:, slot] + house.draw[:, woken].sum(axis=1)
    adders = [float(start_kw[k] - house.draw[KW_ROW, k]) for k in woken]
    start = max([float(state.top[slot]), *adders])
    kva = max((float(start_kva[k]) for k in woken), default=0.0)
    caps = supply.caps(house)
    tried = [("running", float(rows[0]), float(caps[0]), "kW"),
             ("start-power", float(rows[0]) + start if start > 0.0 else 0.0, supply.short_time_kw,
              "kW"),
             ("start-dip", kva, supply.startable_kva, "kVA")]
    tried += [("legs" if r < 3 else "feeder", float(rows[r]), float(caps[r]), "A")
              for r in range(1, len(rows))]
    over = [(asked / allowed, key, asked - allowed, unit) for key, asked, allowed, unit in tried
            if not meets(asked, allowed)]
    return max(over)[1:] if over else None


def _larger(plan: Plan, state: _State, slot: int) -> tuple[str, ...]:
    kw = plan.menu.house.draw[KW_ROW]
    on = [int(k) for k in np.flatnonzero(state.on[:, slot]) if kw[k] >= NOTABLE_KW]
    return tuple(plan.loads[k].label for k in sorted(on, key=lambda k: (-kw[k], k))[:3])
