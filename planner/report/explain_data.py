"""An explanation as plain data for ``--json``."""

from __future__ import annotations

from dataclasses import fields

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.report.data import Data, changes_data, single_data
from planner.report.order_words import order_sentences
from planner.report.smaller_words import smaller_sentences
from planner.report.tables.verify import doubt_data
from planner.report.tables.wishes import (
    change_words,
    price_change_usd,
    size_change_kw,
    then_words,
)
from planner.search.limits import Stop
from planner.study.explain import Explanation
from planner.study.order_reasons import OrderReasons
from planner.study.why_smaller import SmallerSize
from planner.study.why_smaller.remedies import Remedy
from planner.study.why_smaller.waiting import Waiting
from planner.study.wish_cost import WishCost
from planner.study.wishes import Wish


def explanation_data(
    home: Home, book: PriceBook, found: Explanation, stop: Stop | None = None
) -> Data:
    """Give the recommended plan and everything that is said about it, with numbers and words."""
    plan, goal = found.plan, found.coverage
    return {
        **single_data(home, book, found.recommended, of_its_size=False, stop=stop),
        "goal": goal,
        "smaller": [_smaller_data(size, plan, goal) for size in found.smaller],
        "wishes": [_wish_cost_data(cost, plan) for cost in found.wishes],
        "order": order_data(plan, found.order, goal, found.recommended.cheapest),
        "verify": [doubt_data(doubt) for doubt in found.verify],
    }


def order_data(
    plan: Plan, order: OrderReasons, goal: float, cheapest: Plan | None = None
) -> Data:
    """Give every swap of neighbours, the other rule, and the sentences."""
    other = order.other
    return {
        "swaps": [{"load": swap.load.id, "behind": swap.behind.id, "kind": swap.kind,
                   "service": round(swap.load.service, 6), "service_then": round(swap.load_then, 6),
                   "behind_service": round(swap.behind.service, 6),
                   "behind_service_then": round(swap.behind_then, 6),
                   "coverage_then": round(swap.coverage_then, 6), "why": swap.why or None,
                   "comforts": changes_data(swap.changes, plan)} for swap in order.swaps],
        "other_rule": None if other is None else {
            "rule": "importance" if other.by_importance else "free",
            "same_equipment_coverage": _rounded(other.same_equipment), "proven": other.proven,
            **_brief(other.plan)},
        "sentences": list(order_sentences(plan, order, goal, cheapest)),
    }


def _smaller_data(size: SmallerSize, plan: Plan, goal: float) -> Data:
    conflict, binding = size.conflict, size.binding
    return {
        "generator": size.generator.id,
        "derated_kw": round(size.derated_kw, 4),
        "proven": size.proven,
        "enough": _brief(size.enough) if size.enough else None,
        "most": _brief(size.most) if size.most else None,
        "conflict": None if conflict is None else [_wish_data(wish) for wish in conflict.wishes],
        "limits_together": None if binding is None else binding.together,
        "patience_helps": None if binding is None else binding.patience_helps,
        "limits": [] if binding is None else [
            {"limit": one.key, "unit": one.unit, "given": round(one.given, 4),
             "needed": round(one.needed, 4)} for one in binding.shortages],
        "promises": [] if binding is None else [
            {"comfort": one.comfort, "day": one.day, "promised": round(one.promised, 4),
             "reached": round(one.reached, 4), "unit": one.unit} for one in binding.promises],
        "waiting": [_waiting_data(one) for one in size.waiting],
        "remedies": [_remedy_data(one) for one in size.remedies],
        "sentences": list(smaller_sentences(size, plan, goal)),
    }


def _waiting_data(one: Waiting) -> Data:
    names = [field.name for field in fields(one) if field.name != "comfort"]
    return {**{name: getattr(one, name) for name in names}, "comfort": one.comfort.comfort.id,
            "kept": round(one.comfort.kept, 6)}


def _wish_cost_data(cost: WishCost, plan: Plan) -> Data:
    return {**_wish_data(cost.wish), "direction": cost.direction, "change": change_words(cost),
            "price_change": _rounded(price_change_usd(cost)),
            "size_change_kw": _rounded(size_change_kw(cost)), "proven": cost.proven,
            **_brief(cost.plan),
            "then": then_words(cost), "comforts": changes_data(cost.changes, plan)}


def _wish_data(wish: Wish) -> Data:
    return {"kind": wish.kind, "loads": list(wish.load_ids), "comfort": wish.comfort or None}


def _remedy_data(remedy: Remedy) -> Data:
    return {"kind": remedy.kind, "loads": list(remedy.load_ids), "comfort": remedy.comfort or None,
            "before": remedy.before,
            "after": remedy.after, **_brief(remedy.plan)}


def _brief(plan: Plan | None) -> Data:
    if plan is None:
        return {"cost": None, "coverage": None, "generator": None}
    return {"cost": round(plan.cost_usd, 2), "coverage": round(plan.coverage, 6),
            "generator": plan.supply.generator.id}


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 6)
