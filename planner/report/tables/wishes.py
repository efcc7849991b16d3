"""The table of what each wish costs."""

from __future__ import annotations

from collections.abc import Sequence

from planner.report.comforts.comfort_words import (
    comfort_phrase,
    given_up_phrase,
    promise_words,
)
from planner.report.smaller_words import comfort_label, listed
from planner.report.tables.column import Column, Table, text
from planner.report.words import money, share
from planner.study.recommend import Recommendation
from planner.study.wish_cost import Direction, WishCost, grouped
from planner.study.wishes import WishKind

SAME_USD = 0.5
SAME = "the same"


def how_it_counts(found: Recommendation) -> str:
    """Say what all changes have in common, and what they are priced against."""
    against = held_against(found)
    return (f"With every change everything else is kept as well as {share(found.coverage)} asks "
            "for today, and all that is promised of it. What is given up counts as missing "
            f"nothing.{f' {against}' if against else ''}")


def held_against(found: Recommendation) -> str:
    """Say which plan prices are held against where it is not the recommended one; else empty."""
    if found.cheapest is found.plan:
        return ""
    usd = money(found.cheapest.cost_usd, found.plan.menu.book.currency)
    return (f"Prices are held against the cheapest plan for this house as it is assumed, {usd}, "
            "not against the sturdier one that is recommended.")


def wish_table(costs: Sequence[WishCost]) -> Table[WishCost]:
    """One row per wish that changes the price, the most expensive first; impossible ones last.

    Wishes that are changed the same way at the same price and size share a row, told by the first.
    """
    groups = [group for group in grouped(costs) if not is_free(group[0])]
    others = {id(group[0]): group for group in groups}
    columns: tuple[Column[WishCost], ...] = (
        text("change", "If", lambda cost: any_of([change_words(one) for one in others[id(cost)]])),
        Column("price_change_usd", "Price", price_change_usd, _price, right=True),
        Column("size_change_kw", "Generator", size_change_kw, _generator),
        text("then", "Then", lambda cost: _then(others[id(cost)])),
    )
    return Table("What each wish costs", columns, [group[0] for group in groups])


def any_of(changes: Sequence[str]) -> str:
    """Say several changes of which each does the same: ``a or b``."""
    return listed(changes, "or")


def then_words(cost: WishCost) -> str:
    """Say what the comfort that a wish is about is like with the change."""
    missed = cost.missed
    if missed is None or cost.plan is None:
        return ""
    in_words = (given_up_phrase if cost.wish.kind == "comfort" and cost.direction == "give up"
                else comfort_phrase)
    return in_words(missed, cost.plan.menu.house)


def _then(group: Sequence[WishCost]) -> str:
    """Say the same of several, each by its name."""
    said = [(cost.missed.comfort.label, then_words(cost)) for cost in group if cost.missed]
    if len(group) == 1:
        return said[0][1] if said else ""
    return "; ".join(f"{label}: {words}" for label, words in said if words)


def is_free(cost: WishCost) -> bool:
    """Whether the price stays the same with the wish and without it."""
    return cost.price_usd is not None and abs(cost.price_usd) < SAME_USD


def wish_sentences(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Say of each wish that changes the price what it costs; the same as the table, in words."""
    return tuple(_in_words(group) for group in grouped(costs) if not is_free(group[0]))


def _in_words(group: Sequence[WishCost]) -> str:
    cost, changes = group[0], any_of([change_words(one) for one in group])
    if cost.plan is None:
        return f"{changes}: {_price(cost)}."
    same = _generator(cost) == SAME
    machine = f"with {SAME} generator" if same else f"with the {_generator(cost)}"
    then = then_words(cost) if len(group) == 1 else ""
    return f"{changes}: {_price(cost)}, {machine}{f'; then {then}' if then else ''}."


def free_sentences(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Name the wishes that cost nothing: those that are kept, those that could be added."""
    free = [one for one in costs if is_free(one)]
    whole = {one.wish.about for one in free
             if one.direction == "give up" and one.wish.kind == "comfort"}
    free = [one for one in free if one.direction == "add" or one.wish.kind == "comfort"
            or one.wish.about not in whole]
    kept = [_short(one) for one in free if one.direction == "give up" and one.proven]
    unsure = [_short(one) for one in free if one.direction == "give up" and not one.proven]
    added = [_short(one) for one in free if one.direction == "add" and one.wish.kind != "order"]
    lines = []
    if kept:
        lines.append(f"Nothing would be saved by giving up any one of these: {listed(kept)}.")
    if unsure:
        lines.append("No saving was found by giving up any one of these, which is no proof that "
                     f"there is none: {listed(unsure)}.")
    if added:
        lines.append(f"Nothing more would be paid for any one of these: {listed(added)}.")
    return tuple(lines)


def change_words(cost: WishCost) -> str:
    """Say one change in a few words."""
    labels = [cost.home.load(load_id).label for load_id in cost.wish.load_ids]
    name, first = comfort_label(cost.home, cost.wish), [*labels, "", ""]
    words: dict[tuple[WishKind, Direction], str] = {
        ("must-run", "give up"): f"{listed(labels)} need not run at all times",
        ("must-run", "add"): f"{first[0]} must run",
        ("promise", "give up"): f"{name} is not promised ({promise_of(cost)})",
        ("promise", "add"): f"{name} is promised: {promise_of(cost)}",
        ("comfort", "give up"): f"{name} is given up",
        ("never-before", "give up"): f"{first[0]} may go ahead of {first[1]}",
        ("order", "add"): "priorities follow importance",
        ("order", "give up"): "priorities need not follow importance",
    }
    return words[cost.wish.kind, cost.direction]


def promise_of(cost: WishCost) -> str:
    """Say the promise that a wish is about, given up or added; empty for another wish."""
    home = cost.home if cost.direction == "add" else cost.before.menu.house.home
    return next((promise_words(one) for one in home.comforts if one.id == cost.wish.comfort), "")


def price_change_usd(cost: WishCost) -> float | None:
    """Change of the installed cost if the wish is changed [USD]; None if there is no plan then.

    What is given up never costs more, and what is added never saves.
    """
    price_usd = cost.price_usd
    if price_usd is None:
        return None
    return (price_usd if cost.direction == "add" else -price_usd) + 0.0


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
        case "must-run":
            return f"{labels[0]} (must run)"
        case "promise":
            return f"{comfort_label(cost.home, cost.wish)} ({promise_of(cost)})"
        case "comfort":
            return comfort_label(cost.home, cost.wish)


def _price(cost: WishCost) -> str:
    change_usd = price_change_usd(cost)
    if change_usd is None:
        return "not possible" if cost.proven else "none found"
    more = "more" if change_usd > 0.0 else "less"
    bound = "" if cost.proven else "at most " if change_usd > 0.0 else "at least "
    return f"{bound}{money(abs(change_usd), cost.before.menu.book.currency)} {more}"


def _generator(cost: WishCost) -> str:
    if cost.plan is None:
        return ""
    label = cost.plan.supply.generator.label
    return SAME if label == cost.before.supply.generator.label else label
