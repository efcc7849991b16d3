"""Single answers of the planner, each in a process of its own: a wish changed, prices of wishes."""

from __future__ import annotations

import json
import resource
import subprocess
import sys
import time
from dataclasses import replace

from tests.benchmarks.contest import ROOT
from tests.benchmarks.one import WARM_UP, spent_s
from tests.benchmarks.questions import question
from tests.homes import cheapest

LIMIT_S = 900.0
GOAL = 0.9


def frontier_of_estate():
    """Frontier of the largest case."""
    from planner.search.frontier import frontier

    home, book = question("case:large_estate")
    return lambda: frontier(home, book)


def frontier_of_suburban():
    """Frontier of the case that turns were made for."""
    from planner.search.frontier import frontier

    home, book = question("case:suburban")
    return lambda: frontier(home, book)


def one_wish_changed():
    """A wait made longer, on the size of the plan on the screen."""
    from planner.search.cheapest import cheapest_of
    from planner.search.problem import problems_of

    home, book, plan = _recommended()
    wished = replace(home, loads=tuple(
        replace(one, wait_h=4.0) if one.id == "water-heater" else one for one in home.loads))

    def answer():
        mine = [p for p in problems_of(wished, book)
                if p.menu.generator.id == plan.menu.generator.id]
        return cheapest_of(mine, wished, book, GOAL)

    return answer


def prices_of_wishes():
    """What every wish costs, over the whole book."""
    from planner.study.wish_cost import wish_costs

    home, book, plan = _recommended()
    return lambda: wish_costs(home, book, plan, GOAL)


def prices_of_wishes_at_a_size():
    """What every wish costs, on the size of the plan on the screen."""
    from planner.study.wish_cost import wish_costs

    home, book, plan = _recommended()
    return lambda: wish_costs(home, book, plan, GOAL, generator=plan.menu.generator.id)


def doubts():
    """Which assumed values to verify on site."""
    from planner.study.verify import to_verify

    home, book, plan = _recommended()
    return lambda: to_verify(home, book, plan, GOAL)


def _recommended():

    home, book = question("case:suburban")
    return home, book, cheapest(home, book, GOAL)


ANSWERS = {
    "frontier, suburban": frontier_of_suburban,
    "frontier, estate of 45 loads": frontier_of_estate,
    "one wish changed, size kept, suburban": one_wish_changed,
    "what each wish costs, size kept, suburban": prices_of_wishes_at_a_size,
    "what each wish costs, suburban": prices_of_wishes,
    "what to verify on site, suburban": doubts,
}


def answers(names=None):
    """Time each answer in a process of its own.

    Returns
    -------
    list of (str, float, float, float)
        What was asked, seconds after compilation, seconds of a processor, peak memory [MB].
    """
    found = []
    for name in names or ANSWERS:
        done = subprocess.run([sys.executable, "-m", "tests.benchmarks.answers", name], cwd=ROOT,
                              capture_output=True, text=True, check=True, timeout=LIMIT_S)
        found.append((name, *json.loads(done.stdout.splitlines()[-1])))
    return found


def _timed(name):
    from planner.search.frontier import frontier

    frontier(*question(WARM_UP))
    answer = ANSWERS[name]()
    begun, cpu_s = time.perf_counter(), spent_s()
    answer()
    seconds = time.perf_counter() - begun
    return seconds, spent_s() - cpu_s, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0


if __name__ == "__main__":
    print(json.dumps(_timed(sys.argv[1])))
