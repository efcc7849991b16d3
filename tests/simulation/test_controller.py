"""Laws of the controller: it never closes what does not fit, in order, with pauses."""

from __future__ import annotations

import random
from itertools import pairwise

import numpy as np
import pytest

from planner.facts.home import Use
from planner.simulation import events
from planner.simulation.generator import STEPS
from planner.simulation.loops.shedding import shed_by_frequency
from tests.homes import base, generator, home, load, motor
from tests.simulation.plans import Bench, plan_of

WAITS = (events.WAITS_POWER, events.WAITS_AMPERES, events.WAITS_START, events.WAITS_DIP)
NEVER = {"every": Use(kind="never")}


def three(**changes):
    """Three loads of 3 kW in turn behind a base of 1 kW on a 10 kW generator: two and a bit fit."""
    house = home(base(1.0), load("a", 3.0), load("b", 3.5), load("c", 4.0))
    return Bench(plan_of(house, generator(10.0, 5000.0), "a", "b", "c"), **changes)


def test_restoring_follows_the_order_with_pauses():
    """Priority 1 first, at least the spacing apart, and what does not fit stays open."""
    bench = three()
    bench.play(120, "base", "a", "b", "c")
    closings = bench.said(events.CLOSED)
    assert [one for _, one in closings] == ["a", "b"]
    assert closings[1][0] - closings[0][0] >= bench.settings.spacing_s
    assert bench.history[-1] == {"base", "a", "b"}
    assert [one for _, one in bench.said(*WAITS)] == ["c"]


def test_a_lower_load_takes_the_room_that_a_higher_one_cannot_use():
    """A load that does not fit does not hold back a smaller one behind it."""
    house = home(base(1.0), load("a", 6.0), load("b", 5.0), load("c", 2.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a", "b", "c"))
    bench.play(120, "base", "a", "b", "c")
    assert bench.history[-1] == {"base", "a", "c"}


def test_a_higher_load_that_calls_later_gets_room():
    """The last of the order makes room, and comes back when there is room again."""
    bench = three()
    bench.play(60, "base", "b", "c")
    assert bench.history[-1] == {"base", "b", "c"}
    bench.play(60, "base", "a", "b", "c")
    assert bench.history[-1] == {"base", "a", "b"}
    assert [one for _, one in bench.said(events.YIELDED)] == ["c"]
    bench.play(200, "base", "a", "c")
    assert bench.history[-1] == {"base", "a", "c"}


def test_nobody_makes_room_in_vain():
    """If shedding all lower loads would not let the higher one in, none is shed."""
    house = home(base(1.0), load("a", 5.0, use=NEVER), load("b", 5.0), load("c", 2.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "b", "a", "c"))
    bench.play(60, "base", "b", "c")
    bench.play(60, "base", "a", "b", "c")
    assert bench.history[-1] == {"base", "b", "c"}
    assert bench.said(events.YIELDED) == []


@pytest.mark.parametrize("seed", range(4))
def test_what_is_closed_fits(seed):
    """With loads that draw what the plan says no limit is ever exceeded, whoever calls when."""
    dice = random.Random(seed)
    legs = ["both", "L1", "L2"]
    loads = [load(f"l{k}", round(dice.uniform(0.8, 4.0), 2), leg=dice.choice(legs))
             for k in range(6)]
    loads.append(motor("m", 2.0, 10.0))
    house = home(base(0.5), *loads)
    bench = Bench(plan_of(house, generator(8.0, 5000.0), *[one.id for one in loads]))
    caps = bench.circuits.caps + 1e-6
    names = [one.id for one in loads]
    for _ in range(40):
        calling = dice.sample(names, dice.randrange(len(names) + 1))
        for on in bench.play(dice.randrange(5, 90), "base", *calling):
            mask = np.array([one in on for one in bench.ids])
            assert (bench.circuits.rated @ mask <= caps).all()
    assert bench.said(events.SHED_POWER, events.SHED_AMPERES, events.SHED_FREQUENCY) == []
    assert len(bench.said(events.CLOSED)) > 20
    for (one, _), (other, _) in pairwise(bench.said(events.CLOSED)):
        assert other - one >= bench.settings.spacing_s


def test_an_overload_is_shed_from_the_end_of_the_order():
    """After the stated seconds above the rating the last load goes, then the one before it."""
    house = home(base(1.0), load("a", 2.0), load("b", 2.0), load("c", 2.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a", "b", "c"))
    bench.play(60, "base", "a", "b", "c")
    bench.factor[:] = [4.0, 1.5, 1.5, 1.5]
    begin = bench.second
    bench.play(6, "base", "a", "b", "c")
    shed = bench.said(events.SHED_POWER)
    assert [one for _, one in shed] == ["c"]
    assert shed[0][0] - begin == bench.settings.overload_s
    bench.play(2, "base", "a", "b", "c")
    assert [one for _, one in bench.said(events.SHED_POWER)] == ["c", "b"]


def test_a_leg_a_little_above_its_rating_is_shed_later():
    """Within 5 % of the leg it may stand for a minute, as cycling elements need; then it goes."""
    house = home(base(1.0), load("a", 4.0, leg="L1"))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a"))
    bench.play(30, "base", "a")
    leg_a = bench.circuits.caps[1]
    bench.factor[1] = (1.04 * leg_a - bench.circuits.rated[1, 0]) / bench.circuits.rated[1, 1]
    begin = bench.second
    bench.play(70, "base", "a")
    (second, who), = bench.said(events.SHED_AMPERES)
    assert (second - begin, who) == (bench.settings.slight_s, "a")


def test_a_low_frequency_sheds_from_the_end_of_the_order():
    """First level: after its time the last priority goes, after the next time the one before it."""
    bench = three()
    bench.play(60, "base", "a", "b")
    bench.frequency = bench.settings.slow_frequency
    bench.play(2, "base", "a", "b")
    assert bench.said(events.SHED_FREQUENCY) == []
    bench.frequency -= 0.001
    begin = bench.second
    bench.play(2, "base", "a", "b")
    shed = bench.said(events.SHED_FREQUENCY)
    assert [one for _, one in shed] == ["b", "a"]
    assert [second - begin for second, _ in shed] == [0, 0]  # at 0.5 s and at 1 s


def test_a_frequency_below_the_limit_of_the_starts_opens_all_modules_at_once():
    """Second level: it stands for a fifth of a second, and half a second after it all are open."""
    bench = three()
    bench.play(60, "base", "a", "b")
    bench.frequency = bench.settings.fast_frequency - 0.001
    bench.play(1, "base", "a", "b")
    assert len(bench.said(events.OPENED_ALL)) == 1
    assert bench.said(events.SHED_FREQUENCY) == [(bench.second - 1, "b")] or \
        bench.said(events.SHED_FREQUENCY) == []
    assert not bench.memory.closed[[bench.ids.index(one) for one in "ab"]].any()


@pytest.mark.parametrize(("ticks", "opens"), [(19, False), (20, True)])
def test_the_second_level_acts_although_the_frequency_came_back(ticks, opens):
    """A dip that ends before its time is let pass; one that lasted opens the modules anyway."""
    bench = three()
    bench.play(60, "base", "a", "b")
    begin = 1000 * STEPS
    for tick in range(begin, begin + 100):
        hz = bench.settings.fast_frequency - 0.01 if tick < begin + ticks else 1.0
        shed_by_frequency(tick, hz, hz, bench.circuits, bench.habits, bench.memory, bench.log)
    assert (len(bench.said(events.OPENED_ALL)) == 1) == opens


def test_nothing_is_restored_until_the_supply_has_been_steady():
    """After a low frequency the stated time passes before a module closes."""
    bench = three()
    bench.play(60, "base", "a", "b")
    bench.frequency = 0.7
    bench.play(1, "base", "a", "b")
    bench.frequency = 1.0
    begin = bench.second
    bench.play(200, "base", "a", "b")
    closed = [second for second, _ in bench.said(events.CLOSED) if second >= begin]
    assert closed[0] - begin >= bench.settings.steady_s - 1
    assert closed[0] - begin >= bench.settings.retry_s - 1


def test_a_compressor_that_stopped_rests():
    """However often it calls, its lock-out passes between a stop and the next start."""
    house = home(base(1.0), motor("air", 3.0, 12.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "air"))
    for _ in range(8):
        bench.play(200, "base", "air")
        bench.play(20, "base")
    starts = bench.began("air")
    stops = [second for second in range(1, len(bench.history))
             if "air" in bench.history[second - 1] and "air" not in bench.history[second]]
    assert len(starts) >= 3
    assert starts[0] >= bench.settings.short_cycle_s
    for stop in stops:
        assert all(start - stop >= bench.settings.short_cycle_s for start in starts if start > stop)


def test_a_compressor_that_just_started_is_not_asked_to_make_room():
    """A higher load waits until the compressor has run its least time."""
    house = home(base(1.0), load("a", 6.0), motor("air", 3.5, 12.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a", "air"))
    bench.play(310, "base", "air")
    began = bench.began("air")[0]
    bench.play(400, "base", "a", "air")
    assert bench.began("a")[0] - began >= bench.settings.minimum_run_s
    assert bench.history[-1] == {"base", "a"}


def test_a_start_that_the_engine_cannot_give_is_not_tried():
    """A motor waits for its start although it would fit once it runs."""
    house = home(base(1.0), load("a", 6.0), load("m", 2.0, starting_kva=12.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a", "m"))
    bench.play(60, "base", "a", "m")
    assert bench.history[-1] == {"base", "a"}
    assert [one for _, one in bench.said(events.WAITS_START)] == ["m"]


def test_what_a_load_needs_comes_with_it():
    """The blower's module closes with the air conditioner's, and is counted with it."""
    house = home(base(1.0), load("air", 3.0, requires=("blower",)), load("blower", 0.5, use=NEVER))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "air", "blower"))
    bench.play(200, "base", "air")
    assert bench.history[-1] == {"base", "air", "blower"}
    assert len(bench.began("blower")) == 1
    bench.play(1, "base")
    assert bench.history[-1] == {"base"}


def test_two_that_exclude_each_other_are_never_on_together():
    """The second waits for the first, whatever room there is; the first of the order wins."""
    house = home(base(1.0), load("heat", 2.0, not_with=("cool",)), load("cool", 2.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "heat", "cool"))
    bench.play(60, "base", "cool")
    bench.play(60, "base", "heat", "cool")
    assert all(not {"heat", "cool"} <= on for on in bench.history)
    assert bench.history[-1] == {"base", "heat"}


def test_a_module_opens_when_its_load_no_longer_calls():
    """The next call is admitted anew, so nothing starts unseen."""
    bench = three()
    bench.play(30, "base", "a")
    assert bench.memory.closed[bench.ids.index("a")]
    bench.play(1, "base")
    assert not bench.memory.closed[bench.ids.index("a")]


def test_without_sight_of_calls_modules_close_ahead():
    """What would fit alone is closed, and what could not be picked up besides is opened again."""
    house = home(base(1.0), load("a", 3.0), load("b", 3.5), load("c", 5.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a", "b", "c", senses="current"),
                  senses="as bought")
    bench.play(90, "base")
    assert bench.memory.closed.all()
    bench.play(3, "base", "a", "b")
    assert bench.memory.closed.tolist() == [True, True, True, False]
    assert bench.history[-1] == {"base", "a", "b"}
    assert bench.said(events.SHED_POWER) == []


def test_a_load_that_nobody_sees_is_tried_after_a_while():
    """The lower one makes room for the trial, and comes back when the higher one does not draw."""
    house = home(base(1.0), load("a", 6.0), load("b", 6.0))
    bench = Bench(plan_of(house, generator(10.0, 5000.0), "a", "b", senses="current"),
                  senses="as bought")
    bench.play(60, "base", "b")
    assert bench.history[-1] == {"base"}
    bench.play(200, "base", "b")
    assert bench.history[-1] == {"base", "b"}
    assert not bench.memory.closed[bench.ids.index("a")]
    bench.play(int(bench.settings.trial_s) + 300, "base", "b")
    assert ("b" in {one for _, one in bench.said(events.YIELDED)})
    off = sum("b" not in on for on in bench.history[-int(bench.settings.trial_s) - 300:])
    assert 0 < off < 300
    bench.play(int(bench.settings.trial_s) + 60, "base", "a", "b")
    assert bench.history[-1] == {"base", "a"}


def test_what_still_fits_beside_it_makes_no_room():
    """For 4 kW the middle one of 5 kW goes; the last one of 1 kW, who goes first, may stay."""
    house = home(base(1.0), load("a", 4.0), load("b", 5.0), load("c", 1.0))
    bench = Bench(plan_of(house, generator(9.5, 5000.0), "a", "b", "c"))
    bench.play(120, "base", "b", "c")
    assert bench.history[-1] == {"base", "b", "c"}
    bench.play(120, "base", "a", "b", "c")
    assert bench.history[-1] == {"base", "a", "c"}
    assert [one for _, one in bench.said(events.YIELDED)] == ["b"]
