"""How long pieces of work wait in a plan: what of a load's turns a family notices.

What keeps a level, a room or a tank, is told by its comfort alone: it catches up. What is wanted by
the clock is lost where it is refused. Only work that is done later has a wait.
"""

from __future__ import annotations

import numpy as np

from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.plan.plan import LoadPlan, Plan
from planner.report.words import span
from planner.service.loops.inputs import TASK


def longest_wait_h(plan: Plan, load_id: str) -> float:
    """Give the hours by which work of a load is done late at most; 0 for what does no work.

    Parameters
    ----------
    plan : Plan
        With its replay: every day of each spell counts.
    load_id : str
        One that takes turns.

    Notes
    -----
    From when it would be done with the utility to when it is done; nights count. Work that is
    given up is missed, not late: its comfort tells of it.
    """
    house, state = plan.menu.house, plan.service.state
    works, i = house.works, house.index(load_id)
    if works.kind[i] != TASK or plan.load(load_id).connection != "module":
        return 0.0
    longest, days = 0, house.spell * SLOTS_PER_DAY
    for m in range(works.task_first[i], works.task_first[i + 1]):
        first, length = int(works.task_day[m]) * days, int(works.task_length[m])
        window = length + int(max(works.task_wait[m], works.task_pauses[m]))
        for k in np.flatnonzero(state.lost[m] == 0):
            begin = first + int(k) * SLOTS_PER_DAY + int(works.task_start[m])
            ran = np.flatnonzero(state.share[i, begin:min(begin + window, first + days)] > 0.0)
            longest = max(longest, int(ran[-1]) + 1 - length)
    return longest * SLOT_H


def waiting(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads whose work is done later than it was begun, in the order of the file."""
    return tuple(part for part in plan.loads if longest_wait_h(plan, part.id) > 0.0)


def wait_words(plan: Plan, load_id: str) -> str:
    """Say how long a load's work waits: ``up to 2 h``; empty where it never does."""
    longest_h = longest_wait_h(plan, load_id)
    return f"up to {span(longest_h)}" if longest_h else ""
