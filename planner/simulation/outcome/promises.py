"""Whether an outage keeps what is promised of a comfort, as far as the utility keeps it."""

from __future__ import annotations

from math import isnan

from planner.facts.comfort import WITHIN_DEGF, WITHIN_MILES, Comfort
from planner.simulation.outcome.losses import ComfortOutage

LEAST = 0.05  # of a shower, an hour, a task a day: less is none (a choice)


def is_broken(comfort: Comfort, one: ComfortOutage) -> bool:
    """Whether the worst of an outage is beyond the promise and beyond the worst with the utility.

    A room may be `WITHIN_DEGF` beyond, a car `WITHIN_MILES` of its miles short; of anything else
    less than `LEAST` is none.
    """
    limit = limit_of(comfort, cooled=one.cooled)
    if limit is None or isnan(one.worst):
        return False
    lived, utility = judged(comfort, one)
    kind = comfort.kind
    sign = -1.0 if kind == "car" or (kind == "room" and not one.cooled) else 1.0
    slack = {"room": WITHIN_DEGF, "car": WITHIN_MILES * limit}.get(kind, LEAST)
    return sign * lived > max(sign * limit, sign * utility) + slack


def judged(comfort: Comfort, one: ComfortOutage) -> tuple[float, float]:
    """Give what a promise is about, in the outage and with the utility: miles at an hour, worst."""
    by_hour = (comfort.kind == "car" and comfort.promise is not None
               and comfort.promise.by_h is not None)
    return (one.by_hour, one.utility_by_hour) if by_hour else (one.worst, one.utility_worst)


def limit_of(comfort: Comfort, *, cooled: bool) -> float | None:
    """Give the promised worst of a comfort in its unit; None where nothing is promised of it."""
    promise = comfort.promise
    if promise is None:
        return None
    if comfort.kind == "room":
        return promise.warmest_degf if cooled else promise.coldest_degf
    if comfort.kind == "car":
        return promise.miles
    if comfort.kind == "hot water":
        return promise.cold_showers
    if comfort.kind in {"meals", "task"}:
        return 0.0 if promise.uncut else None
    return 0.0 if promise.safe else None
