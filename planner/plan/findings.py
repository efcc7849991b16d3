"""What a reader of a plan must know before anything else that is open about it."""

from __future__ import annotations

from planner.errors import Finding
from planner.plan.compliance import lines_findings
from planner.plan.faults import fault_findings
from planner.plan.method import method_findings
from planner.plan.plan import Plan
from planner.plan.site.findings import site_findings


def findings_of_plan(plan: Plan) -> tuple[Finding, ...]:
    """Give what the code and the site ask of a plan."""
    return (*method_findings(plan), *lines_findings(plan), *fault_findings(plan),
            *site_findings(plan))
