"""The service rule: what a choice delivers on the design days, slot by slot.

Given a generator (K capacity kW, A amperes per leg, R other load on which a motor may be started,
the allowed dip), a connection per load, soft starters and the priority order:

1. Direct loads are always served. In every slot all of them that can be on, and those left to be
   switched off by hand, fit together: ΣkW ≤ K, each leg ≤ A, each panel within its rating; each
   motor among them starts beside the others within its dip; all may start at once at takeover.
   Two that are never on together are not both direct.
2. Then, in priority order, each module load that calls is admitted with what it wakes, if nothing
   on excludes it and all that are then on fit, every motor's start among them.
3. A start that nobody announced (of a direct load, or behind a module that does not sense the call)
   is picked up beside what is on, now or a slot before.
4. The average of each day of the spell, each slot counted as at least 30 % of the derated rating,
   is within what the maker permits.
5. The average of each day of the spell is within what the fuel of the site suffices for.

How well each comfort is then kept is `planner.service.loops.losing`; a promise that is broken, or a
must-run load that is refused, leaves the choice no plan (`Service.broken`).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Floats
from planner.facts.home import SLOTS_PER_DAY
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.house import House
from planner.service.kept import Kept, Unkept, kept_of_all, must_run_unmet, promises_broken
from planner.service.loops import rules
from planner.service.loops.inputs import Power, State
from planner.service.loops.playing import play_order
from planner.service.refusal import (
    Refusal,
    average_refused,
    direct_refused,
    fuel_refused,
    pick_up_refused,
)
from planner.service.state import empty_state
from planner.service.supply import Supply
from planner.service.timeline import Timeline, timeline_of


@dataclass(frozen=True)
class Service:
    """What a valid choice delivers.

    Attributes
    ----------
    coverage : float
        Importance-weighted mean of kept over the comforts that can be lost; 1 if there is none.
    kept : tuple of Kept
        How well each comfort is kept, in the order of the home.
    broken : tuple of Unkept
        Promises that are broken and must-run loads that are refused; a plan must have none.
    timeline : Timeline
        Who runs and who waits on the judged day of each spell.
    average : ndarray of float, shape (D,)
        Highest mean power of a day of the spell, as a share of the derated rating.
    state : State
        The whole play, for who looks closer.
    """

    coverage: float
    kept: tuple[Kept, ...]
    broken: tuple[Unkept, ...]
    timeline: Timeline
    average: Floats
    state: State

    @property
    def service(self) -> Floats:
        """Share of the calls of each load that were served on the judged days, shape (n,)."""
        return self.timeline.service

    @property
    def marks(self) -> NDArray[np.uint8]:
        """The timeline as marks of `planner.service.timeline`, shape (n, T)."""
        return self.timeline.marks

    @property
    def load_kw(self) -> Floats:
        """Real power of all that is on, on the judged days, shape (T,)."""
        return self.timeline.load_kw


def replay(house: House, supply: Supply, choice: Choice) -> Service | Refusal:
    """Play a choice through every slot of every design day and its spell.

    Parameters
    ----------
    house : House
        The home as arrays.
    supply : Supply
        One generator's limits and starts at this home.
    choice : Choice
        Connections, soft starters, order.

    Returns
    -------
    Service or Refusal
        A refusal if rule 1, 3, 4 or 5 is broken.

    Raises
    ------
    ValueError
        If a connected load needs one that is not connected, or a direct load one that is shed.
    """
    check_wakes(house, choice)
    power = supply.power(house, choice.soft_start, choice.sensing)
    firm = np.zeros(house.count, dtype=np.bool_)
    connection = choice.connection_array()
    reason, slot, which = rules.direct_fits(connection, house.works, house.wiring, power, firm)
    if reason != rules.FITS:
        return direct_refused(house, supply, power, connection, reason, slot, which)
    state = play(house, power, choice)
    total = np.zeros(state.ceiling.shape[0])
    rules.weigh(house.wiring, state, total)
    for i in range(house.count):
        if rules.starts_unannounced(i, connection, power):
            reason, slot, amount = rules.pick_up_of(i, house.wiring, power, state, total)
            if reason != rules.FITS:
                return pick_up_refused(house, supply, i, reason, slot, amount)
    over = rules.over_average(power, state)
    if over >= 0:
        return average_refused(house, supply, over, rules.day_mean_kw(over, power, state))
    over = rules.over_fuel(house.wiring, power, state)
    if over >= 0:
        return fuel_refused(house, supply, over, rules.day_fuel_kw(over, state))
    kept, coverage = kept_of_all(house, state)
    return Service(
        coverage=coverage, kept=kept,
        broken=(*must_run_unmet(house, choice, state), *promises_broken(house, kept)),
        timeline=timeline_of(house, choice, state), average=_averages(house, supply, power, state),
        state=state)


def play(house: House, power: Power, choice: Choice) -> State:
    """Let direct loads run whenever they call, then modules in their order; nothing is judged."""
    state = empty_state(house.works, len(house.home.comforts), house.wiring.rows, house.spell)
    total = state.ceiling.shape[0]
    order = np.array([*direct_order(house, choice), *choice.order], dtype=np.int64)
    play_order(order, choice.connection_array(), house.works, house.wiring, power, state,
               np.ones(total, dtype=np.bool_), np.zeros(total), np.zeros(total))
    return state


def direct_order(house: House, choice: Choice) -> tuple[int, ...]:
    """Give the direct loads, stages of a room in their order."""
    return tuple(sorted((i for i, how in enumerate(choice.connection) if how == DIRECT),
                        key=lambda i: (house.works.comfort[i], house.works.rank[i], i)))


def check_wakes(house: House, choice: Choice) -> None:
    """See that what a load needs is connected as firmly (ValueError).

    What one that is switched off by hand needs may be anything that is connected.
    """
    for i, how in enumerate(choice.connection):
        if how not in (DIRECT, MODULE):
            continue
        for k in np.flatnonzero(house.closure[i]):
            other = choice.connection[k]
            if other != DIRECT and (how == DIRECT or other != MODULE):
                msg = f"{house.ids[i]} needs {house.ids[k]}, which is not connected as firmly"
                raise ValueError(msg)


def _averages(house: House, supply: Supply, power: Power, state: State) -> Floats:
    length = house.spell * SLOTS_PER_DAY
    return np.array([
        max(rules.day_mean_kw(day * length + k * SLOTS_PER_DAY, power, state)
            for k in range(house.spell)) / supply.derated_kw
        for day in range(len(house.weights))])


__all__ = ["Refusal", "Service", "check_wakes", "direct_order", "play", "replay"]
