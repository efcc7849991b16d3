"""Transfer equipment and soft starters that stand less than may flow into a short circuit."""

from __future__ import annotations

from planner.errors import Finding, Severity
from planner.facts.price_book import SoftStarter, Transfer
from planner.plan.plan import Plan
from planner.tolerances import meets


def starters_of(plan: Plan) -> tuple[SoftStarter, ...]:
    """Give the kinds of soft starters of a plan, in the order of the price book."""
    used = set(plan.choice.soft_start)
    return tuple(one for place, one in enumerate(plan.menu.book.soft_starters, start=1)
                 if place in used)


def fault_findings(plan: Plan) -> tuple[Finding, ...]:
    """Warn of equipment whose short-circuit rating is below what the utility lets flow.

    At a soft starter, out on its branch circuit, less may flow than at the panel; how much less its
    length would say, which is no fact of a home, so that at the panel is taken.

    References
    ----------
    NEC 110.9, 110.10 (2017 to 2023).
    """
    transfer = plan.price.transfer
    held: tuple[tuple[str, str, Transfer | SoftStarter], ...] = (
        ("transfer", "transfer equipment", transfer),
        *(("soft starter", "soft starter", one) for one in starters_of(plan)))
    flows_a = plan.menu.house.home.fault_current_a
    return tuple(
        Finding(
            Severity.WARNING, f"{kind} {part.id}", f"{flows_a:,.0f} A may flow in a fault, and "
            f"{part.label} withstands {part.short_circuit_a:,.0f} A (110.9, 110.10): it may not be "
            "put there as it is.",
            "Take equipment rated for that, alone or in a listed combination with the overcurrent "
            f"device ahead of it (short_circuit of the {name} in the price book).")
        for kind, name, part in held
        if flows_a is not None and part.short_circuit_a is not None
        and not meets(flows_a, part.short_circuit_a))
