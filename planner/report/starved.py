"""What a plan leaves badly wanting: said before anything else about it."""

from __future__ import annotations

import numpy as np

from planner.facts.home import SLOTS_PER_DAY
from planner.plan.plan import NEXT_TO_NOTHING, Plan
from planner.plan.starved import HALF, MATTERS, hard_start, starved
from planner.report.comforts.comfort_words import hardest_day
from planner.report.comforts.missed_words import told
from planner.report.smaller_words import listed
from planner.report.words import money, number, share
from planner.service.kept import Kept
from planner.service.timeline import DROPPED, RUNNING, WAITING, WOKEN
from planner.tolerances import reaches


def starved_sentences(plan: Plan) -> tuple[str, ...]:
    """Say of each comfort that is not kept at all what it is like, and why where that is known.

    What nobody cares about (importance 0) is left out.
    """
    lacking = [one for one in plan.comforts if one.counts and one.kept < NEXT_TO_NOTHING]
    return tuple(f"{_like(one, plan)}{_why(plan, one)}." for one in lacking)


def poor_sentences(plan: Plan) -> tuple[str, ...]:
    """Say of each comfort that matters much and is kept by less than half what it is like.

    Also of what stands first among those that take turns and yet gets nothing on some day.
    """
    lacking = [one for one in plan.comforts if one.counts and one.comfort.importance >= MATTERS
               and NEXT_TO_NOTHING <= one.kept < HALF]
    return (*(f"{_like(one, plan)}." for one in lacking), *_first_in_vain(plan))


def starving_sentence(starving: Plan, plan: Plan) -> str:
    """Say what a cheaper plan would save, and what would not run for it."""
    less_usd = plan.cost_usd - starving.cost_usd
    names = listed([part.label for part in starved(starving)])
    return (f"{money(less_usd, plan.menu.book.currency)} less would reach the goal as well, with "
            f"the {starving.supply.generator.label}, but this would not run: {names}.")


def raised_goal_sentence(coverage: float) -> str:
    """Say for which coverage questions are answered where the goal itself would starve something.

    Parameters
    ----------
    coverage : float
        Of the recommended plan, 0-1.
    """
    return (f"All that follows is asked for the {share(coverage)} that this plan keeps: cheaper "
            "plans for the goal leave something without power.")


def warning_sentences(plan: Plan, starving: Plan | None = None) -> tuple[str, ...]:
    """Say what is badly kept in a plan, and what a cheaper one would leave without power."""
    said = tuple(f"Warning: {one}" for one in (*starved_sentences(plan), *poor_sentences(plan)))
    return (*said, starving_sentence(starving, plan)) if starving else said


def _like(kept: Kept, plan: Plan) -> str:
    house = plan.menu.house
    day = house.home.days[hardest_day(kept, house)].label
    return (f"{kept.comfort.label} would be kept only {share(kept.kept)}: "
            f"{told(kept, plan)} on {day}")


def _first_in_vain(plan: Plan) -> tuple[str, ...]:
    """Say on which days the load of priority 1 is refused so that its comfort lacks something."""
    if not plan.choice.order or not plan.loads[plan.choice.order[0]].comfort:
        return ()
    house, first = plan.menu.house, plan.loads[plan.choice.order[0]]
    kept = plan.comfort(first.comfort)
    marks = plan.service.marks[plan.choice.order[0]].reshape(-1, SLOTS_PER_DAY)
    refused = [d for d, row in enumerate(marks) if np.isin(row, (WAITING, DROPPED)).any()
               and not reaches(float(kept.by_day[d]), 1.0)]
    none = [d for d in refused if not np.isin(marks[d], (RUNNING, WOKEN)).any()]
    lines = [f"{first.label} has priority 1 and yet gets no power on "
             f"{listed([house.home.days[d].label for d in none])}."] if none else []
    if len(refused) > len(none):
        worst = min((d for d in refused if d not in none), key=lambda d: float(kept.by_day[d]))
        lines.append(f"{first.label} has priority 1, and yet there is not always room for it "
                     f"beside what is always on: {kept.comfort.label}: {told(kept, plan, worst)} "
                     f"on {house.home.days[worst].label}.")
    return tuple(lines)


def _why(plan: Plan, kept: Kept) -> str:
    turns = [load_id for load_id in kept.comfort.loads
             if plan.load(load_id).connection == "module"]
    hard = next((found for one in turns if (found := hard_start(plan, one))), None)
    if hard is None:
        return ""
    able = [f"with the {hard.starter.label} it starts"] if hard.starter else []
    able += [f"the {hard.generator.label} starts it"] if hard.generator else []
    tail = f"; {'; '.join(able)}" if able else "; nothing in the price book starts it"
    return (f": its start takes {number(hard.start_kva)} kVA, and this generator starts "
            f"{number(hard.startable_kva)} kVA at the allowed dip{tail}")
