"""What a search left open is hoped less of, by the relaxed model of its size."""

from __future__ import annotations

from planner.progress import OnProgress
from planner.search.limits import Stopped
from planner.search.points import Open
from planner.search.rising import Rising
from planner.tolerances import SAME_USD

EACH = 60_000
"""Prefixes that the limits allow for which one size is relaxed: a second or two (measured)."""


def tighten(rising: Rising, tick: OnProgress) -> None:
    """Lower what is hoped for of sizes that were not decided, if they are few.

    For less than the next point costs a plan may cover less than at any price.
    """
    problems = list({id(one.problem): one.problem for one in sorted(
        rising.opened, key=lambda one: one.usd)}.values())
    if rising.limits.is_stopped or len(problems) > max(1, rising.limits.all_nodes // EACH):
        return
    stop = rising.limits.stop
    heard = tick if stop is None else stop.watched(tick)
    try:
        for problem in problems:
            heard(0.0)
            most = rising.relaxed(problem).most(rising.below_usd)
            rising.opened = [one if one.problem is not problem else one._replace(
                hope=min(one.hope, most)) for one in rising.opened]
        for point in rising.points:
            if rising.goal is None and rising.may_be_better(point):
                _tighten_at(rising, point.usd, heard)
    except Stopped:
        return


def _tighten_at(rising: Rising, usd: float, heard: OnProgress) -> None:
    """Lower what is hoped for between the price of a point and that of the next."""
    next_usd = min((one.usd for one in rising.points if one.usd > usd),
                   default=float("inf")) - SAME_USD
    found: list[Open] = []
    for one in rising.opened:
        if one.usd >= next_usd or next_usd == float("inf"):
            found.append(one)
            continue
        heard(0.0)
        most = rising.relaxed(one.problem).most(next_usd)  # what costs as much is the next point's
        found += [one._replace(hope=min(one.hope, most)), one._replace(usd=max(one.usd, next_usd))]
    rising.opened = found
