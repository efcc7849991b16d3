"""What a family lives through of a comfort in simulated outages, in the words of the plan."""

from __future__ import annotations

from dataclasses import replace
from math import isnan

import numpy as np

from planner.report.comforts.comfort_words import AS_UTILITY, NO_USE, PHRASES, miles_phrase
from planner.report.comforts.promise_words import promise_words
from planner.report.words import beyond
from planner.service.house import House
from planner.service.kept import Kept
from planner.simulation.comforts import ComfortDay, ComfortResult
from planner.simulation.outcome.promises import LEAST, is_broken, judged, limit_of
from planner.simulation.outcome.results import Results
from planner.tolerances import floored


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
    limit = limit_of(one.comfort, cooled=day.cooled)
    if limit is None or isnan(day.worst):
        return ""
    place = results.plan.comforts.index(said)
    played = [each.comforts[place] for each in results.summaries if each.day == day.day]
    times = sum(is_broken(one.comfort, each) for each in played)
    if not times:
        return ""
    promise, kind = one.comfort.promise, one.comfort.kind
    if kind == "car" and promise is not None and promise.by_h is not None:
        fewest = floored(min(judged(one.comfort, each)[0] for each in played), 1.0)
        worst = f"{fewest:.0f} of {promise_words(one.comfort)}"
    else:
        worst = (f"{beyond(day.worst, limit)} degF" if kind == "room"
                 else lived_phrase(one, day, said, results.plan.menu.house))
    return f"{one.label}, {day.label}: {worst}, in {times} of {len(played)} outages"
