"""A simulated outage as plain data for ``--json``."""

from __future__ import annotations

import math

from planner.plan.generator_lines import to_verify_of_generator
from planner.report.cautions import CAUTIONS, price_notice
from planner.report.data import Data, engine, plan_data
from planner.report.findings import finding_data
from planner.report.tables.outage import equipment_table
from planner.report.tables.settings import settings_table
from planner.report.verdict import certainty, verdict_sentences
from planner.simulation.comforts import ComfortDay, ComfortResult
from planner.simulation.outcome.agreement import agreement_of
from planner.simulation.outcome.mean import Mean
from planner.simulation.outcome.results import LoadResult, Results
from planner.simulation.rooms import RoomResult
from planner.simulation.settings import Settings
from planner.wiring.rooms import rooms_of


def outage_data(results: Results, settings: Settings, *, complete: bool,
                log: tuple[str, ...] | None, fault: bool = False) -> Data:
    """Give the plan, planned and simulated coverage, comforts, loads, equipment, settings."""
    gap = agreement_of(results).coverage
    menu = results.plan.menu
    data: Data = {
        "case": menu.house.home.id, "engine": engine(), "currency": menu.book.currency,
        "complete": complete, "hours": results.hours, "seeds": results.seeds,
        "coverage": {"planned": round(gap.planned, 6), "simulated": _mean(gap.simulated),
                     "difference": round(gap.difference, 6)},
        "comforts": {one.id: _comfort(one) for one in results.comforts()},
        "loads": {one.id: _load(one) for one in results.loads()},
        "rooms": _rooms(results),
        "generator": {line.key: _finite(line.value) for line in equipment_table(results).items},
        "settings": {line.key: line.value for line in
                     settings_table(results.plan, settings).items},
        "certainty": certainty(results), "verdict": verdict_sentences(results, fault=fault),
        "plan": plan_data(results.plan),
        "findings": finding_data(to_verify_of_generator(results.plan)),
        "notice": price_notice(menu.book), "cautions": list(CAUTIONS),
    }
    if log is not None:
        data["log"] = list(log)
    return data


def _mean(mean: Mean) -> Data:
    return {"mean": _finite(mean.value), "half_of_95": _finite(mean.half)}


def _comfort(one: ComfortResult) -> Data:
    """Give how well a comfort is kept, and the worst of every design day in its unit."""
    hardest = one.hardest
    return {
        "label": one.label, "kind": one.comfort.kind, "importance": one.comfort.importance,
        "counts": one.counts, "unit": one.unit, "planned": round(one.planned, 6),
        "kept": _mean(one.kept), "day": hardest.day if hardest else None,
        "worst": _finite(hardest.worst) if hardest else None,
        "days": {day.day: _comfort_day(day) for day in one.days},
    }


def _comfort_day(one: ComfortDay) -> Data:
    return {
        "kept": _finite(one.kept), "planned_kept": _finite(one.planned_kept),
        "worst": _finite(one.worst), "usual": _finite(one.usual),
        "with_utility": _finite(one.utility), "planned": _finite(one.planned),
    }


def _load(one: LoadResult) -> Data:
    return {
        "planned": round(one.planned, 6), "service": _mean(one.service),
        "kwh_per_day": _finite(one.kwh), "wanted_kwh_per_day": _finite(one.wanted_kwh),
        "run_h_per_day": _finite(one.run_h), "wanted_h_per_day": _finite(one.wanted_h),
        "waits_per_day": _finite(one.waits), "late_per_day": _finite(one.late),
        "usual_wait_h": _finite(one.usual_wait_h),
        "longest_wait_h": _finite(one.longest_wait_h), "missed_per_day": _finite(one.missed),
        "sheds_per_day": _finite(one.sheds), "degree_h_per_day": _finite(one.degree_h),
        "coldest_draw_degf": _finite(one.coldest_draw_degf),
        "warmest_food_degf": _finite(one.warmest_food_degf),
    }


def _rooms(results: Results) -> Data:
    """Give by room what serves it, and by design day its temperatures."""
    found: Data = {}
    for room in rooms_of(results.plan.menu.house.home):
        days = {one.day: _room(one) for one in results.rooms() if one.id == room.id}
        if days:
            found[room.id] = {"label": room.label, "loads": list(room.loads), "days": days}
    return found


def _room(one: RoomResult) -> Data:
    return {
        "season": "cooled" if one.cooled else "heated", "set_degf": _finite(one.set_degf),
        "worst_degf": _finite(one.worst_degf), "with_utility_degf": _finite(one.utility_degf),
        "degree_h_per_day": _finite(one.degree_h), "unlivable_h_per_day": _finite(one.unlivable_h),
    }


def _finite(value: float | None) -> float | None:
    return round(value, 6) if value is not None and math.isfinite(value) else None
