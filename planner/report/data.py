"""Answers as plain data for ``--json``: the same shape per plan wherever a plan is given."""

from __future__ import annotations

from collections.abc import Iterable
from importlib.metadata import version
from math import isfinite

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.model.solver import solver_name
from planner.plan.average import Average, average_of
from planner.plan.binding import Shortfall
from planner.plan.findings import findings_of_plan
from planner.plan.margin import Margin, margin_of
from planner.plan.plan import LoadPlan, Plan
from planner.plan.schema import SCHEMA
from planner.plan.starved import starved
from planner.report.cautions import CAUTIONS, price_notice
from planner.report.comforts.comfort_changes import change_phrase
from planner.report.comforts.comfort_words import day_phrase, hardest_day, promise_words
from planner.report.ended_words import ended_data
from planner.report.findings import finding_data
from planner.search.frontier import Frontier
from planner.search.limits import Stop
from planner.service.house import House
from planner.service.kept import Kept
from planner.study.comfort_changes import ComfortChange
from planner.study.compare import Comparison, Step
from planner.study.recommend import Recommendation

Data = dict[str, object]

ALL_SIZES = "all sizes of the price book"
ITS_SIZE = "plans with the same generator"


def engine() -> str:
    """Name and version of the planner that gave the answer."""
    return f"standby-planner {version('standby-planner')}"


def frontier_data(
    home: Home, book: PriceBook, found: Frontier, stop: Stop | None = None
) -> Data:
    """Give the plans of a frontier by rising cost; `complete` is false if the search was ended."""
    return {**_head(home, book), **_ending(stop), "proof_among": ALL_SIZES,
            "may_be_cheaper": found.may_be_cheaper,
            "points": [plan_data(plan) for plan in found.points], **_tail(book)}


def _ending(stop: Stop | None) -> Data:
    """Say whether the search went its way, else what ended it: a clock, or an interruption."""
    ended = ended_data(stop)
    return {"complete": ended is None, "ended": ended}


def single_data(
    home: Home, book: PriceBook, found: Recommendation, goal: float | None = None, *,
    of_its_size: bool, stop: Stop | None = None,
) -> Data:
    """Give the recommended plan with its home, notice and cautions.

    Its margin is that of the `goal` (0-1), if there is one. `of_its_size` says that bound and
    proof are about plans with its generator only.
    """
    among = ITS_SIZE if of_its_size else ALL_SIZES
    return {**_head(home, book), **_ending(stop), "reached": found.reached,
            "smaller_open": found.smaller_open, "proof_among": among,
            "plan": plan_data(found.plan, goal),
            "cheaper": cheaper_data(found), "confidence": confidence_data(found), **_tail(book)}


def confidence_data(found: Recommendation) -> Data | None:
    """Give in how many houses the recommended plan holds, and the cheaper one that it replaces."""
    if found.confidence is None:
        return None
    frail = None if found.frail is None or found.frail_confidence is None else {
        "plan": plan_data(found.frail), "share": round(found.frail_confidence.share, 4)}
    nearest = None if found.nearest is None or found.nearest_confidence is None else {
        "plan": plan_data(found.nearest), "share": round(found.nearest_confidence.share, 4)}
    return {"share": round(found.confidence.share, 4), "asked": found.asked,
            "houses": found.confidence.houses, "cheaper": frail, "nearest": nearest,
            "verify": [{"label": one.guess.label, "key": one.guess.key, "value": one.guess.value,
                        "share_if_known": round(one.share_if_known, 4)}
                       for one in found.confidence.matters]}


def cheaper_data(found: Recommendation) -> Data | None:
    """Give the cheaper plan that leaves something without power, and what never runs in it."""
    if found.starving is None:
        return None
    return {"plan": plan_data(found.starving),
            "never_run": [part.id for part in starved(found.starving)]}


def comparison_data(
    home: Home, book: PriceBook, found: Comparison, stop: Stop | None = None
) -> Data:
    """Give the plan of each size, what changes between them, the reference that sheds nothing."""
    reference = plan_data(found.reference) if found.reference else None
    return {**_head(home, book), **_ending(stop), "proof_among": ITS_SIZE,
            "plans": {name: plan_data(plan) for name, plan in found.plans.items()},
            "confidence": {name: round(one.share, 4) for name, one in found.confidence.items()},
            "recommended": found.recommended,
            "steps": [_step_data(step, found.plans[step.smaller]) for step in found.steps()],
            "reference": reference, "reference_known": found.reference_known,
            "missing": list(found.missing), "not_found": list(found.not_found),
            "maybe_more": list(found.maybe_more), **_tail(book)}


def _step_data(step: Step, smaller: Plan) -> Data:
    return {"from": step.smaller, "to": step.larger, "more": round(step.more_usd, 2),
            "comforts": changes_data(step.changes, smaller)}


def changes_data(changes: Iterable[ComfortChange], plan: Plan) -> Data:
    """Give what becomes of comforts, in their units, by id; `plan` is one of the home."""
    house = plan.menu.house
    return {one.comfort.id: {
        "before": _finite(one.was), "after": _finite(one.becomes), "unit": one.unit,
        "day": house.home.days[one.day].id, "kept_before": round(one.before.kept, 6),
        "kept_after": round(one.after.kept, 6), "says": change_phrase(one, house)}
        for one in changes}


def _head(home: Home, book: PriceBook) -> Data:
    return {"schema": SCHEMA, "case": home.id, "engine": engine(), "solver": solver_name(),
            "currency": book.currency}


def _tail(book: PriceBook) -> Data:
    return {"notice": price_notice(book), "cautions": list(CAUTIONS)}


def plan_data(plan: Plan, goal: float | None = None) -> Data:
    """Give one plan: cost [USD], coverage and bound (0-1), proof, equipment, comforts, loads."""
    bound = plan.proof.bound
    return {
        "cost": round(plan.cost_usd, 2),
        "coverage": round(plan.coverage, 6),
        "bound": None if bound is None else round(bound, 6),
        "proof": plan.proof.kind,
        "generator": plan.supply.generator.id,
        "capacity_kw": round(plan.supply.capacity_kw, 4),
        "transfer": plan.price.transfer.id,
        "site": plan.menu.works.id,
        "controller": plan.price.controller.id if plan.price.controller else None,
        "calculated_load_va": round(plan.direct_demand.total_va, 1),
        "margin": _margin_data(margin_of(plan, goal)),
        "average": _average_data(average_of(plan)),
        "findings": finding_data(findings_of_plan(plan)),
        "comforts": {kept.comfort.id: _comfort_data(kept, plan.menu.house)
                     for kept in plan.comforts},
        "loads": {part.id: _load_data(part) for part in plan.loads},
        "lines": [{"text": line.text, "quantity": line.quantity, "cost": round(line.usd, 2)}
                  for line in plan.price.lines],
    }


def _comfort_data(kept: Kept, house: House) -> Data:
    """Say how well one comfort is kept, and what it is like on its hardest day and on each."""
    days, hardest = house.home.days, hardest_day(kept, house)
    return {
        "label": kept.comfort.label, "kept": round(kept.kept, 6),
        "worst": _finite(kept.worst[hardest]), "unit": kept.unit, "day": days[hardest].id,
        "says": day_phrase(kept, house, hardest), "importance": kept.comfort.importance,
        "counts": kept.counts, "promise": promise_words(kept.comfort) or None,
        "days": {day.id: {"kept": round(float(kept.by_day[d]), 6),
                          "worst": _finite(kept.worst[d])} for d, day in enumerate(days)},
    }


def _finite(value: float) -> float | None:
    return round(float(value), 6) if isfinite(value) else None


def _margin_data(margin: Margin) -> Data:
    """Say how much all starts and all draws may grow; shares of what they are now."""
    return {name: {
        "holds": round(growth.holds, 6),
        "refused_at": None if growth.refused_at is None else round(growth.refused_at, 6),
        "refusal": growth.refusal or None,
        "coverage_at_tenth": (None if growth.coverage_at_tenth is None
                              else round(growth.coverage_at_tenth, 6)),
        "short": None if growth.short is None else _short_data(growth.short),
    } for name, growth in (("starts", margin.starts), ("draws", margin.draws))}


def _short_data(short: Shortfall) -> Data:
    """Say where the coverage first falls short, and the load that binds with its figures."""
    found = short.binding
    return {"goal": round(short.goal, 6), "holds": round(short.holds, 6), "at": round(short.at, 6),
            "coverage": round(short.coverage, 6), "load": found.label, "kind": found.kind,
            "start_of": found.start_of or None, "need": round(found.need, 4),
            "limit": round(found.limit, 4)}


def _average_data(average: Average) -> Data:
    """Give the highest average load over a day and what is permitted; shares of the rating."""
    return {"day": average.day, "share": round(average.share, 6), "permitted": average.permitted,
            "by_maker": average.by_maker, "kept": average.is_kept}


def _load_data(part: LoadPlan) -> Data:
    return {
        "connection": part.connection,
        "module": part.module,
        "stays_open": part.stays_open,
        "soft_start": part.soft_starter is not None,
        "soft_starter": part.soft_starter,
        "priority": part.priority,
        "service": round(part.service, 6),
        "usual_wait_h": part.usual_wait_h,
        "longest_wait_h": part.longest_wait_h,
    }
