"""Plans side by side, load by load: what changes from one to the next."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from planner.plan.plan import LoadPlan, Plan
from planner.report import words
from planner.report.tables.column import Column, Table, text
from planner.study.compare import Comparison


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a comparison: what is compared, and its cell for every plan by name."""

    heading: str
    cells: Mapping[str, str]


def comparison_table(plans: Mapping[str, Plan]) -> Table[Row]:
    """Compare named plans of one home: the whole first, then every load that differs.

    Loads treated and served alike by all plans are left out; `alike` lists them.
    """
    rows = [Row(heading, {name: cell(plan) for name, plan in plans.items()})
            for heading, cell in WHOLE]
    rows += [row for row in _load_rows(plans) if len(set(row.cells.values())) > 1]
    columns: list[Column[Row]] = [text("what", "", lambda row: row.heading)]
    columns += [text(name, name, _cell_of(name)) for name in plans]
    return Table("Side by side", tuple(columns), rows)


def named_plans(found: Comparison) -> dict[str, Plan]:
    """Name the plans of a comparison by their generators, with the id where labels are the same."""
    labels = [plan.supply.generator.label for plan in found.plans.values()]
    plans = {label if labels.count(label) == 1 else f"{label} ({name})": plan
             for label, (name, plan) in zip(labels, found.plans.items(), strict=True)}
    if found.reference:
        plans[f"No load shedding: {found.reference.supply.generator.label}"] = found.reference
    return plans


def told_apart(plans: Sequence[Plan], reference: Plan | None) -> dict[str, Plan]:
    """Name plans by their generators, those of the same one with price and coverage too.

    Plans of one generator that agree in both are one; another set of the same label gets its id.
    """
    labels = [plan.supply.generator.label for plan in plans]
    named: dict[str, Plan] = {}
    for label, plan in zip(labels, plans, strict=True):
        price = words.money(plan.cost_usd, plan.menu.book.currency)
        more = f", {price}, {words.share(plan.coverage)}" if labels.count(label) > 1 else ""
        name, generator = f"{label}{more}", plan.supply.generator.id
        taken = named.get(name)
        if taken is not None and taken.supply.generator.id != generator:
            name = f"{name} ({generator})"
        named[name] = plan
    if reference is not None:
        named[f"No load shedding: {reference.supply.generator.label}"] = reference
    return named


def alike(plans: Mapping[str, Plan]) -> tuple[str, ...]:
    """Labels of the loads that all plans treat and serve alike."""
    return tuple(row.heading for row in _load_rows(plans) if len(set(row.cells.values())) == 1)


def _load_rows(plans: Mapping[str, Plan]) -> list[Row]:
    first = next(iter(plans.values()))
    return [Row(part.label, {name: _treatment(plan.load(part.id)) for name, plan in plans.items()})
            for part in first.loads]


def _treatment(part: LoadPlan) -> str:
    soft = ", soft start" if part.soft_starter else ""
    if part.connection == "off":
        return "off"
    if part.connection == "direct":
        return f"always on{soft}"
    return f"priority {part.priority}{soft}, {words.share(part.service)} served"


def _cell_of(name: str) -> Callable[[Row], str]:
    return lambda row: row.cells[name]


WHOLE: tuple[tuple[str, Callable[[Plan], str]], ...] = (
    ("Installed cost", lambda plan: words.money(plan.cost_usd, plan.menu.book.currency)),
    ("Coverage", lambda plan: words.share(plan.coverage)),
    ("Proof, for its size", lambda plan: words.proof(plan.proof)),
    ("Capacity", lambda plan: f"{words.rating(plan.supply.capacity_kw)} kW"),
    ("Transfer", lambda plan: plan.menu.kind.replace("-", " ")),
)
