"""How long a load goes without power while it calls."""

from __future__ import annotations

from planner.plan.plan import Plan


def longest_standstill_h(plan: Plan, load_id: str) -> float:
    """Find the longest stretch of a judged day in which a load calls and does not run [h]."""
    i = plan.menu.house.index(load_id)
    return float(plan.service.timeline.longest_wait_h[i])
