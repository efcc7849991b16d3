"""For the family, without a word of the trade: what each wish costs, what the price leaves out."""

from __future__ import annotations

from collections.abc import Sequence

from planner.plan.plan import Plan
from planner.plan.site.lacking import lacking
from planner.report.comforts.family_comforts import MUST, matters
from planner.report.smaller_words import comfort_label, listed
from planner.report.tables.wishes import is_free, price_change_usd, promise_of
from planner.report.words import money
from planner.study.picks import PickName
from planner.study.wish_cost import Direction, WishCost, grouped
from planner.study.wishes import WishKind

PICKED: dict[PickName, str] = {
    "least": "The lowest price", "goal": "Recommended", "knee": "Good value",
    "most": "The most comfort", "nothing shed": "Everything at once",
}

HOW_WISHES_ARE_PRICED = (
    "Each price leaves everything else as well kept as you asked for. A choice that you click may "
    "cost less than its price here, where other things then wait longer.")


def price_of_wishes(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Say what each wish would save or cost, the most expensive first; equal ones in one line."""
    asked = [cost for cost in costs if not _tempts(cost)]
    return tuple(_said(group) for group in grouped(asked) if not is_free(group[0]))


def free_wishes(costs: Sequence[WishCost]) -> str:
    """Name what takes turns and could always work for the same price; empty if there is nothing."""
    labels = [comfort_label(cost.home, cost.wish) for cost in costs
              if is_free(cost) and cost.direction == "add" and cost.wish.kind == "must-run"
              and cost.before.load(cost.wish.load_ids[0]).connection == "module"]
    if not labels:
        return ""
    return f"For the same price any one of these could always work: {listed(labels)}."


def not_in_the_price(plan: Plan) -> str:
    """Say what an installed price leaves out: what is not known of the place, and fuel."""
    things = [one.thing for one in lacking(plan.menu.house.home)]
    things += [line.text for line in plan.menu.works.lines if line.usd is None]
    tanks = plan.menu.works.tanks
    things.append("the first fill of the tank" if tanks is not None and tanks.added else "the fuel")
    return f"Not in the price: {listed(things)}."


def _tempts(cost: WishCost) -> bool:
    """Whether it offers to do without something that the family said must always work."""
    home = cost.before.menu.house.home  # with the change it need not
    return (cost.wish.kind == "comfort" and cost.direction == "give up" and any(
        one.id == cost.wish.comfort and matters(home, one) == MUST for one in home.comforts))


def _said(group: Sequence[WishCost]) -> str:
    cost = group[0]
    change_usd, change = price_change_usd(cost), _changes(group)
    if change_usd is None:
        return (f"None of the generators can do it if {change}." if group[0].proven else
                f"No way to do it was found if {change}.")
    currency = cost.before.menu.book.currency
    more = "more" if change_usd > 0.0 else "less"
    bound = "" if cost.proven else "At most " if change_usd > 0.0 else "At least "
    return f"{bound}{money(abs(change_usd), currency)} {more} if {change}."


def _changes(group: Sequence[WishCost]) -> str:
    """Say changes of which each does the same as clauses after "if"; those of a kind in one."""
    alike: dict[str, list[str]] = {}
    for cost in group:
        head, name = _change(cost)
        alike.setdefault(head, []).append(name)
    return ", or if ".join(_clause(head, names) for head, names in alike.items())


def _clause(head: str, names: Sequence[str]) -> str:
    if not any(names):
        return head
    one_of = "one of these" if len(names) > 1 else "this"
    return f"{head.format(one_of)}: {listed(names, 'or')}"


def _change(cost: WishCost) -> tuple[str, str]:
    """Say one change as a clause with a place for "this", and what it is about."""
    labels = [cost.home.load(load_id).label for load_id in cost.wish.load_ids]
    name, first = comfort_label(cost.home, cost.wish), [*labels, "", ""]
    is_room = any(one.id == cost.wish.comfort and one.kind == "room" for one in cost.home.comforts)
    without = "{} may get as hot or cold as it will" if is_room else "you do without {}"
    words: dict[tuple[WishKind, Direction], tuple[str, str]] = {
        ("must-run", "give up"): ("{} need not always work", name),
        ("must-run", "add"): ("{} must always work", name),
        ("promise", "give up"): ("{} need not be so", f"{name} {promise_of(cost)}"),
        ("promise", "add"): ("{} is promised", f"{name} {promise_of(cost)}"),
        ("comfort", "give up"): (without, name),
        ("never-before", "give up"): (f"{first[0]} may go ahead of {first[1]}", ""),
        ("order", "add"): ("what matters more always goes first", ""),
        ("order", "give up"): ("the order need not follow what matters more", ""),
    }
    return words[cost.wish.kind, cost.direction]
