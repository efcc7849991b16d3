"""Named picks from the frontier: what a family is shown first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.plan.plan import Plan

PickName = Literal["least", "goal", "knee", "most", "nothing shed"]


@dataclass(frozen=True)
class Pick:
    """A plan worth showing, and why it is shown.

    Attributes
    ----------
    name
        ``least``: the cheapest that keeps what must run; ``goal``: the recommended one; ``knee``:
        from here on coverage gets dear; ``most``: the cheapest of those that cover most;
        ``nothing shed``: everything connected at once.
    plan : Plan
    """

    name: PickName
    plan: Plan


def picks(points: Sequence[Plan], recommended: Plan | None, reference: Plan | None) -> list[Pick]:
    """Pick plans from a frontier, cheapest first; a plan is picked once, by its first reason.

    Parameters
    ----------
    points : sequence of Plan
        The frontier by rising cost.
    recommended : Plan or None
        The plan for the goal.
    reference : Plan or None
        The cheapest plan that sheds nothing.
    """
    if not points:
        return []
    found: dict[tuple[float, float], Pick] = {}
    wanted: list[tuple[PickName, Plan | None]] = [
        ("goal", recommended), ("least", points[0]), ("knee", knee_of(points)),
        ("most", points[-1]), ("nothing shed", reference)]
    for name, plan in wanted:
        if plan is not None:
            found.setdefault((plan.cost_usd, plan.coverage), Pick(name, plan))
    return sorted(found.values(), key=lambda pick: pick.plan.cost_usd)


def three_of(found: Sequence[Pick]) -> list[Pick]:
    """Three picks at most: the least, the recommended, the most; others where one is missing."""
    by_name = {pick.name: pick for pick in found}
    names: tuple[PickName, ...] = ("least", "goal", "most", "knee", "nothing shed")
    kept = [by_name[name] for name in names if name in by_name][:3]
    return sorted(kept, key=lambda pick: pick.plan.cost_usd)


def knee_of(points: Sequence[Plan]) -> Plan:
    """The plan farthest above the straight line from the first plan to the last.

    Cost and coverage are counted as shares of what lies between the two ends, so the unit of money
    does not matter. The first where there are several; the only one where there are no ends.
    """
    first, last = points[0], points[-1]
    wide_usd, high = last.cost_usd - first.cost_usd, last.coverage - first.coverage
    if wide_usd <= 0.0 or high <= 0.0:
        return first

    def above(plan: Plan) -> float:
        return (plan.coverage - first.coverage) / high - (plan.cost_usd - first.cost_usd) / wide_usd

    return max(points, key=above)
