"""Loads that are connected and yet get next to nothing."""

from __future__ import annotations

from planner.plan.plan import LoadPlan, Plan

MATTERS = 4  # importance from which on half of its calls are too little; no source
HALF = 0.5
NEXT_TO_NOTHING = 0.05  # share of its calls below which a load counts as starved; no source


def starved(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that take turns, ask for power and get next to none, most important first.

    What nobody cares about (importance 0) is left out.
    """
    found = [part for part in plan.loads if part.connection == "module" and part.called_h > 0.0
             and part.importance > 0 and part.service < NEXT_TO_NOTHING]
    return tuple(sorted(found, key=lambda part: -part.importance))


def badly_served(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that matter much and get less than half of their calls, the worst first.

    Those that are starved are left out.
    """
    found = [part for part in plan.loads if part.connection == "module" and part.called_h > 0.0
             and part.importance >= MATTERS and NEXT_TO_NOTHING <= part.service < HALF]
    return tuple(sorted(found, key=lambda part: part.service))
