"""Times for pytest-benchmark: `pytest tests/benchmarks/bench_answers.py --benchmark-only`.

The file's name keeps it out of the ordinary run. The tables of `python -m tests.benchmarks` compare
with the other ways of planning; here are the planner's own answers and one replay.
"""

from __future__ import annotations

import pytest

from planner.search.frontier import frontier
from planner.service.choice import DIRECT, MODULE
from planner.service.replay import Refusal, replay
from tests.benchmarks.answers import ANSWERS
from tests.benchmarks.clock import Clock
from tests.benchmarks.one import WARM_UP, way_of
from tests.benchmarks.questions import question

QUICK = ("frontier, suburban", "one wish changed, size kept, suburban")


@pytest.mark.benchmark(group="answers")
@pytest.mark.parametrize("name", QUICK)
def test_an_answer(benchmark, name):
    """An answer after compilation."""
    frontier(*question(WARM_UP))
    assert benchmark.pedantic(ANSWERS[name](), rounds=3, warmup_rounds=1) is not None


@pytest.mark.benchmark(group="frontier of a home of 10 loads")
@pytest.mark.parametrize("way", ["planner", "plain"])
def test_a_frontier(benchmark, way):
    """The planner and the plain way on the same home."""
    home, book = question("grown:10,1,6")
    steps, finished = benchmark.pedantic(
        lambda: way_of(way)(home, book, Clock(120.0, 60.0)), rounds=2, warmup_rounds=1)
    assert finished
    assert steps


@pytest.mark.benchmark(group="replay")
def test_a_replay(benchmark):
    """The replay of the cheapest plan, with its loads that take turns, over three days."""
    plan = frontier(*question("case:suburban")).points[0]
    assert {MODULE, DIRECT} <= set(plan.choice.connection)
    outcome = benchmark(replay, plan.menu.house, plan.supply, plan.choice)
    assert not isinstance(outcome, Refusal)
