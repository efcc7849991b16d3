"""Loads that are connected and yet get next to nothing: said before anything else about a plan."""

from __future__ import annotations

from planner.plan.plan import LoadPlan, Plan
from planner.plan.starved import badly_served, hard_start, starved
from planner.report.smaller_words import listed
from planner.report.words import money, number, share


def starved_sentences(plan: Plan) -> tuple[str, ...]:
    """Say of each of them what it gets, and why if its start alone is too much."""
    return tuple(f"{part.label} would {_gets(part)}{_why(plan, part)}." for part in starved(plan))


def poor_sentences(plan: Plan) -> tuple[str, ...]:
    """Say of each load that matters much and gets less than half what it gets."""
    return tuple(f"{part.label} would get only {share(part.service)} of what it asks for."
                 for part in badly_served(plan))


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
    return (f"All that follows is asked for the {share(coverage)} that this plan covers: cheaper "
            "plans for the goal leave something without power.")


def warning_sentences(plan: Plan, starving: Plan | None = None) -> tuple[str, ...]:
    """Say what gets too little in a plan, and what a cheaper one would leave without power."""
    said = tuple(f"Warning: {one}" for one in (*starved_sentences(plan), *poor_sentences(plan)))
    return (*said, starving_sentence(starving, plan)) if starving else said


def _gets(part: LoadPlan) -> str:
    if part.service == 0.0:
        return f"not run at all, though it asks for {number(part.called_h)} h a day"
    return f"get only {share(part.service)} of the {number(part.called_h)} h a day it asks for"


def _why(plan: Plan, part: LoadPlan) -> str:
    hard = hard_start(plan, part.id)
    if hard is None:
        return ""
    able = [f"with the {hard.starter.label} it starts"] if hard.starter else []
    able += [f"the {hard.generator.label} starts it"] if hard.generator else []
    tail = f"; {'; '.join(able)}" if able else "; nothing in the price book starts it"
    return (f": its start takes {number(hard.start_kva)} kVA, and this generator starts "
            f"{number(hard.startable_kva)} kVA at the allowed dip{tail}")
