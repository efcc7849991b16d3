"""Each fault with its safe outcome."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import DesignDay, Use
from planner.simulation import tally
from planner.simulation.faults import Fault
from planner.simulation.outage import simulate
from tests.homes import ALL, base, events, generator, home, load
from tests.simulation.plans import Bench, plan_of

DAY = DesignDay("day", "day", "mild", 1.0, 60.0, 80.0)
TOGETHER = events((1.0, 2.0), (5.0, 2.0))


@pytest.fixture(scope="module")
def plan():
    """Three loads of which two fit together, all calling in the same hours."""
    house = home(base(1.0), load("a", 3.0, use=TOGETHER, wait_h=1.0),
                 load("b", 3.0, use=TOGETHER, wait_h=1.0), load("c", 4.0, use=TOGETHER, wait_h=4.0))
    return plan_of(house, generator(9.0, 5000.0), "a", "b", "c")


def played(plan, fault=None, hours=10.0):
    """Play seed 3 with a fault."""
    return simulate(plan, DAY, 3, hours=hours, fault=fault or Fault())


def test_a_module_stuck_open_leaves_its_load_dark_and_the_others_served(plan):
    """The load gets nothing; the others get what they would if it did not call."""
    broken = played(plan, Fault(stuck_open="a"))
    assert broken.tally.kwh[1] == 0.0
    assert broken.service[2] == pytest.approx(1.0, abs=0.01)
    assert broken.tally.counts[tally.OVERLOAD_S] == 0
    assert played(plan).tally.kwh[1] > 0.0


def test_a_module_stuck_closed_is_made_room_for(plan):
    """The last of the order runs whenever it calls; others wait or are shed, nothing trips."""
    whole, broken = played(plan), played(plan, Fault(stuck_closed="c"))
    assert broken.tally.run_s[3] > whole.tally.run_s[3] - 600
    assert broken.service[3] == pytest.approx(1.0, abs=0.01)
    assert broken.tally.run_s[1] + broken.tally.run_s[2] < whole.tally.run_s[1] + \
        whole.tally.run_s[2]
    counts = broken.tally.counts
    assert counts[tally.BREAKER_TRIPS] == counts[tally.ENGINE_TRIPS] == counts[tally.STALLS] == 0
    both = broken.tally.run_minute[[1, 2, 3]].min(axis=0)
    assert both.max() < 60


def test_a_module_that_stays_open_does_so_unless_it_is_stuck():
    """Though there is room for c all the time it never runs; stuck closed it does, and a waits."""
    house = home(base(1.0), load("a", 3.0, use=TOGETHER, wait_h=4.0),
                 load("c", 4.0, use=TOGETHER, allowed=ALL))
    moved = plan_of(house, generator(7.0, 5000.0), "a", off=("c",))
    kept = replace(moved, choice=replace(moved.choice, kept_open=frozenset({2})))
    sound, broken = played(kept), played(kept, Fault(stuck_closed="c"))
    assert sound.tally.kwh[2] == 0.0
    np.testing.assert_array_equal(sound.tally.run_minute, played(moved).tally.run_minute)
    assert broken.tally.kwh[2] > 0.0
    assert broken.tally.run_minute[[1, 2]].min(axis=0).max() < 60
    assert broken.tally.counts[tally.BREAKER_TRIPS] == broken.tally.counts[tally.STALLS] == 0


def test_a_stuck_module_is_never_asked_to_make_room(plan):
    """Shedding passes it over: the one before it in the order goes."""
    bench = Bench(plan, fault=Fault(stuck_closed="c"))
    bench.play(60, "base", "c")
    bench.factor[:] = [3.0, 1.0, 1.0, 1.0]
    bench.play(60, "base", "a", "b", "c")
    assert all("c" in on for on in bench.history)
    assert not {"a", "b", "c"} <= bench.history[-1]


def test_a_lost_sensor_means_the_worst_case(plan):
    """Rated draws of all that is connected are added up, running or not: nothing beyond fits."""
    quiet = home(base(1.0), load("idle", 4.0, use={"every": Use(kind="never")}),
                 load("a", 3.0, use=TOGETHER), load("b", 3.0, use=TOGETHER))
    seeing = plan_of(quiet, generator(9.0, 5000.0), "a", "b")
    sound, blind = Bench(seeing), Bench(seeing, fault=Fault(sensor_lost=True))
    for bench in (sound, blind):
        bench.play(120, "base", "a", "b")
    assert sound.history[-1] == {"base", "a", "b"}
    assert blind.history[-1] == {"base", "a"}
    lost = played(plan, Fault(sensor_lost=True))
    assert lost.tally.counts[tally.OVERLOAD_S] == 0
    assert lost.tally.kwh[1] > 0.0


def test_a_failed_start_is_tried_again(plan):
    """One failure puts the transfer off by half a minute, and the log says so."""
    late = played(plan, Fault(failed_starts=1), hours=1.0)
    assert late.tally.counts[tally.DARK_S] == 60
    assert any("does not start, try 1" in line for line in late.lines())


def test_an_engine_that_never_starts_leaves_the_house_dark_and_says_so(plan):
    """After three tries all is dark until the utility returns; no fuel is burned."""
    dead = played(plan, Fault(failed_starts=3), hours=2.0)
    assert dead.tally.counts[tally.CARRYING_S] == 0
    assert dead.tally.counts[tally.DARK_S] == 7200
    assert dead.tally.sums[tally.FUEL_BTU] == 0.0
    assert np.all(dead.tally.run_minute[:, :120] == 0)
    assert sum("does not start" in line for line in dead.lines()) == 3
    assert any("stays dark until the utility returns" in line for line in dead.lines())


def test_a_fault_of_an_unknown_load_is_refused(plan):
    """A module that does not exist cannot be stuck."""
    with pytest.raises(KeyError):
        played(plan, Fault(stuck_open="nobody"), hours=1.0)
