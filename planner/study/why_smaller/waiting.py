"""Who waits for whom: what of a plan's comforts is lost, when, and what its loads were short of."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.plan.plan import Plan
from planner.service.choice import MODULE, OFF
from planner.service.house import KW_ROW
from planner.service.kept import Kept
from planner.service.loops.inputs import Power, State
from planner.service.replay import play
from planner.service.timeline import DROPPED, WAITING
from planner.tolerances import meets, reaches

NOTABLE_KW = 1.0  # a load that draws less is not worth naming among those in the way
Over = tuple[float, str, float, str]  # how many times the limit, key, by how much, unit


@dataclass(frozen=True, slots=True)
class Waiting:
    """A load whose comfort is not fully kept, and the moment when it was furthest from having room.

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
    comfort : Kept
        How well the comfort that it serves is kept.
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
    comfort: Kept


def waiting_of(plan: Plan, most: int = 3) -> tuple[Waiting, ...]:
    """List the loads by which the most important comforts lose most, the greatest loss first.

    Of each comfort that lacks something the load that is refused for the most hours is listed. A
    store that is refused and catches up loses nothing.

    Parameters
    ----------
    plan : Plan
        Loads that are left off wait for nobody and are not listed.
    most : int
        How many are listed.
    """
    lacking = [one for one in plan.comforts if one.counts and not reaches(one.kept, 1.0)]
    lacking.sort(key=lambda one: -one.comfort.importance * (1.0 - one.kept))
    found = []
    for one in lacking:
        refused = [part for part in plan.loads if part.comfort == one.comfort.id
                   and part.connection == "module" and part.called_h > part.served_h]
        if refused:
            worst = max(refused, key=lambda part: part.called_h - part.served_h)
            found.append(_refused(plan, plan.menu.house.index(worst.id), one))
    return tuple(one for one in found if one is not None)[:most]


def _refused(plan: Plan, i: int, comfort: Kept) -> Waiting | None:
    house = plan.menu.house
    power = plan.supply.power(house, plan.choice.soft_start, plan.choice.sensing)
    state = _ahead_of(plan, i, power)
    marks = plan.service.marks[i]
    tried = np.flatnonzero((marks == WAITING) | (marks == DROPPED))
    misses = [(int(t), *miss) for t in tried if (miss := _miss(plan, power, state, i, int(t)))]
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
        comfort=comfort,
    )


def _ahead_of(plan: Plan, i: int, power: Power) -> State:
    """Play what is always connected and all that stand ahead of a load."""
    ahead = plan.choice.order[:plan.choice.order.index(i)]
    connection = tuple(OFF if how == MODULE and k not in ahead else how
                       for k, how in enumerate(plan.choice.connection))
    return play(plan.menu.house, power, replace(
        plan.choice, connection=connection, order=ahead,
        sensing=plan.choice.sensing & frozenset(ahead)))


def _miss(
    plan: Plan, power: Power, state: State, i: int, slot: int
) -> tuple[str, float, str] | None:
    """The limit that a load misses by the greatest share of it, if any: key, by how much, unit."""
    house, at = plan.menu.house, plan.menu.house.judged(slot)
    draw = house.draw[slot // SLOTS_PER_DAY]
    on = state.share[:, at] > 0.0
    woken = [k for k in (i, *np.flatnonzero(house.closure[i])) if not on[k]]
    if any(house.exclusive[k, on].any() for k in woken):
        return "apart", 0.0, ""
    rows = state.sums[:, at] + draw[:, woken].sum(axis=1)
    tried: list[tuple[str, float, float, str]] = [
        ("running", float(rows[0]), float(power.caps[0]), "kW"),
        ("start-dip", max((float(power.start_kva[k]) for k in woken), default=0.0),
         plan.supply.startable_kva, "kVA")]
    for k in (*np.flatnonzero(on), *woken):
        others_kw = float(rows[0] - draw[KW_ROW, k])
        tried.append(("start-power", others_kw, max(1e-9, float(power.room_kw[k])), "kW"))
    tried += [("legs" if r < 3 else "feeder", float(rows[r]), float(power.caps[r]), "A")
              for r in range(1, len(rows))]
    over: list[Over] = [(asked / allowed, key, asked - allowed, unit)
                        for key, asked, allowed, unit in tried if not meets(asked, allowed)]
    return max(over)[1:] if over else None


def _larger(plan: Plan, state: State, slot: int) -> tuple[str, ...]:
    house = plan.menu.house
    kw = house.draw[slot // SLOTS_PER_DAY, KW_ROW]
    share = state.share[:, house.judged(slot)]
    on = [int(k) for k in np.flatnonzero(share > 0.0) if kw[k] >= NOTABLE_KW]
    return tuple(plan.loads[k].label for k in sorted(on, key=lambda k: (-kw[k], k))[:3])
