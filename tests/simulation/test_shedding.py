"""What is shed when the engine is pulled down, what is not, and who gets the room afterwards."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import Limits
from planner.simulation import events
from planner.simulation.generator import STEPS, engine_of
from planner.simulation.loops.shedding import shed_by_frequency
from tests.homes import base, generator, home, load, room
from tests.simulation.plans import Bench, plan_of


def bench_of(*loads, kw=10.0, turns="abc", senses="call", **changes):
    """A controller on a generator, with these loads behind a base of 1 kW."""
    house = home(base(1.0), *loads)
    return Bench(plan_of(house, generator(kw, 5000.0), *turns[:len(loads)], senses=senses),
                 **changes)


def swing(bench, *frequencies):
    """Let the controller see a row of frequencies, per unit, a hundredth of a second each."""
    before = 1.0
    for step, frequency in enumerate(frequencies):
        shed_by_frequency(bench.second * STEPS + step, frequency, before, bench.circuits,
                          bench.habits, bench.memory, bench.log)
        before = frequency


def test_a_frequency_that_comes_back_by_itself_sheds_nothing():
    """A fall to 54 Hz in 0.2 s that takes a second to come back, as after the step of a range."""
    bench = bench_of(load("a", 3.0), load("b", 3.5))
    bench.play(60, "base", "a", "b")
    swing(bench, *np.linspace(1.0, 0.90, 20), *np.linspace(0.901, 0.96, 100))
    assert bench.said(events.SHED_FREQUENCY) == []
    swing(bench, *np.linspace(1.0, 0.90, 20), *np.full(60, 0.90))
    assert [one for _, one in bench.said(events.SHED_FREQUENCY)] == ["b"]


def test_a_frequency_that_hardly_rises_counts_as_low():
    """Half a hertz in a second is no recovery."""
    bench = bench_of(load("a", 3.0), load("b", 3.5))
    bench.play(60, "base", "a", "b")
    swing(bench, *np.linspace(0.90, 0.90 + 0.5 / 60.0, 100))
    assert bench.said(events.SHED_FREQUENCY) != []


def test_as_much_is_shed_at_once_as_stands_above_the_limit():
    """12.6 kW on a rating of 10: the last of half a kW does not help, so the next goes with it."""
    bench = bench_of(load("a", 3.0), load("b", 4.0), load("c", 0.5))
    bench.play(90, "base", "a", "b", "c")
    bench.factor[bench.ids.index("a")] = 7.1 / 3.0
    bench.play(1, "base", "a", "b", "c")
    swing(bench, *np.full(60, 0.90))
    assert [one for _, one in bench.said(events.SHED_FREQUENCY)] == ["c", "b"]


def test_what_was_shed_and_calls_keeps_its_room():
    """A lower load that calls meanwhile waits, though it would fit alone; the higher comes back."""
    bench = bench_of(load("a", 6.0), load("b", 5.0))
    bench.play(60, "base", "a")
    bench.frequency = 0.90
    bench.play(1, "base", "a", "b")
    assert [one for _, one in bench.said(events.SHED_FREQUENCY)] == ["a"]
    bench.frequency = 1.0
    bench.play(int(bench.settings.retry_s) + 20, "base", "a", "b")
    assert bench.began("b") == []
    assert bench.history[-1] == {"base", "a"}


def test_a_load_that_pulses_is_not_forgotten_when_another_is_shed():
    """The mean of what stays is kept: 6 kW that rest for some seconds leave no room for 5 kW."""
    bench = bench_of(load("a", 6.0), load("b", 2.0), load("c", 5.0))
    bench.play(60, "base", "a", "b")
    bench.factor[bench.ids.index("a")] = 0.5
    bench.play(1, "base", "a", "b")
    swing(bench, *np.full(60, 0.90))
    assert [one for _, one in bench.said(events.SHED_FREQUENCY)] == ["b"]
    bench.play(15, "base", "a", "c")
    assert bench.began("c") == []


def test_an_idle_module_opens_while_something_draws_that_excludes_it():
    """A tub behind a module that sees no call cannot start beside a charger that excludes it."""
    bench = Bench(plan_of(home(base(1.0), load("a", 2.0, not_with=("b",)), load("b", 3.0)),
                          generator(12.0, 5000.0), "a", "b", senses="current"),
                  senses="as bought")
    bench.play(60, "base")
    assert bench.memory.closed.all()
    bench.play(5, "base", "b")
    bench.play(60, "base", "a", "b")
    assert all(not {"a", "b"} <= on for on in bench.history)


def test_an_idle_motor_stays_closed_only_within_its_start_room():
    """A motor that nobody announces would pull the engine below the limit of the starts."""
    motor = load("b", 2.0, starting_kva=12.0, allowed=frozenset({"module"}))
    bench = Bench(plan_of(home(base(1.0), load("a", 5.5), motor), generator(10.0, 5000.0), "a", "b",
                          senses="current"), senses="as bought")
    room_kw = bench.circuits.start_room_kw[bench.ids.index("b")]
    assert 1.0 < room_kw < 6.5
    bench.play(60, "base")
    assert bench.memory.closed.all()
    bench.play(3, "base", "a")
    assert bench.memory.closed.tolist() == [True, True, False]


@pytest.mark.parametrize("share", [0.9, 1.0])
def test_a_leg_is_shed_by_its_rating(share):
    """A plan uses a share of a leg's amperes; 95 % of them, or what the plan uses, may stand."""
    house = replace(home(base(1.0), load("a", 4.0)), limits=Limits(largest_share=share))
    plan = plan_of(house, generator(10.0, 5000.0), "a")
    bench = Bench(plan)
    rated_a = engine_of(plan.supply, house, bench.settings).leg_a
    assert bench.circuits.caps[1] == pytest.approx(share * rated_a)
    assert bench.circuits.shed_caps[1] == pytest.approx(max(0.95, share) * rated_a)


def test_a_compressor_does_not_take_the_room_of_what_rests():
    """The air conditioner would keep it for its shortest run; supper comes first."""
    bench = bench_of(load("a", 6.0), room("b", 3.0), kw=10.0)
    bench.play(400, "base", "a")
    bench.frequency = 0.90
    bench.play(1, "base", "a", "b")
    bench.frequency = 1.0
    bench.play(90, "base", "a", "b")
    assert bench.began("b") == []
    assert len(bench.began("a")) == 2
