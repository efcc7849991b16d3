"""What a portable generator is said to keep, to ask and to cost, and for whom it is not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.facts.home import MEDICAL, DesignDay
from planner.facts.portable import Attendance
from planner.physics.fuel import BTU_PER_KWH, fuel_btu_h
from planner.physics.gasoline import GASOLINE_BTU_PER_GAL
from planner.service.house import house_of
from planner.study.portable.options import by_hand
from planner.study.portable.periods import periods_of, running_gal
from planner.study.portable.playing import TANK_SHARE, engine_runs, state_of
from planner.study.portable.unattended import unattended
from tests.homes import base, clock, food, home, load, motor, room, tank
from tests.study.portable.machines import (
    THREE,
    empty,
    groups_for,
    interlock,
    offering,
    portable,
)

COLD = (DesignDay("cold", "Cold day", "winter", 1.0, 5.0, 25.0),)


def only(one, *portables, **changes):
    """Give the only option at a home."""
    option, = by_hand(one, offering(*portables, **changes)).options
    return option


def test_periods_cover_the_day_once():
    """From 6 to 22 h every 2 h: eight periods and a night; around the clock there is no night."""
    usual = periods_of(Attendance())
    assert [usual.hour(p) for p in range(usual.count)] == [6, 8, 10, 12, 14, 16, 18, 20, 22]
    assert [int((usual.of_slot == p).sum()) for p in range(usual.count)] == [8] * 8 + [32]
    assert usual.attended.sum() == 64
    round_the_clock = periods_of(Attendance(0.0, 24.0, 6.0))
    assert not round_the_clock.has_night
    assert round_the_clock.attended.all()
    uneven = periods_of(Attendance(6.0, 21.0, 4.0))
    assert [int((uneven.of_slot == p).sum()) for p in range(uneven.count)] == [16, 16, 16, 12, 36]


@pytest.mark.parametrize("kw", [0.0, 1.0, 2.5, 4.0, 5.0])
def test_fuel_is_that_of_every_generator(kw):
    """Straight lines through the three figures, as in `fuel_btu_h`; 15 min a slot (derived)."""
    one = portable(5.0)
    groups = groups_for(home(clock("light", 1.0, (0.0, 24.0))), one)
    state, runs = state_of(groups.machine, groups.periods, empty(groups))
    state.mean_kw[:] = kw
    use = groups.machine.supply.generator.ratings["natural gas"].fuel
    gal = running_gal(state, one.kw, one.gal_h, np.ones_like(runs))
    assert gal[0] * 4.0 == pytest.approx(fuel_btu_h(kw, one.kw, use) / GASOLINE_BTU_PER_GAL)
    assert BTU_PER_KWH * one.kw < GASOLINE_BTU_PER_GAL * one.gal_h[2]


@pytest.mark.parametrize("tank_gal", [2.0, 4.0, 7.0, 30.0])
def test_the_tank_never_runs_dry_while_somebody_is_there(tank_gal):
    """Between two refuellings no more is burnt than 90 % of a tank; each stops it for 30 min."""
    one = home(clock("light", 1.0, (0.0, 24.0)), food("fridge"), clock("pump", 2.0, (8.0, 9.0)),
               attendance=Attendance(6.0, 22.0, 2.0))
    option = only(one, portable(5.0, tank_gal=tank_gal))
    gal = option._gal.reshape(-1, one.spell_days * 96)[0]
    refuels = [option.periods.begins[p] for p in option.refuellings[0]]
    off = option.schedule.off[0]
    assert refuels
    for first in refuels:
        assert off[first:first + 2].all()
    assert off.sum() == 2 * len(refuels)
    left = TANK_SHARE * tank_gal
    for t, burnt in enumerate(gal):
        if t % 96 in refuels:
            left = TANK_SHARE * tank_gal
        left -= burnt
        assert left > -1e-9, t


def test_a_tank_too_small_for_what_must_run_ends_in_the_night():
    """4 kW that must run burn 0.65 gal/h; 2.7 gal of a tank of 3 last 4.2 h of the night (derived).

    Filled from 22:00 to 22:30, it ends at 2:30, before a slot that it would not feed in full.
    """
    one = home(clock("must", 4.0, (0.0, 24.0), must_run=True), attendance=THREE)
    option = only(one, portable(5.0, tank_gal=3.0, gal_h=(0.25, 0.5, 0.75)))
    assert option.night_ends_h(0) == 2.5
    assert [load.id for load in option.missed] == ["must"]


def test_the_engine_stands_with_nothing_closed_and_before_anybody_is_up():
    """No breaker, no engine; asleep, the first night is dark, the second is not."""
    one = home(clock("light", 1.0, (0.0, 24.0)), attendance=THREE)
    groups = groups_for(one, portable(5.0))
    house, nothing = house_of(one), empty(groups)
    assert not engine_runs(house, groups.periods, nothing).any()
    all_on = nothing.with_groups(np.ones_like(nothing.groups))
    runs = engine_runs(house, groups.periods, all_on, asleep=True)[0]
    assert not runs[0, :24].any()
    assert runs[0, 24:].all()
    assert runs[1:].all()


def test_the_air_conditioner_starts_by_its_own_numbers():
    """Yes, only with a soft starter, or no; without it where 240 V are missing.

    At a dip of 25 % a machine of X'd 0.25 starts S/3 · 4 = 1.33 S kVA: 16 kVA need 12 kVA, and 40 %
    of them behind a soft starter 4.8 kVA (derived).
    """
    air = replace(motor("air", 3.0, 16.0), nature="room", use=room("it", 1.0).use)
    one = home(air, attendance=THREE)
    answers = [by_hand(one, offering(portable(kw))).options[0].starts[0]
               for kw in (14.0, 10.0, 2.0)]
    assert [found.starts for found in answers] == ["yes", "with a soft starter", "no"]
    assert answers[1].startable_kva == pytest.approx(10.0 * 4.0 / 3.0)
    assert answers[1].start_kva == 16.0
    low = portable(10.0, volts=120)
    assert by_hand(one, offering(low, transfers=(interlock(volts=120),))).options[0].starts[
        0].starts == "no"


def test_a_soft_starter_is_bought_where_it_keeps_more():
    """Then it is an option beside the one without, dearer by its price, with the room cooled."""
    air = replace(motor("air", 3.0, 16.0), nature="room", use=room("it", 1.0).use)
    plain, soft = by_hand(home(air, attendance=THREE), offering(portable(10.0))).options
    assert (sum(plain.machine.soft_start), sum(soft.machine.soft_start)) == (0, 1)
    assert soft.kept > plain.kept + 0.3
    without_fuel = [sum(line.usd for line in one.lines[:-1]) for one in (plain, soft)]
    assert without_fuel == [800.0 + 150.0 + 90.0 + 400.0, 1440.0 + 330.0]


def test_a_switch_takes_as_many_poles_as_it_has():
    """Of four circuits of 120 V and one of 240 V the three positions take what matters most."""
    loads = [clock(f"light-{n}", 0.5, (8.0, 8.0), leg="L1", importance=n) for n in (1, 2, 3, 4)]
    one = home(*loads, tank("heater", 1.0, importance=2), attendance=THREE)
    switch = interlock(kind="switch", positions=3)
    option = only(one, portable(10.0), transfers=(switch,))
    assert {load.id for load in option.circuits} == {"light-4", "light-3", "light-2"}
    everything = only(one, portable(10.0))
    assert len(everything.circuits) == 5


def test_what_nobody_may_leave_alone_is_refused():
    """Medical equipment, a pit, a house that freezes, what must run: each said, with its reason."""
    calm = home(clock("light", 1.0, (18.0, 4.0)), food("fridge"))
    assert unattended(house_of(calm)) == ()
    medical = load("oxygen", 0.5, kind=MEDICAL, must_run=True)
    pit = load("sump", 0.6, nature="pit")
    must = clock("server", 0.3, (0.0, 24.0), must_run=True)
    heat = room("furnace", 0.5, cools=False)
    found = unattended(house_of(home(medical, pit, must, heat, days=COLD)))
    assert [one.what for one in found] == ["oxygen", "sump", "Heat", "server"]
    assert "Cold day" in found[2].why
    warm = unattended(house_of(home(room("air", 2.0))))
    assert warm == ()


def test_a_book_that_offers_none_has_no_option():
    """Neither a book without portable generators nor one whose inlets fit none makes an option."""
    one = home(base(0.2))
    assert by_hand(one, offering()).shown is None
    assert by_hand(one, offering(portable(5.0), transfers=(interlock(inlet_a=30.0),))).options == ()


def test_the_one_shown_breaks_least_then_keeps_most_then_costs_least():
    """Two machines that keep the same: the cheaper is shown."""
    one = home(clock("light", 1.0, (8.0, 4.0)), attendance=THREE)
    cheap, dear = portable(5.0), portable(6.0, id="dear", price=1500.0)
    small = portable(0.5, id="small", price=300.0)
    found = by_hand(one, offering(dear, cheap, small))
    assert [option.portable.id for option in found.options] == ["small", "portable", "dear"]
    assert found.shown.portable.id == "portable"


def test_attention_is_what_is_done_by_hand():
    """10 min a change, 30 min a refuelling, 15 min a day (common practice, no source)."""
    one = home(clock("morning", 4.0, (8.0, 4.0)), clock("evening", 4.0, (15.0, 4.0)),
               attendance=Attendance(6.0, 22.0, 8.0))
    option = only(one, portable(5.0))
    refuels = len(option.refuellings[0])
    assert option.switchings[0] > 0
    assert option.attention_h[0] == pytest.approx(
        option.switchings[0] / 6.0 + 0.5 * refuels + 0.25)
    assert option.closed[0].any(axis=0).all()
    assert not option.closed[0].all(axis=1).any()
