"""The table of a frontier: one row per plan, cheapest first."""

from __future__ import annotations

from collections.abc import Sequence

from planner.plan.plan import Plan
from planner.report import words
from planner.report.comforts.comfort_words import is_as_usual
from planner.report.comforts.missed_words import told
from planner.report.tables.column import Column, Table, figure, text

MOST_TOLD = 4  # comforts of one plan, those that weigh most


def point_table(plans: Sequence[Plan]) -> Table[Plan]:
    """Plans side by side: what each costs, covers and is known to be worth."""
    return Table("Cost against coverage", COLUMNS, plans)


def point_sentence(plan: Plan) -> str:
    """Say in a line what is less than usual: ``10,390 USD: Hot water: 2 showers cold``."""
    return f"{words.money(plan.cost_usd, plan.menu.book.currency)}: {less_than_usual(plan)}."


def less_than_usual(plan: Plan) -> str:
    """Say what is less than usual on the hardest days, what weighs most first."""
    less = sorted((one for one in plan.comforts
                   if one.comfort.importance > 0 and not is_as_usual(one)),
                  key=lambda one: -one.comfort.importance * (1.0 - one.kept))
    said = [f"{one.comfort.label}: {told(one, plan)}" for one in less[:MOST_TOLD]]
    if len(less) > MOST_TOLD:
        said.append(f"and {len(less) - MOST_TOLD} more")
    return "; ".join(said) or "nothing, everything as usual"


def _count(plan: Plan, connection: str) -> int:
    return sum(part.connection == connection for part in plan.loads)


def _less_than_usual(plan: Plan) -> int:
    return sum(one.comfort.importance > 0 and not is_as_usual(one) for one in plan.comforts)


COLUMNS: tuple[Column[Plan], ...] = (
    figure("cost_usd", "Cost", lambda plan: plan.cost_usd, words.money),
    figure("coverage", "Kept", lambda plan: plan.coverage, words.share),
    Column("proof", "Proof", lambda plan: plan.proof.kind, lambda plan: words.proof(plan.proof)),
    text("generator", "Generator", lambda plan: plan.supply.generator.label),
    figure("capacity_kw", "kW", lambda plan: plan.supply.capacity_kw, words.rating),
    text("transfer", "Transfer", lambda plan: plan.menu.kind.replace("-", " ")),
    figure("modules", "Modules", lambda plan: plan.choice.modules, lambda n: f"{n:.0f}"),
    figure("soft_starters", "Soft starts",
           lambda plan: sum(part.soft_starter is not None for part in plan.loads),
           lambda n: f"{n:.0f}"),
    figure("less", "Less than usual", _less_than_usual, lambda n: f"{n:.0f}"),
    figure("off", "Off", lambda plan: _count(plan, "off") + _count(plan, "by hand"),
           lambda n: f"{n:.0f}"),
)
