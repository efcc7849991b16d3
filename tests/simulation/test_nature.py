"""What each kind of load is to the engine, and what a dip is to a computer."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.engine import SOFT_START_TIMES
from planner.facts.home import CodeEntry, DesignDay
from planner.service.answer import ELECTRONIC, MOTOR, RESISTIVE, nature_to_engine
from planner.simulation import events, falls, tally
from planner.simulation.circuits import CALL, NOTHING, circuits_of
from planner.simulation.controller import blank_memory
from planner.simulation.faults import NO_FAULT
from planner.simulation.generator import engine_of
from planner.simulation.loops.state import DIM_90, DROPPED, FAR, GAUGES, Now
from planner.simulation.loops.swing import dim
from planner.simulation.outage import simulate
from planner.simulation.outcome.summary import summary_of
from planner.simulation.settings import Settings
from planner.simulation.tally import empty_tally
from tests.homes import base, generator, home, load, motor
from tests.simulation.plans import plan_of

DAY = DesignDay("day", "day", "mild", 1.0, 60.0, 80.0)


@pytest.mark.parametrize(("changes", "nature"), [
    ({"code": CodeEntry("cooking", 8000.0)}, RESISTIVE),
    ({"code": CodeEntry("supplemental-heat", 8000.0)}, RESISTIVE),
    ({"kind": "electric water heater"}, RESISTIVE),
    ({"kind": "induction cooktop", "code": CodeEntry("cooking", 8000.0)}, ELECTRONIC),
    ({"kind": "vehicle charger", "code": CodeEntry("vehicle", 8000.0)}, ELECTRONIC),
    ({"compressor": True}, ELECTRONIC),  # starts no harder than it runs: an inverter
    ({"motor_hp": 0.5}, MOTOR),
    ({}, ELECTRONIC)])
def test_the_nature_to_engine_a_load_follows_from_its_facts(changes, nature):
    """What is not known to be an element or a motor is electronics, the worst for the engine."""
    assert nature_to_engine(replace(load("one", 3.0), **changes)) == nature


def test_what_starts_harder_than_it_runs_is_a_motor():
    """A pump by its locked-rotor draw, whatever its category."""
    assert nature_to_engine(motor("pump", 1.0, 8.0)) == MOTOR


@pytest.mark.parametrize(("volts", "ticks", "drops"), [
    (0.95, 5000, 0), (0.85, 1000, 0), (0.85, 1001, 1), (0.75, 50, 0), (0.75, 51, 1), (0.5, 2, 0),
    (0.5, 3, 1)])
def test_computers_ride_through_what_the_tolerance_curve_allows(volts, ticks, drops):
    """Down to 90 % for ever, 80 % for 10 s, 70 % for 0.5 s, nothing for 20 ms.

    The curve of the Information Technology Industry Council, edition 2000, from memory.
    """
    n = np.zeros(1)
    now = Now(n > 1, n, n > 1, n, n > 1, n, n, np.full(1, -1), np.zeros(GAUGES),
              np.zeros(DROPPED + 1, dtype=np.int64))
    result = empty_tally(1, 60)
    for _ in range(ticks):
        dim(volts, now, result)
    assert result.counts[tally.COMPUTER_DROPS] == drops
    dim(1.0, now, result)
    assert now.clock[DIM_90] == 0
    assert ticks < FAR


def test_modules_sense_what_the_price_book_says():
    """The module of the test book sees calls, unless the settings say that none does."""
    plan = plan_of(home(base(1.0), load("a", 3.0)), generator(10.0, 5000.0), "a")
    place = plan.menu.house.ids.index("a")
    for senses, code in (("as bought", CALL), ("calls", CALL), ("nothing", NOTHING)):
        assert circuits_of(plan, NO_FAULT, Settings(senses=senses)).senses[place] == code


def test_a_direct_compressor_stands_against_its_pressure_after_the_takeover():
    """It ran at the loss, so it stands at first until its protector opens; later it starts."""
    air = replace(motor("air", 3.0, 8.0), compressor=True)
    plan = plan_of(home(base(1.0), air), generator(12.0, 5000.0))
    found = simulate(plan, DAY, 0, hours=1.0)
    place = plan.menu.house.ids.index("air")
    starts = found.tally.starts[: int(found.tally.starts_count[0])]
    mine = starts[starts[:, tally.START_WHO] == place, tally.START_SECOND]
    usual = Settings()
    carries = int(usual.sensing_s + usual.warm_up_s)
    assert mine[0] == carries
    assert mine[1] - mine[0] >= usual.protector_s + usual.protector_off_s
    assert found.tally.run_s[place] < found.seconds - usual.protector_off_s


def test_a_soft_start_takes_twice_as_long_unless_the_book_says():
    """The start behind a soft starter lasts a multiple of the motor's own."""
    plan = plan_of(home(base(1.0), motor("air", 3.0, 8.0)), generator(12.0, 5000.0), "air")
    place = plan.menu.house.ids.index("air")
    own = circuits_of(plan, NO_FAULT, Settings()).start_s[place]
    soft = replace(plan.choice, soft_start=tuple(int(i == place) for i in range(2)))
    starter = replace(plan.menu.book.soft_starters[0], start_s=None)
    for start_s, seconds in ((None, SOFT_START_TIMES.value * own), (1.5, 1.5)):
        book = replace(plan.menu.book, soft_starters=(replace(starter, start_s=start_s),))
        object.__setattr__(plan, "menu", replace(plan.menu, book=book))
        object.__setattr__(plan, "choice", soft)
        assert circuits_of(plan, NO_FAULT, Settings()).start_s[place] == pytest.approx(seconds)


def test_the_average_over_a_day_is_that_of_the_load():
    """A base of 6 kW on 12 kW is half of the rating; one of 1 kW counts as 30 % (ISO 8528-1)."""
    for kw, share in ((6.0, 0.5), (1.0, 0.3)):
        plan = plan_of(home(base(kw)), generator(12.0, 5000.0))
        found = summary_of(simulate(plan, DAY, 0, hours=30.0))
        assert found.load_factor == pytest.approx(share * 12.0 / plan.supply.derated_kw, abs=0.02)


def test_protection_ends_a_low_frequency_that_nobody_sheds():
    """Elements of 1.25 times the torque settle at 43 Hz: after its seconds it stops the engine."""
    heat = replace(load("heat", 6.5), code=CodeEntry("heating", 6500.0))
    plan = plan_of(home(base(0.5), heat), generator(9.0, 5000.0))
    object.__setattr__(plan, "supply", replace(plan.supply, derated_kw=5.6))
    found = simulate(plan, DAY, 0, hours=0.5)
    rows = found.log.rows[: int(found.log.written[0])]
    assert events.LOW_HZ_TRIP in rows[:, 1]
    assert found.tally.falls[0, tally.FALL_WHAT] == falls.LOW_HZ
    carried = rows[rows[:, 1] == events.CARRIES, 0][0]
    tripped = rows[rows[:, 1] == events.LOW_HZ_TRIP, 0][0]
    assert 5.0 <= tripped - carried <= 7.0


def test_what_a_book_states_of_an_engine_is_used():
    """Another lag and another protection reach the simulated engine."""
    machine = replace(generator(10.0, 5000.0), governor_s=0.35, low_frequency_hz=52.5,
                      low_frequency_s=9.0, low_voltage=0.8, low_voltage_s=3.0)
    plan = plan_of(home(base(1.0)), machine)
    engine = engine_of(plan.supply, plan.menu.house.home, Settings())
    assert (engine.governor_s, engine.low_frequency) == (0.35, 52.5 / 60.0)
    assert (engine.low_frequency_s, engine.low_voltage, engine.low_voltage_s) == (9.0, 0.8, 3.0)
    assert blank_memory(circuits_of(plan, NO_FAULT, Settings())).tried.shape == (1,)
