"""How a plan meets the rule for automatic connection of optional standby loads (NEC 702.4).

Without load management the generator carries all that is connected; with it, the largest load that
the management will connect. Two ways lead there. By default what is always connected passes the
calculation against 100 % of the derated rating, and the generator's own breaker protects the
feeder. Where the controller is listed with a setpoint in amperes, the setpoint is the load, and a
continuous one (220.70, 750.30).
"""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import Literal

from planner.errors import Finding, Severity
from planner.facts.home import CodeEdition
from planner.physics.demand.tables import clause
from planner.physics.draw import LINE_VOLTS, amperes
from planner.physics.wire.branch import CONTINUOUS
from planner.plan.code import AlwaysConnected, always_connected
from planner.plan.lines import as_it_stands, evenest, line_limit_a
from planner.plan.method import method_findings
from planner.plan.plan import Plan
from planner.tolerances import ceiled, floored, meets

Way = Literal["no management", "largest connected load", "setpoint"]


@dataclass(frozen=True, slots=True)
class Compliance:
    """How a plan meets 702.4.

    Attributes
    ----------
    way : Way
        Without management, by the largest connected load, or by a listed setpoint.
    clauses : tuple of str
        Where the code says so.
    sheets : AlwaysConnected
        Calculated load of what is always connected, by each method.
    limit_va : float
        100 % of the derated rating; by convention the calculated kVA are compared with the kW [VA].
    breaker_a : float or None
        Main breaker of the generator [A]; None where the price book does not state it.
    setpoint_a : int or None
        Largest setpoint that may be set [A]; None without a listed one.
    line_limit_a : float
        What a line may carry: the generator's amperes per leg, and its own breaker [A].
    findings : tuple of Finding
        What the reader must know or verify.
    """

    way: Way
    clauses: tuple[str, ...]
    sheets: AlwaysConnected
    limit_va: float
    breaker_a: float | None
    setpoint_a: int | None
    line_limit_a: float
    findings: tuple[Finding, ...]

    @property
    def carries_lines(self) -> bool:
        """Whether the heavier line of what is always connected is within what a line may carry."""
        return meets(self.sheets.counts.heavier_line_a, self.line_limit_a)


def compliance_of(plan: Plan) -> Compliance:
    """Say how a plan meets 702.4, and what about it is open.

    Parameters
    ----------
    plan : Plan
        Any plan; the calculated load of what is always connected is within its generator.

    References
    ----------
    NEC 702.4(B)(2) (2017, 2020), 702.4(A) (2023); 220.70 (2023), 750.30; 120.70 and 130.30 in the
    numbering of 2026. The items of 702.4(A) from memory.
    """
    home, supply, controller = plan.menu.house.home, plan.supply, plan.price.controller
    edition = home.code.edition
    sheets = always_connected(plan.menu, plan.choice)
    setpoint_a = most_setpoint_a(plan)
    way: Way = "no management" if controller is None else "largest connected load"
    if setpoint_a is not None and meets(sheets.counts.heavier_line_a, setpoint_a):
        way = "setpoint"
    return Compliance(
        way, _clauses(edition, way), sheets, 1000.0 * supply.derated_kw,
        supply.generator.breaker_a, setpoint_a, line_limit_a(plan),
        (*sheets.counts.findings, *method_findings(plan), *_management(plan, way), *_breaker(plan),
         *lines_findings(plan)))


def most_setpoint_a(plan: Plan) -> int | None:
    """Give the largest setpoint that may be set on the controller of a plan [A].

    Returns
    -------
    int or None
        No more than the controller is listed for, and 125 % of it within the derated rating; None
        where no setpoint is listed, or the edition knows none (220.70 came in 2023).
    """
    home, controller = plan.menu.house.home, plan.price.controller
    if controller is None or controller.setpoint_a is None or home.code.edition in ("2017", "2020"):
        return None
    carried_a = min(plan.supply.leg_a, amperes(plan.supply.derated_kw, LINE_VOLTS))
    return floor(min(controller.setpoint_a, carried_a / CONTINUOUS) + 1e-9)


def management_clause(edition: CodeEdition) -> str:
    """Name the clause that wants a plan's management to keep the load within the generator."""
    return "702.4(B)(2)(b)" if edition in ("2017", "2020") else "702.4(A)(2)"


def _clauses(edition: CodeEdition, way: Way) -> tuple[str, ...]:
    if way == "no management":
        return ("702.4(B)(2)(a)" if edition in ("2017", "2020") else "702.4(A)(1)",)
    if way == "largest connected load":
        return (management_clause(edition),)
    return management_clause(edition), clause(edition, "220.70"), energy_management(edition)


def energy_management(edition: CodeEdition) -> str:
    """Name the clause about load management of an energy management system: Article 130 in 2026."""
    return "130.30" if edition == "2026" else "750.30"


def _management(plan: Plan, way: Way) -> list[Finding]:
    controller = plan.price.controller
    if controller is None or way == "setpoint":
        return []
    edition = plan.menu.house.home.code.edition
    number = energy_management(edition)
    if controller.setpoint_a is not None:
        return [Finding(
            Severity.NOTE, f"controller {controller.id}",
            f"its listed setpoint of {controller.setpoint_a:g} A does not count here: what is "
            f"always connected is above what may be set, or NEC {edition} has no such rule.",
            "The plan complies by the largest connected load.")]
    return [Finding(
        Severity.WARNING, f"controller {controller.id}",
        f"{controller.label} has no listed setpoint in amperes. Shedding on frequency alone, "
        f"without a setpoint, is no limit of the load ({number}), and none may be counted.",
        "The plan complies by the largest connected load behind the generator's breaker; ask the "
        "authority having jurisdiction whether it accepts the controller as load management "
        f"({management_clause(edition)}).")]


def _breaker(plan: Plan) -> list[Finding]:
    generator, transfer = plan.supply.generator, plan.price.transfer
    where = f"generator {generator.id}"
    if generator.breaker_a is None:
        return [Finding(Severity.NOTE, where, "the price book does not state its main breaker, "
                        "which protects the feeder.", "Verify it on the nameplate.")]
    if not meets(generator.breaker_a, transfer.rating_a):
        return [Finding(Severity.WARNING, where, f"its {generator.breaker_a:g} A breaker is above "
                        f"the {transfer.rating_a:g} A of {transfer.label}.",
                        "Take a smaller breaker or larger transfer equipment.")]
    return []


def lines_findings(plan: Plan) -> tuple[Finding, ...]:
    """Say of a plan whose heavier line is too heavy which loads to move, or that none helps."""
    limit_a, now = line_limit_a(plan), as_it_stands(plan)
    if meets(now.heavier_a, limit_a):
        return ()
    best = evenest(plan)
    sentence = (f"as the legs stand L1 carries {ceiled(now.lines_a[0], 0.1):.1f} A and L2 "
                f"{ceiled(now.lines_a[1], 0.1):.1f} A of what is always connected, and a line of "
                f"the generator may carry {floored(limit_a, 0.1):.1f} A: it does not comply so.")
    if meets(best.heavier_a, limit_a):
        moves = ", ".join(f"{load.label} to {load.leg}" for load in best.moved)
        remedy = (f"Move {moves}: then the heavier line carries "
                  f"{ceiled(best.heavier_a, 0.1):.1f} A.")
    else:
        remedy = (f"No arrangement of its 120 V loads fits, {ceiled(best.heavier_a, 0.1):.1f} A at "
                  "best: put one of them behind a module, or take a larger generator.")
    return (Finding(Severity.WARNING, "loads: leg", sentence, remedy),)
