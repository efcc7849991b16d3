"""The site sheet of a plan: all rows, in six groups."""

from __future__ import annotations

from planner.plan.plan import Plan
from planner.site.sheet.conductors import conductor_rows
from planner.site.sheet.faults import fault_rows
from planner.site.sheet.fuel import fuel_rows
from planner.site.sheet.grounding import grounding_rows
from planner.site.sheet.modules import module_rows
from planner.site.sheet.placement import placement_rows
from planner.site.sheet.rows import Group, SiteSheet
from planner.site.sheet.safety import safety_rows
from planner.site.sheet.starting import starting_rows
from planner.site.sheet.transfer import transfer_rows
from planner.site.wire import feeder_run


def site_sheet(plan: Plan) -> SiteSheet:
    """Say what a plan asks of its site: what is right, what is not, what is to do, what is missing.

    Parameters
    ----------
    plan : Plan
        Its home may say nothing of the site; then rows say which facts are missing.

    Returns
    -------
    SiteSheet
        Estimates for planning: permits, local code and the authority having jurisdiction decide.
    """
    run = feeder_run(plan)
    return SiteSheet((
        Group("conductors", "Conductors", (*conductor_rows(plan, run), *starting_rows(plan, run))),
        Group("transfer", "Transfer and service",
              (*transfer_rows(plan), *fault_rows(plan), *safety_rows(plan))),
        Group("fuel", "Fuel", fuel_rows(plan)),
        Group("grounding", "Grounding", grounding_rows(plan, run)),
        Group("modules", "Modules and branch circuits", module_rows(plan)),
        Group("placement", "Placement", placement_rows(plan)),
    ))
