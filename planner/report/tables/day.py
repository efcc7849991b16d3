"""A planned design day as frames: who draws how much when, and who waits.

Everything comes from the replay that the plan holds; nothing is played again.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

import numpy as np
import pandas as pd

from planner.arrays import Bools
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay
from planner.plan.plan import Plan
from planner.report.tables.plan import load_table
from planner.service.house import KW_ROW, House
from planner.service.timeline import DROPPED as LOST
from planner.service.timeline import RUNNING, WAITING, WOKEN

RUNS = "running"
WAITS = "waiting"
DROPPED = "dropped"
REST = "not wanted"
NO_POWER = "without power"

DEMAND_COLUMNS = ("hour", "load", "load_id", "kw")
STRIP_COLUMNS = ("load", "load_id", "start_h", "end_h", "state")


def standing_apart(house: House, most: int) -> tuple[str, ...]:
    """Give the ids of the loads that stand apart in pictures, what counts most first.

    Those with the largest sum of squared kW over the slots of all days in which they may be wanted:
    what is large for an hour counts more than what is small all day. It depends on the home alone,
    so that a load looks the same in every plan.
    """
    can = house.works.can.reshape(house.count, len(house.weights), -1).mean(axis=2)
    weight = (house.draw[:, KW_ROW, :].T ** 2 * can).sum(axis=1)
    told = [i for i in np.argsort(-weight, kind="stable")[:most] if weight[i] > 0.0]
    return tuple(house.ids[i] for i in told)


def demand_frame(plan: Plan, day: DesignDay) -> pd.DataFrame:
    """Show what every load that is ever on draws in every slot of a day.

    Parameters
    ----------
    plan : Plan
        The plan with its replay.
    day : DesignDay
        One of the days of the plan's home.

    Returns
    -------
    pandas.DataFrame, shape (96 * loads, 4)
        ``hour`` (start of the slot, 0-24), ``load`` (label), ``load_id``, ``kw`` (running power, 0
        while it is not on). The load that takes most energy stands first. The kW of a slot add up
        to the replay's `load_kw`; starting power is no part of it.

    Raises
    ------
    ValueError
        If the day is none of the home's.
    """
    house = plan.menu.house
    drawn_kw = house.draw[house.home.days.index(day), KW_ROW]
    kw = drawn_kw[:, None] * _on(plan)[:, _slots(plan, day)]
    energy = kw.sum(axis=1)
    shown = [i for i in np.argsort(-energy, kind="stable") if energy[i] > 0.0]
    hours = np.arange(SLOTS_PER_DAY) * SLOT_H
    return pd.DataFrame({
        "hour": np.tile(hours, len(shown)),
        "load": np.repeat([house.home.loads[i].label for i in shown], SLOTS_PER_DAY),
        "load_id": np.repeat([house.ids[i] for i in shown], SLOTS_PER_DAY),
        "kw": kw[shown].ravel(),
    }, columns=list(DEMAND_COLUMNS))


def strip_frame(plan: Plan, day: DesignDay) -> pd.DataFrame:
    """Show each load's day as spans of one state each.

    Parameters
    ----------
    plan : Plan
        The plan with its replay.
    day : DesignDay
        One of the days of the plan's home.

    Returns
    -------
    pandas.DataFrame, shape (spans, 5)
        ``load`` (label), ``load_id``, ``start_h``, ``end_h``, ``state``: ``running`` (also because
        another load needs it), ``waiting``, ``dropped``, ``not wanted``, or ``without power`` for
        a load that might run but is off standby power or switched off by hand. Loads stand as in
        the table of the plan; the spans of each cover 0-24 without a gap.

    Raises
    ------
    ValueError
        If the day is none of the home's.

    Notes
    -----
    The last day of the spell. What is wanted at its hour, light or a television, is ``dropped``
    where it is refused; what keeps a level or does a piece of work is ``waiting``.
    """
    house = plan.menu.house
    slots = _slots(plan, day)
    on, marks, can = _on(plan)[:, slots], plan.service.marks[:, slots], house.works.can[:, slots]
    rows: list[tuple[str, str, float, float, str]] = []
    for part in load_table(plan).items:
        i = house.index(part.id)
        states = np.full(SLOTS_PER_DAY, REST, dtype=object)
        states[marks[i] == WAITING] = WAITS
        states[marks[i] == LOST] = DROPPED
        if part.connection in ("off", "by hand"):
            states[can[i]] = NO_POWER
        states[on[i]] = RUNS
        rows += [(part.label, part.id, first * SLOT_H, last * SLOT_H, state)
                 for first, last, state in merged(states.tolist())]
    return pd.DataFrame(rows, columns=list(STRIP_COLUMNS))


def telling_strips(plan: Plan, strips: pd.DataFrame, apart: Sequence[str]) -> pd.DataFrame:
    """Keep the strips of loads that stand apart, and of all that is not always connected."""
    told = {*apart, *(part.id for part in plan.loads if part.connection != "direct")}
    return strips[strips["load_id"].isin(told)]


def merged(states: Sequence[str]) -> list[tuple[int, int, str]]:
    """Join equal neighbours: (first, one past the last, state), in order and without a gap."""
    spans: list[tuple[int, int, str]] = []
    first = 0
    for state, group in groupby(states):
        last = first + sum(1 for _ in group)
        spans.append((first, last, state))
        first = last
    return spans


def _slots(plan: Plan, day: DesignDay) -> slice:
    first = plan.menu.house.home.days.index(day) * SLOTS_PER_DAY
    return slice(first, first + SLOTS_PER_DAY)


def _on(plan: Plan) -> Bools:
    """Who is on in each slot, shape (n, T): who runs, and who is woken by these."""
    marks = plan.service.marks
    return np.asarray((marks == RUNNING) | (marks == WOKEN), dtype=np.bool_)
