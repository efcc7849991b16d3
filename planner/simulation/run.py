"""Many seeds on every design day, several at a time."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from os import cpu_count

from planner.facts.home import DesignDay
from planner.plan.plan import Plan
from planner.simulation.faults import NO_FAULT, Fault
from planner.simulation.outage import simulate
from planner.simulation.settings import Settings
from planner.simulation.summary import Summary, summary_of


def outages(
    plan: Plan, *, seeds: int, hours: float = 24.0, start_h: float = 0.0,
    settings: Settings | None = None, fault: Fault = NO_FAULT, workers: int | None = None,
) -> Iterator[Summary]:
    """Play seeds 0 to `seeds` − 1, each on every design day, and yield them in that order.

    The compiled loop lets other threads work, so they share one process. Whoever stops taking
    stops the work.

    Parameters
    ----------
    plan : Plan
        What is played.
    seeds : int
        How many.
    hours, start_h, settings, fault
        As for `planner.simulation.outage.simulate`.
    workers : int, optional
        Outages at a time; as many as there are processors if not given.
    """
    jobs = ((day, seed) for seed in range(seeds) for day in plan.menu.house.home.days)

    def one(day: DesignDay, seed: int) -> Summary:
        return summary_of(simulate(plan, day, seed, hours=hours, start_h=start_h,
                                   settings=settings, fault=fault))

    threads = workers or cpu_count() or 1
    pool = ThreadPoolExecutor(threads)
    ahead: deque[Future[Summary]] = deque()
    try:
        for day, seed in jobs:
            ahead.append(pool.submit(one, day, seed))
            if len(ahead) > 2 * threads:
                yield ahead.popleft().result()
        while ahead:
            yield ahead.popleft().result()
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
