"""Many seeds on every design day, several at a time."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from concurrent.futures import Future, ThreadPoolExecutor, wait
from os import cpu_count

from planner.facts.home import DesignDay
from planner.plan.plan import Plan
from planner.progress import LOOK_S, OnProgress, unheard
from planner.simulation.faults import NO_FAULT, Fault
from planner.simulation.outage import simulate
from planner.simulation.outcome.summary import Summary, summary_of
from planner.simulation.settings import Settings


def outages(
    plan: Plan, *, seeds: int, hours: float = 24.0, start_h: float = 0.0,
    settings: Settings | None = None, fault: Fault = NO_FAULT, workers: int | None = None,
    tick: OnProgress = unheard,
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
    tick : callable, optional
        Told the share done, 0-1, while an outage is waited for, too; what it raises ends the work.
    """
    jobs = [(day, seed) for seed in range(seeds) for day in plan.menu.house.home.days]
    done = 0

    def one(day: DesignDay, seed: int) -> Summary:
        return summary_of(simulate(plan, day, seed, hours=hours, start_h=start_h,
                                   settings=settings, fault=fault))

    def first_of(ahead: deque[Future[Summary]]) -> Summary:
        nonlocal done
        while wait([ahead[0]], LOOK_S).not_done:
            tick(done / len(jobs))
        done += 1
        tick(done / len(jobs))
        return ahead.popleft().result()

    threads = workers or cpu_count() or 1
    pool = ThreadPoolExecutor(threads)
    ahead: deque[Future[Summary]] = deque()
    try:
        for day, seed in jobs:
            ahead.append(pool.submit(one, day, seed))
            if len(ahead) > 2 * threads:
                yield first_of(ahead)
        while ahead:
            yield first_of(ahead)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
