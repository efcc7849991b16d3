"""Transfer equipment that stands less than may flow into a short circuit."""

from __future__ import annotations

from planner.errors import Finding, Severity
from planner.plan.plan import Plan
from planner.tolerances import meets


def fault_findings(plan: Plan) -> tuple[Finding, ...]:
    """Warn of transfer equipment whose short-circuit rating is below what the utility lets flow.

    References
    ----------
    NEC 110.9, 110.10 (2017 to 2023).
    """
    flows_a, transfer = plan.menu.house.home.fault_current_a, plan.price.transfer
    withstands_a = transfer.short_circuit_a
    if flows_a is None or withstands_a is None or meets(flows_a, withstands_a):
        return ()
    return (Finding(
        Severity.WARNING, f"transfer {transfer.id}", f"{flows_a:,.0f} A may flow in a fault, and "
        f"{transfer.label} withstands {withstands_a:,.0f} A (110.9, 110.10): it may not be put "
        "there as it is.",
        "Take equipment rated for that, alone or in a listed combination with the overcurrent "
        "device ahead of it (short_circuit of the transfer equipment in the price book)."),)
