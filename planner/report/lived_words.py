"""What a family lives through of a comfort in simulated outages, in words."""

from __future__ import annotations

from math import isnan

from planner.facts.comfort import Comfort, Promise
from planner.report.words import beyond, number
from planner.simulation.comforts import ComfortDay, ComfortResult
from planner.simulation.results import Results

LEAST = 0.05  # of a shower, an hour, a task a day: less is said as none (a choice)
ROUNDED_DEGF = 1.0  # a promise about a room is held within (a choice)
ROUNDED_MILES = 0.05  # a promise about a car, as a share (a choice)


def worst_words(comfort: Comfort, value: float, beside: float, *, cooled: bool) -> str:
    """Say the worst of a comfort: ``warmest 79 degF``, ``1.3 cold showers a day``.

    Parameters
    ----------
    comfort : Comfort
        Which one.
    value : float
        In its unit (`planner.service.kept`); NaN where it is not used.
    beside : float
        What stands beside it (`planner.simulation.losses`).
    cooled : bool
        Of a room: whether it is cooled or heated.
    """
    if isnan(value):
        return "not used"
    if comfort.kind == "room":
        return f"{'warmest' if cooled else 'coldest'} {value:.0f} degF"
    if comfort.kind == "car":
        return f"{value:.0f} miles when it leaves, {beside:.0f} wanted"
    none, some = WORDS[comfort.kind]
    if value < LEAST:
        return none
    return some.format(value=number(value).removesuffix(".0"),
                       beside=number(beside).removesuffix(".0"))


WORDS = {
    "hot water": ("no cold shower", "{value} cold showers a day"),
    "meals": ("no meal cut", "{value} of {beside} meals a day cut"),
    "task": ("none lost", "{value} of {beside} a day lost"),
    "food": ("safe", "lost"),
    "running water": ("taps never dry", "taps dry {value} h a day"),
    "pit": ("never overflows", "overflows"),
    "clock": ("never dark", "dark {value} h a day"),
}
"""Of every other kind of comfort: nothing to say, and the worst."""


def promise_sentences(results: Results) -> list[str]:
    """Name the promises that some outage did not keep, as far as the utility keeps them."""
    found = [said for one in results.comforts() for day in one.days
             if (said := _broken(results, one, day))]
    return [f"Promises that an outage did not keep: {'; '.join(found)}."] if found else []


def _broken(results: Results, one: ComfortResult, day: ComfortDay) -> str:
    promise = one.comfort.promise
    if promise is None or isnan(day.worst):
        return ""
    limit = limit_of(one.comfort, promise, day)
    if limit is None:
        return ""
    sign = -1.0 if one.comfort.kind == "car" or (one.comfort.kind == "room" and not day.cooled) \
        else 1.0
    held = max(sign * limit, sign * day.utility)
    slack = {"room": ROUNDED_DEGF, "car": ROUNDED_MILES * abs(limit)}.get(one.comfort.kind, LEAST)
    if sign * day.worst <= held + slack:
        return ""
    c = [each.comfort.id for each in results.plan.comforts].index(one.id)
    played = [each.comforts[c] for each in results.summaries if each.day == day.day]
    times = sum(sign * each.worst > max(sign * limit, sign * each.utility_worst) + slack
                for each in played)
    worst = (f"{beyond(day.worst, limit)} degF" if one.comfort.kind == "room" else
             worst_words(one.comfort, day.worst, day.beside, cooled=day.cooled))
    return f"{one.label}, {day.label}: {worst}, in {times} of {len(played)} outages"


def limit_of(comfort: Comfort, promise: Promise, day: ComfortDay) -> float | None:
    """Give the promised worst of a comfort in its unit; None where nothing is promised of it."""
    if comfort.kind == "room":
        return promise.warmest_degf if day.cooled else promise.coldest_degf
    if comfort.kind == "car":
        return promise.miles if promise.by_h is None else None
    if comfort.kind == "hot water":
        return promise.cold_showers
    if comfort.kind in {"meals", "task"}:
        return 0.0 if promise.uncut else None
    return 0.0 if promise.safe else None
