"""What a family lives through of a comfort in simulated outages, in the words of the plan."""

from __future__ import annotations

from dataclasses import replace
from math import isnan

import numpy as np

from planner.facts.comfort import Comfort, Promise
from planner.report.comforts.comfort_words import AS_UTILITY, NO_USE, PHRASES, miles_phrase
from planner.report.comforts.promise_words import promise_words
from planner.report.words import beyond
from planner.service.house import House
from planner.service.kept import Kept
from planner.simulation.comforts import ComfortDay, ComfortResult
from planner.simulation.outcome.results import Results
from planner.tolerances import floored

LEAST = 0.05  # of a shower, an hour, a task a day: less is said as none (a choice)
ROUNDED_DEGF = 1.0  # a promise about a room is held within (a choice)
ROUNDED_MILES = 0.05  # a promise about a car, as a share (a choice)


def lived_phrase(one: ComfortResult, day: ComfortDay, said: Kept, house: House) -> str:
    """Say the worst of a comfort on a design day: ``no warmer than 79 degF``.

    Parameters
    ----------
    one : ComfortResult
        The comfort over many outages.
    day : ComfortDay
        One of its days.
    said : Kept
        What the plan says of the comfort.
    house : House
        The home as arrays.
    """
    if isnan(day.worst):
        return NO_USE
    place = [each.id for each in house.home.days].index(day.day)
    worst, kind = day.worst, one.comfort.kind
    if kind not in {"room", "car"} and worst < LEAST:
        worst = 0.0
    missed = worst > 0.0 if kind not in {"room", "car"} else day.kept < 1.0
    in_words = miles_phrase if kind == "car" and missed else PHRASES[kind]
    phrase = in_words(
        replace(said, worst=np.where(np.arange(len(said.worst)) == place, worst, said.worst)),
        house, place)
    return f"{phrase}{AS_UTILITY}" if missed and abs(worst - day.utility) < LEAST else phrase


def promise_sentences(results: Results) -> list[str]:
    """Name the promises that some outage did not keep, as far as the utility keeps them."""
    found = [broken for one, said in zip(results.comforts(), results.plan.comforts, strict=True)
             for day in one.days if (broken := _broken(results, one, day, said))]
    return [f"Promises that an outage did not keep: {'; '.join(found)}."] if found else []


def _broken(results: Results, one: ComfortResult, day: ComfortDay, said: Kept) -> str:
    promise = one.comfort.promise
    limit = None if promise is None else limit_of(one.comfort, promise, day)
    if limit is None or isnan(day.worst):
        return ""
    kind = one.comfort.kind
    sign = -1.0 if kind == "car" or (kind == "room" and not day.cooled) else 1.0
    slack = {"room": ROUNDED_DEGF, "car": ROUNDED_MILES * limit}.get(kind, LEAST)
    place = results.plan.comforts.index(said)
    played = [each.comforts[place] for each in results.summaries if each.day == day.day]
    by_hour = kind == "car" and promise is not None and promise.by_h is not None
    lived = [(each.by_hour, each.utility_by_hour) if by_hour else (each.worst, each.utility_worst)
             for each in played]
    times = sum(sign * value > max(sign * limit, sign * utility) + slack
                for value, utility in lived)
    if not times:
        return ""
    if by_hour:
        fewest = floored(min(value for value, _ in lived), 1.0)
        worst = f"{fewest:.0f} of {promise_words(one.comfort)}"
    else:
        worst = (f"{beyond(day.worst, limit)} degF" if kind == "room"
                 else lived_phrase(one, day, said, results.plan.menu.house))
    return f"{one.label}, {day.label}: {worst}, in {times} of {len(played)} outages"


def limit_of(comfort: Comfort, promise: Promise, day: ComfortDay) -> float | None:
    """Give the promised worst of a comfort in its unit; None where nothing is promised of it."""
    if comfort.kind == "room":
        return promise.warmest_degf if day.cooled else promise.coldest_degf
    if comfort.kind == "car":
        return promise.miles
    if comfort.kind == "hot water":
        return promise.cold_showers
    if comfort.kind in {"meals", "task"}:
        return 0.0 if promise.uncut else None
    return 0.0 if promise.safe else None
