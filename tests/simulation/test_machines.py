"""All machines of a home together: seeds, order, and the energy that the plan counts on."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from planner.case.library import kinds
from planner.case.read import read_home
from planner.facts.home import COOLING_SET_DEGF, SLOT_H, DesignDay, Use
from planner.physics.heat_pump import cooling_capacity_share, cooling_power_share
from planner.service.stages import stages_on
from planner.service.use import calls_of, temperature_degf, use_on
from planner.simulation.appliances.box import THAW_EVERY_S, THAW_S
from planner.simulation.columns import (
    AIR,
    BOX,
    DRAW,
    EVENT,
    FOLLOW,
    HOT,
    IDLE,
    PRESSURE,
    ROOM,
    STATES,
    STEADY,
    STORE,
    TANK,
    VEHICLE,
    WANT,
)
from planner.simulation.house import BY_KIND, LARGEST_SHARE
from planner.simulation.loops.machines import advance
from planner.simulation.machines import demanded, machines_of
from tests.case.files import HEAD, load_text, read_text
from tests.homes import home, load
from tests.simulation.alone import play

CASES = Path(__file__).parents[2] / "cases"
SEEDS = 40
MILD = DesignDay("mild", "mild", "mild", 1.0, 52.0, 68.0)


@pytest.fixture(scope="module")
def suburban():
    """The suburban home."""
    return read_home(CASES / "suburban.toml")[0]


def planned_kwh(one, day):
    """Energy of a load's calls on a design day."""
    hours = calls_of(use_on(one, day), day).sum() * SLOT_H
    if not one.mean_kw or hours / 24.0 > LARGEST_SHARE:
        return hours * one.kw_on(day.id)
    return hours * (one.mean_kw + one.running_kw * THAW_S / THAW_EVERY_S)


def expected_kwh(house, one, day):
    """Energy of a load's calls; where a compressor cools, by its curves instead of its full draw.

    A room that needs the share d(T) of the heat moved at the design temperature D needs the
    compressor for d(T)·capacity(D)/capacity(T) of the time, at power(T)/power(hottest) of its kW;
    the blower that follows it runs as long.
    """
    planned, use = planned_kwh(one, day), use_on(one, day)
    if use.kind != "cooling" or planned == 0.0:
        return planned
    leads = one.compressor
    assert leads or any(one.id in other.requires and other.compressor for other in house.loads)
    outdoor = [temperature_degf(day, (slot + 0.5) * SLOT_H) for slot in range(96)]
    duty = np.array([max(0.0, (t - use.balance_degf) / (use.design_degf - use.balance_degf))
                     for t in outdoor])
    longer = np.array([cooling_capacity_share(use.design_degf) / cooling_capacity_share(t)
                       for t in outdoor])
    less = np.array([cooling_power_share(t) / cooling_power_share(day.high_degf)
                     for t in outdoor]) if leads else 1.0
    return planned * (duty * longer * less).sum() / duty.sum()


def same(one, other):
    """Whether two realisations are equal to the last bit."""
    return all(np.array_equal(getattr(one, name), getattr(other, name))
               for name in one.__dataclass_fields__)


@pytest.mark.parametrize("place", [0, 1, 2])
def test_the_mean_energy_is_that_of_the_planned_calls(suburban, place):
    """Over many seeds each load takes per day what its calls say, within 4 % and its own scatter.

    A compressor takes less, by its curves: its kW are those of the hottest hour. Four standard
    errors of the mean are allowed on top where a load's days differ much.
    """
    day = suburban.days[place]
    kwh = np.array([demanded(machines_of(suburban, day, 24.0, seed, start_h=7.0 * seed % 24), 24.0)
                    [0] for seed in range(SEEDS)])
    for i, one in enumerate(suburban.loads):
        planned = expected_kwh(suburban, one, day)
        scatter = 4.0 * kwh[:, i].std() / SEEDS**0.5
        assert scatter <= 0.12 * planned
        assert kwh[:, i].mean() == pytest.approx(planned, abs=max(0.04 * planned, scatter)), one.id
        assert (planned == 0.0) == (kwh[:, i].max() == 0.0)


def test_same_seed_same_day(suburban):
    """A seed gives the same realisation to the last bit; another gives another."""
    day = suburban.days[0]
    first = machines_of(suburban, day, 2.0, 5)
    assert same(first, machines_of(suburban, day, 2.0, 5))
    assert not same(first, machines_of(suburban, day, 2.0, 6))


def test_the_order_of_the_file_changes_nothing(suburban):
    """Every load has its own dice: turned around, each takes exactly the same."""
    day = suburban.days[0]
    turned = replace(suburban, loads=suburban.loads[::-1])
    one = demanded(machines_of(suburban, day, 6.0, 3, start_h=15.0), 6.0)
    other = demanded(machines_of(turned, day, 6.0, 3, start_h=15.0), 6.0)
    for mine, theirs in zip(one[:2], other[:2], strict=True):
        assert np.array_equal(mine, theirs[::-1])


def test_setting_up_does_not_play(suburban):
    """`demanded` leaves the machines as they are, so two runs agree."""
    machines = machines_of(suburban, suburban.days[0], 3.0, 1)
    first = demanded(machines, 3.0)
    assert np.array_equal(first[0], demanded(machines, 3.0)[0])
    assert machines.state.shape == (len(suburban.loads), STATES)
    assert machines.shared.shape == (HOT, len(suburban.loads))


def test_a_longer_outage_begins_like_a_short_one(suburban):
    """How long it will be played does not change what happens at first."""
    day = suburban.days[1]
    short, long = (machines_of(suburban, day, hours, 4, start_h=17.0) for hours in (3.0, 30.0))
    assert np.array_equal(demanded(short, 3.0)[0], demanded(long, 3.0)[0])


def test_an_outage_begins_in_the_middle_of_life(suburban):
    """At the start of the outage compressors are in mid-cycle and rooms near their set points."""
    wants = []
    for seed in range(20):
        machines = machines_of(suburban, suburban.days[0], 1.0, seed, start_h=16.0)
        rooms = machines.kind == ROOM
        assert np.abs(machines.state[rooms, AIR] - COOLING_SET_DEGF).max() < 2.5
        wants.append(play(machines, 1)[1][0])
        refrigerator = suburban.loads.index(suburban.load("refrigerator"))
        wants.append(machines.shared[1, refrigerator] > 0.0)
    assert len(set(wants)) == 2


@pytest.fixture(scope="module")
def everything(tmp_path_factory):
    """A home with one load of every kind of the library."""
    text = HEAD
    for number, (name, kind) in enumerate(kinds().items()):
        lines = []
        option = kind.sizes[0] if kind.sizes else None
        if option is not None and option.default is None:
            lines.append(f'size = "{(option.low + option.high) / 2.0:g} {option.unit}"')
        text += load_text(f"load-{number}", name, *lines)
    return read_text(tmp_path_factory.mktemp("all"), text)


def test_every_kind_of_the_library_lives(everything):
    """No kind is left out: what calls on a day is no idle machine, and takes about its calls.

    A heat pump and its back-up heat share a room: together they take no more than their calls,
    which count a straight line for each, and most of it.
    """
    assert {one.kind for one in everything.loads} == set(kinds())
    assert set(BY_KIND) <= set(kinds())
    for day in (*everything.days, MILD):
        kwh = np.array([demanded(machines_of(everything, day, 24.0, seed), 24.0)[0]
                        for seed in range(12)]).mean(axis=0)
        kind = machines_of(everything, day, 1.0, 0).kind
        stages = stages_on(everything, day)
        for i, one in enumerate(everything.loads):
            planned = planned_kwh(one, day)
            assert (kind[i] == IDLE) == (planned == 0.0), one.kind
            together = list(stages[i][1]) if i in stages else [i]
            if len(together) > 1:
                both = sum(planned_kwh(everything.loads[k], day) for k in together)
                assert 0.7 * both < kwh[together].sum() < both, (one.kind, day.id)
            else:
                slot_kwh = SLOT_H * one.kw_on(day.id)
                assert kwh[i] == pytest.approx(planned, rel=0.2, abs=0.5 * slot_kwh), (
                    one.kind, day.id)


@pytest.mark.parametrize(("kind", "use", "code"), [
    ("electric water heater", Use("duty", hours=(0.1,) * 24), TANK),
    ("electric water heater", Use("always"), STEADY),
    ("refrigerator", Use("duty", hours=(0.3,) * 24), BOX),
    ("sump pump", Use("duty", hours=(0.1,) * 24), STORE),
    ("well pump", Use("events", events=((7.0, 0.25),)), PRESSURE),
    ("vehicle charger", Use("events", events=((19.0, 2.0),)), VEHICLE),
    ("anything", Use("calls", calls="0" * 40 + "1" * 4 + "0" * 52), EVENT),
    ("anything", Use("duty", hours=(0.4,) * 24), STORE),
    ("anything", Use("cooling", balance_degf=50.0, design_degf=80.0), ROOM),
    ("anything", Use("always"), STEADY),
    ("anything", Use("never"), IDLE),
])
def test_kind_and_use_choose_the_machine(kind, use, code):
    """Physics where a kind has physics of its own, else what its use says."""
    nature = "room" if use.kind == "cooling" else "clock"
    house = home(load("it", 1.0, kind=kind, nature=nature, use={"every": use}))
    assert machines_of(house, MILD, 1.0, 0).kind.tolist() == [code]


def test_a_blower_that_is_required_follows():
    """A blower follows the air conditioner that needs it, and runs by itself in winter."""
    blower = load("blower", 0.5, nature="room", use={
        "summer": Use("cooling", balance_degf=70.0), "winter": Use("heating", design_degf=10.0)})
    air = load("air", 4.0, nature="room", requires=("blower",),
               use={"summer": Use("cooling", balance_degf=70.0)})
    house = home(blower, air)
    hot = DesignDay("hot", "hot", "summer", 1.0, 75.0, 95.0)
    cold = DesignDay("cold", "cold", "winter", 1.0, 10.0, 30.0)
    assert machines_of(house, hot, 1.0, 0).kind.tolist() == [FOLLOW, ROOM]
    assert machines_of(house, cold, 1.0, 0).kind.tolist() == [ROOM, IDLE]
    run_s = demanded(machines_of(house, hot, 6.0, 0, start_h=12.0), 6.0)[1]
    assert run_s[0] == run_s[1] > 0.0


def test_an_outage_has_a_length():
    """Nothing cannot be played."""
    with pytest.raises(ValueError, match="lasts longer"):
        machines_of(home(load("it", 1.0)), MILD, 0.0, 0)


def test_jumping_from_look_to_look_is_a_walk_through_every_second(suburban):
    """`demanded`, which jumps from look to look, agrees with a walk through every second."""
    machines = machines_of(suburban, suburban.days[0], 3.0, 2, start_h=17.0)
    kwh, run_s, *_ = demanded(machines, 3.0)
    _, on, kw = play(machines, 3 * 3600)
    assert run_s[0] == on.sum()
    assert kwh[0] == pytest.approx(kw.sum() / 3600.0, rel=1e-12)
    fleet = machines.fleet()
    wants, draw_kw = fleet.shared[WANT] > 0.0, fleet.shared[DRAW].copy()
    walked_s = np.zeros(len(wants))
    for second in range(3 * 3600):
        walked_s += wants
        advance(second, wants.copy(), fleet, wants, draw_kw)
    assert np.array_equal(walked_s, run_s)


def test_a_well_pump_runs_for_minutes_many_times_a_day(tmp_path):
    """20 to 40 runs of 1 to 3 minutes behind its pressure tank; from memory."""
    house = read_text(tmp_path, HEAD + load_text("it", "well pump"))
    counts, lengths = [], []
    for seed in range(10):
        on = play(machines_of(house, house.days[0], 24.0, seed), 86_400)[1]
        edges = np.flatnonzero(np.diff(np.concatenate(([0], on.astype(int), [0]))))
        counts.append(len(edges) / 2)
        lengths += list(edges[1::2] - edges[::2])
    assert 20 <= np.mean(counts) <= 40
    assert 60 <= np.mean(lengths) <= 180
