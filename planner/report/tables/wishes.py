"""The table of what each wish costs."""

from __future__ import annotations

from collections.abc import Sequence

from planner.report.smaller_words import listed
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import money, share
from planner.study.wish_cost import WishCost

SAME_USD = 0.5
SAME = "the same"


def how_it_counts(goal: float) -> str:
    """Say what all changes have in common."""
    return (f"With every change as much may be missed, weighted by importance, as a coverage of "
            f"{share(goal)} allows today; what is given up misses nothing.")


def wish_table(costs: Sequence[WishCost]) -> Table[WishCost]:
    """One row per wish that changes the price, the most expensive first; impossible ones last."""
    columns: tuple[Column[WishCost], ...] = (
        text("change", "If", change_words),
        Column("price_change_usd", "Price", price_change_usd, _price, right=True),
        Column("size_change_kw", "Generator", size_change_kw, _generator),
        figure("coverage", "Coverage then",
               lambda cost: cost.plan.coverage if cost.plan else None, share),
    )
    return Table("What each wish costs", columns, [one for one in costs if not is_free(one)])


def is_free(cost: WishCost) -> bool:
    """Whether the price stays the same with the wish and without it."""
    return cost.price_usd is not None and abs(cost.price_usd) < SAME_USD


def wish_sentences(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Say of each wish that changes the price what it costs; the same as the table, in words."""
    return tuple(_in_words(one) for one in costs if not is_free(one))


def _in_words(cost: WishCost) -> str:
    if cost.plan is None:
        return f"{change_words(cost)}: not possible."
    same = _generator(cost) == SAME
    machine = f"with {SAME} generator" if same else f"with the {_generator(cost)}"
    return f"{change_words(cost)}: {_price(cost)}, {machine}, coverage {share(cost.plan.coverage)}."


def free_sentences(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Name the wishes that cost nothing: those that are kept, those that could be added."""
    free = [one for one in costs if is_free(one)]
    kept = [_short(one) for one in free if one.direction == "give up"]
    added = [_short(one) for one in free if one.direction == "add" and one.wish.kind != "order"]
    lines = []
    if kept:
        lines.append(f"Nothing would be saved by giving up any one of these: {listed(kept)}.")
    if added:
        lines.append(f"Nothing more would be paid if any one of these had to run whenever it "
                     f"calls: {listed(added)}.")
    return tuple(lines)


def change_words(cost: WishCost) -> str:
    """Say one change in a few words."""
    labels = [cost.home.load(load_id).label for load_id in cost.wish.load_ids]
    match (cost.wish.kind, cost.direction):
        case ("must-run", "give up"):
            return f"{labels[0]} need not run at all times"
        case ("must-run", "add"):
            return f"{labels[0]} must run"
        case ("comfort", _):
            return f"{labels[0]} is given up"
        case ("never-before", _):
            return f"{labels[0]} may go ahead of {labels[1]}"
        case ("order", "add"):
            return "priorities follow importance"
        case _:
            return "priorities need not follow importance"


def price_change_usd(cost: WishCost) -> float | None:
    """Change of the installed cost if the wish is changed [USD]; None if there is no plan then."""
    return cost.plan.cost_usd - cost.before.cost_usd if cost.plan else None


def size_change_kw(cost: WishCost) -> float | None:
    """Change of the generator's derated rating [kW]; None if there is no plan then."""
    if cost.plan is None:
        return None
    return cost.plan.supply.derated_kw - cost.before.supply.derated_kw


def _short(cost: WishCost) -> str:
    labels = [cost.home.load(load_id).label for load_id in cost.wish.load_ids]
    match cost.wish.kind:
        case "order":
            return "the order of importance"
        case "never-before":
            return f"{labels[0]} never ahead of {labels[1]}"
        case "must-run" if cost.direction == "give up":
            return f"{labels[0]} (must run)"
        case _:
            return labels[0]


def _price(cost: WishCost) -> str:
    change_usd = price_change_usd(cost)
    if change_usd is None:
        return "not possible"
    more = "more" if change_usd > 0.0 else "less"
    return f"{money(abs(change_usd), cost.before.menu.book.currency)} {more}"


def _generator(cost: WishCost) -> str:
    if cost.plan is None:
        return ""
    label = cost.plan.supply.generator.label
    return SAME if label == cost.before.supply.generator.label else label
