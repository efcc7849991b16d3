"""What a comfort is like in a plan; where several things serve it, which of them is not done."""

from __future__ import annotations

from planner.plan.plan import Plan
from planner.report.comforts.comfort_words import day_phrase, hardest_day, shown_days
from planner.report.smaller_words import listed
from planner.service.kept import Kept


def told(kept: Kept, plan: Plan, day: int | None = None) -> str:
    """Say what a comfort is like: ``1 of 2 done (not: Clothes dryer)``.

    Parameters
    ----------
    kept : Kept
        A comfort of the plan.
    plan : Plan
    day : int, optional
        Place of a design day; the comfort's hardest if not given.
    """
    house = plan.menu.house
    place = hardest_day(kept, house) if day is None else day
    missed = missed_loads(kept, plan, place)
    said = day_phrase(kept, house, place)
    if not missed:
        return said
    return f"{said} ({'' if kept.comfort.kind == 'meals' else 'not: '}{listed(missed)})"


def seasons(kept: Kept, plan: Plan) -> str:
    """Say what a comfort is like on its hardest day; of a room in the heat and in the cold."""
    return ", ".join(told(kept, plan, day) for day in shown_days(kept, plan.menu.house))


def missed_loads(kept: Kept, plan: Plan, day: int) -> tuple[str, ...]:
    """Labels of what leaves work of a comfort undone on a day, where others of it do theirs."""
    house, lost = plan.menu.house, plan.service.state.lost
    works = house.works
    found = []
    for load_id in kept.comfort.loads:
        i = house.index(load_id)
        mine = range(works.task_first[i], works.task_first[i + 1])
        if any(works.task_day[m] == day and (lost[m] == 1).any() for m in mine):
            found.append(plan.loads[i].label)
    return tuple(found) if 0 < len(found) < len(kept.comfort.loads) else ()
