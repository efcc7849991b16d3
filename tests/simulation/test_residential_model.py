"""The simulated tank beside OCHRE 0.9.2, a residential energy model (NREL, open source, BSD-3).

The numbers of that model lie in `data/residential_model.toml` with their inputs and the command
that printed them. It has twelve layers of water and looks at the thermostats once a minute; the
planner's tank has two layers and looks every 20 s. In both the upper element goes first. Both get
the same draws, temperatures, loss and efficiency.

Measured: heating up 109.7 min and 8.225 kWh here, 110 min and 8.25 kWh there (a step of a minute);
cooling 10 h to 121.80 degF in both; a day of 55 gal 7.25 and 7.26 kWh with the tank's own heat
counted, 6 starts in both. Heat-up and day may differ by 1 %: a minute of the element is already
0.9 % of the one, 1.1 % of the other. What this does not check is how soon a draw runs cold, which
layers do matter for.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import numpy as np
import pytest

from planner.facts.home import Use
from planner.physics.thermal import WATER_BTU_PER_GAL_DEGF
from planner.simulation.appliances.tank import TICK_S, write_tank
from planner.simulation.columns import (
    AIR,
    AROUND,
    GAIN,
    INLET,
    KW,
    LOWER,
    MASS,
    MISSED,
    SUN,
    TANK,
    TANK_BAND,
    TAP,
    UPPER,
)
from tests.simulation.alone import blank, machine, play, room

MODEL = tomllib.loads(
    (Path(__file__).parent / "data" / "residential_model.toml").read_text("utf-8"))
INPUT = MODEL["tank"]
KWH_PER_DEGF = INPUT["gal"] * WATER_BTU_PER_GAL_DEGF / 3412.0


def tank(*, start_degf, draws=()):
    """The planner's tank with the inputs of the model; draws in minutes and gal/min."""
    row, state = blank(TICK_S)
    row[KW] = INPUT["kw"]
    write_tank(row, state, kw=INPUT["kw"], gal=INPUT["gal"], set_degf=INPUT["set_degf"],
               loss_btu_h_degf=INPUT["loss_btu_h_degf"], efficiency=INPUT["efficiency"])
    row[INLET], row[AROUND] = INPUT["inlet_degf"], INPUT["room_degf"]
    row[TAP], row[TANK_BAND] = INPUT["tap_degf"], INPUT["band_degf"]
    state[UPPER] = state[LOWER] = start_degf
    events = np.array(draws, dtype=float).reshape(-1, 3) * [60.0, 60.0, 1.0 / 60.0]
    return machine(TANK, row, state, events=tuple(events.T), minute=((0.0, 0.0, 0.0),))


def mean_degf(machines):
    """Mean temperature of the water."""
    return (machines.state[0, UPPER] + 2.0 * machines.state[0, LOWER]) / 3.0


def test_the_draws_are_those_of_the_standard_day():
    """The medium pattern of the test of water heaters sums to 55 gal a day.

    10 CFR 430, Subpart B, Appendix E (from memory), as it comes with OCHRE 0.9.2.
    """
    gal = sum(length * size for _, length, size in MODEL["draws"]["events"])
    assert gal == pytest.approx(55.0, abs=0.01)


def test_it_heats_up_in_the_time_of_the_model():
    """Cold to hot without a draw: on-time and energy."""
    _, on, kw = play(tank(start_degf=INPUT["inlet_degf"]), 4 * 3600)
    assert on.sum() / 60.0 == pytest.approx(MODEL["heat_up"]["on_min"], abs=1.0)
    assert kw.sum() / 3600.0 == pytest.approx(MODEL["heat_up"]["kwh"], rel=0.01)


def test_it_cools_as_the_model_does():
    """Ten hours without power or a draw."""
    after, *_ = play(tank(start_degf=INPUT["set_degf"]), 10 * 3600, fed=False)
    assert mean_degf(after) == pytest.approx(MODEL["cool_down"]["end_degf"], abs=0.02)


def test_a_day_of_draws_takes_the_energy_of_the_model():
    """55 gal from a hot tank: electricity, less what the tank holds more at the end."""
    model = MODEL["draws"]
    after, on, kw = play(tank(start_degf=INPUT["set_degf"], draws=model["events"]), 24 * 3600)
    kwh, end_degf = kw.sum() / 3600.0, mean_degf(after)
    starts = int(on[0]) + int((np.diff(on.astype(int)) > 0).sum())
    net = kwh - KWH_PER_DEGF * (end_degf - INPUT["set_degf"])
    theirs = model["kwh"] - KWH_PER_DEGF * (model["end_degf"] - INPUT["set_degf"])
    assert net == pytest.approx(theirs, rel=0.01)
    assert starts == pytest.approx(model["starts"], abs=1)
    assert after.state[0, MISSED] == 0.0


def test_the_house_drifts_no_slower_than_the_model():
    """After a lasting step outdoors the planner's room follows sooner at every hour: the safe side.

    The model's linear house leaves out leakage, windows and radiation and is slower than a real
    one (34 % after a day), so this holds from one side only; the room's own course is held to
    closed forms in `test_room.py`.
    """
    house, before_h = room(Use("cooling", balance_degf=70.0, design_degf=95.0, full_duty=0.85),
                          80.0, sun=0.0), 0.0
    house.parameters[0, [GAIN, SUN]] = 0.0
    house.state[0, [AIR, MASS]] = 70.0
    for hour, share in zip(MODEL["drift"]["hours"], MODEL["drift"]["shares"], strict=True):
        house, *_ = play(house, round((hour - before_h) * 3600), fed=False,
                        first=round(before_h * 3600))
        before_h = hour
        assert share < (house.state[0, AIR] - 70.0) / 10.0 <= 1.0
