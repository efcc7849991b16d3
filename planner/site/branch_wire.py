"""The least wire of a branch circuit behind a module."""

from __future__ import annotations

from planner.physics.wire.branch_wire import branch_conductor
from planner.plan.module_lines import ModuleLine
from planner.plan.plan import Plan
from planner.plan.site.feeder import ambient_degc, named
from planner.site.wire import site_of


def branch_wire(plan: Plan, line: ModuleLine) -> str:
    """Say the least size that a branch circuit behind a module needs.

    Raises
    ------
    ValueError
        If no single cable carries it.
    """
    together = site_of(plan).service.bundled_cables
    size = branch_conductor(line.load, line.branch, ambient_degc(plan.menu.house.home),
                            together or 1)
    return f"{named(size, 'copper')} or larger"
