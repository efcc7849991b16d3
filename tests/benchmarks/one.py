"""One contender on one question, in a process of its own, so that its memory can be read.

`python -m tests.benchmarks.one CONTENDER QUESTION TOTAL_S SOLVE_S` prints one line of JSON. What a
contender needs is imported only here, after its name is known: the planner's solver and the
constraint solver cannot share a process.
"""

from __future__ import annotations

import json
import os
import resource
import sys
import time
from functools import partial

from tests.benchmarks.clock import Clock
from tests.benchmarks.entrants import Step, not_dominated, widest_gap
from tests.benchmarks.questions import question

WARM_UP = "grown:5,1,2"


def planner_way(home, book, clock):
    """The planner's own frontier."""
    from planner.search.frontier import frontier

    clock.start()
    points = frontier(home, book).points
    bounds = [1.0 if p.bound is None else p.bound for p in points]
    return [Step(p.cost_usd, p.coverage, bound, True)
            for p, bound in zip(points, bounds, strict=True)], True


def way_of(name):
    """Find a contender by its name."""
    if name == "planner":
        return planner_way
    from tests.benchmarks import plain_way

    ways = {
        "plain": plain_way.plain_frontier,
        "plain-shares": partial(plain_way.plain_frontier, whole_slots=False),
        "plain-grid": plain_way.plain_grid,
    }
    return ways[name]


def spent_s():
    """Processor time of this process and of those it has waited for [s]."""
    return sum(os.times()[:4])


def run(name, asked, total_s, solve_s):
    """Let a contender answer; everything is imported and compiled before the clock starts."""
    way = way_of(name)
    way(*question(WARM_UP), Clock(60.0, 60.0))
    home, book = question(asked)
    begun, cpu_s = time.perf_counter(), spent_s()
    steps, finished = way(home, book, Clock(total_s, solve_s))
    seconds = time.perf_counter() - begun
    return {
        "seconds": seconds,
        "cpu_s": spent_s() - cpu_s,
        "finished": finished and all(step.solved for step in steps),
        "unsolved": sum(not step.solved for step in steps),
        "solves": len(steps),
        "widest_gap": widest_gap(steps),
        "points": [(s.usd, s.coverage) for s in not_dominated(steps)],
        "memory_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0,
    }


if __name__ == "__main__":
    print(json.dumps(run(sys.argv[1], sys.argv[2], float(sys.argv[3]), float(sys.argv[4]))))
