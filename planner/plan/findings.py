"""What a reader of a plan must know before anything else that is open about it."""

from __future__ import annotations

from planner.errors import Finding
from planner.plan.compliance import lines_findings
from planner.plan.method import method_findings
from planner.plan.plan import Plan
from planner.plan.unkept import unkept_findings


def findings_of_plan(plan: Plan) -> tuple[Finding, ...]:
    """Give the wishes about the order that a plan does not keep, and what the code asks of it."""
    return (*unkept_findings(plan), *method_findings(plan), *lines_findings(plan))
