"""The shedding modules of a plan, each with the branch circuit that it stands in."""

from __future__ import annotations

from dataclasses import dataclass

from planner.errors import Finding, Severity
from planner.facts.home import Load
from planner.facts.price_book import Module
from planner.physics.wire.branch import Branch, usual_branch
from planner.plan.plan import Plan


@dataclass(frozen=True, slots=True)
class ModuleLine:
    """A load behind a module, and the overcurrent device that one would put ahead of it.

    It has a `priority`, or None where the module stays open as long as the generator feeds the
    house.
    """

    load: Load
    module: Module
    branch: Branch
    priority: int | None

    @property
    def in_circuit(self) -> bool:
        """Whether the module stands in the branch circuit, not in a thermostat's."""
        return self.module.action == "contactor"

    @property
    def stays_open(self) -> bool:
        """Whether its load is off by it, and takes no turns."""
        return self.priority is None


def module_lines(plan: Plan) -> tuple[ModuleLine, ...]:
    """List the modules of a plan, in the order of its loads."""
    loads = plan.menu.house.home.loads
    kinds = [plan.menu.module_of(plan.choice, i) for i in range(len(loads))]
    return tuple(ModuleLine(load, kind, usual_branch(load), part.priority)
                 for load, kind, part in zip(loads, kinds, plan.loads, strict=True)
                 if kind is not None)


def to_verify_of_modules(plan: Plan) -> tuple[Finding, ...]:
    """Say what about the modules has to be verified on site or on a nameplate.

    References
    ----------
    NEC 110.9, 110.10: equipment withstands the fault current that is available.
    """
    lines = [line for line in module_lines(plan) if line.in_circuit]
    if not lines:
        return ()
    found = []
    by_rule = ", ".join(f"{line.load.label} {line.branch.breaker_a:g} A" for line in lines
                        if not line.branch.given)
    if by_rule:
        found.append(Finding(Severity.NOTE, "modules",
                             f"branch breakers are taken by the rules of the code: {by_rule}.",
                             'Read them off the panel: breaker = "... A".'))
    home = plan.menu.house.home
    if home.fault_current_a is None:
        stated = sorted({line.module.short_circuit_a for line in lines
                         if line.module.short_circuit_a is not None})
        most = f" The weakest module withstands {stated[0]:,.0f} A." if stated else ""
        found.append(Finding(Severity.NOTE, "home: fault_current", "the available fault current is "
                             f"not known, so no module is held against it (110.9).{most}",
                             "Ask the utility, and write fault_current in [home]."))
    silent = sorted({line.module.label for line in lines if line.module.short_circuit_a is None})
    if silent:
        found.append(Finding(Severity.NOTE, "modules", "no short-circuit rating is stated for "
                             f"{', '.join(silent)}.", "Verify it on the nameplate (110.9)."))
    return tuple(found)
