"""Plans side by side, comfort by comfort, then load by load: what changes from one to the next."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from planner.plan.plan import LoadPlan, Plan
from planner.report import words
from planner.report.comforts.comfort_words import is_used
from planner.report.comforts.missed_words import told
from planner.report.tables.column import Column, Table, text
from planner.report.tables.plan import treatment
from planner.study.compare import Comparison
from planner.study.confidence import Confidence

HOLDS_IN = "Holds in, of houses like this"
AFTER_KEPT = 2  # rows of the whole above it: what it costs, what it keeps


@dataclass(frozen=True, slots=True)
class Row:
    """One line of a comparison: what is compared, and its cell for every plan by name.

    `about` is the id of a comfort.
    """

    heading: str
    cells: Mapping[str, str]
    about: str = ""


def comparison_table(
    plans: Mapping[str, Plan], confidence: Mapping[str, Confidence] | None = None
) -> Table[Row]:
    """Compare named plans of one home: the whole, every comfort, every load that differs.

    Comforts that are the same in all plans are left out, `alike` lists them; so are loads that all
    plans treat alike. `confidence` has the names of the plans of which it is known.
    """
    rows = [Row(heading, {name: cell(plan) for name, plan in plans.items()})
            for heading, cell in WHOLE]
    if confidence:
        rows.insert(AFTER_KEPT, Row(HOLDS_IN, {
            name: f"{confidence[name].of_100} of 100" if name in confidence else ""
            for name in plans}))
    rows += [row for row in _comfort_rows(plans) if _differs(row)]
    rows += [row for row in _load_rows(plans) if _differs(row)]
    columns: list[Column[Row]] = [text("what", "", lambda row: row.heading)]
    columns += [text(name, name, _cell_of(name)) for name in plans]
    return Table("Side by side", tuple(columns), rows)


def comforts_compared(plans: Mapping[str, Plan]) -> Table[Row]:
    """Compare named plans of one home by what a family notices: the price, comforts that differ."""
    rows = [Row(heading, {name: cell(plan) for name, plan in plans.items()})
            for heading, cell in WHOLE[:1]]
    rows += [row for row in _comfort_rows(plans) if _differs(row)]
    columns: list[Column[Row]] = [text("what", "", lambda row: row.heading)]
    columns += [text(name, name, _cell_of(name)) for name in plans]
    return Table("Comfort by comfort", tuple(columns), rows)


def named_confidence(found: Comparison) -> dict[str, Confidence]:
    """Give in how many houses each plan holds, by its name in the table."""
    ids = {plan.supply.generator.id: name for name, plan in named_plans(found).items()
           if plan is not found.reference}
    return {ids[one]: confidence for one, confidence in found.confidence.items()}


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
    """Labels of the comforts that are the same in all plans."""
    first = next(iter(plans.values()))
    rows = _comfort_rows(plans)
    return tuple(kept.comfort.label for kept in first.comforts if not any(
        _differs(row) for row in rows if row.about == kept.comfort.id))


def _differs(row: Row) -> bool:
    return len(set(row.cells.values())) > 1


def _comfort_rows(plans: Mapping[str, Plan]) -> list[Row]:
    """Each comfort on the day on which the plans differ most; of a room one for each season."""
    first = next(iter(plans.values()))
    house, found = first.menu.house, []
    for c, kept in enumerate(first.comforts):
        days = [day for day in range(len(house.weights)) if is_used(kept, house, day)]
        for cooling in (True, False):
            mine = [day for day in days if house.nature.levels[c][day].cooling == cooling]
            if mine:
                found.append(_comfort_row(plans, c, max(
                    mine, key=lambda day: _spread(plans, c, day))))
    return found


def _comfort_row(plans: Mapping[str, Plan], c: int, day: int) -> Row:
    house = next(iter(plans.values())).menu.house
    comfort = house.home.comforts[c]
    return Row(f"{comfort.label}, {house.home.days[day].label}", {
        name: told(plan.comforts[c], plan, day) for name, plan in plans.items()}, comfort.id)


def _spread(plans: Mapping[str, Plan], c: int, day: int) -> tuple[float, float]:
    kept = [float(plan.comforts[c].by_day[day]) for plan in plans.values()]
    behind = [float(plan.comforts[c].measured[day]) for plan in plans.values()]
    return max(kept) - min(kept), max(behind) - min(behind)


def _load_rows(plans: Mapping[str, Plan]) -> list[Row]:
    first = next(iter(plans.values()))
    return [Row(part.label, {
        name: _treatment(plan, plan.load(part.id)) for name, plan in plans.items()})
            for part in first.loads]


def _treatment(plan: Plan, part: LoadPlan) -> str:
    soft = ", soft start" if part.soft_starter else ""
    if part.connection == "module":
        return f"priority {part.priority}{soft}"
    return f"{treatment(plan, part)}{soft}"


def _cell_of(name: str) -> Callable[[Row], str]:
    return lambda row: row.cells[name]


WHOLE: tuple[tuple[str, Callable[[Plan], str]], ...] = (
    ("Installed cost", lambda plan: words.money(plan.cost_usd, plan.menu.book.currency)),
    ("Kept, by importance", lambda plan: words.share(plan.coverage)),
    ("Proof, for its size", lambda plan: words.proof(plan.proof)),
    ("Capacity", lambda plan: f"{words.rating(plan.supply.capacity_kw)} kW"),
    ("Transfer", lambda plan: plan.menu.kind.replace("-", " ")),
)
