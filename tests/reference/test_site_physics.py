"""Starts through wire, short circuits, sound and clearances against the circuit and the codes."""

from __future__ import annotations

from cmath import rect
from math import acos, log10

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.physics import clearances, noise
from planner.physics.motor_start import voltage_dip_with_power_factor
from planner.physics.wire import fault
from planner.physics.wire.start_drop import run_ohm, start_voltages

KVA = st.floats(5.0, 60.0)


@given(KVA, KVA, st.floats(0.05, 0.3), st.floats(0.1, 1.0))
def test_without_wire_it_is_the_dip_of_the_generator(starting_kva, kva, reactance, power_factor):
    """Derived: with no feeder the series circuit is the voltage divider of the plain dip."""
    found = start_voltages(starting_kva, power_factor, 240.0, kva, reactance, 0j)
    dip = voltage_dip_with_power_factor(reactance, starting_kva, kva, power_factor)
    assert found.panel_dip == pytest.approx(dip, abs=1e-12)
    assert found.at_motor == found.at_panel == found.at_generator


@given(KVA, st.floats(0.1, 1.0), st.floats(1.0, 300.0), st.floats(1.0, 3.0),
       st.sampled_from(["10", "6", "2", "1/0", "250"]))
def test_wire_lowers_the_voltage_step_by_step(starting_kva, power_factor, length_ft, more, size):
    """Derived: each piece of wire takes some, and a longer one never takes less at the motor."""
    branch_ohm = run_ohm("10", 40.0)
    short = start_voltages(starting_kva, power_factor, 240.0, 20.0, 0.2,
                           run_ohm(size, length_ft), branch_ohm)
    long = start_voltages(starting_kva, power_factor, 240.0, 20.0, 0.2,
                          run_ohm(size, more * length_ft), branch_ohm)
    assert short.at_generator > short.at_panel > short.at_motor > 0.0
    assert long.at_panel <= short.at_panel + 1e-12
    assert long.at_motor <= short.at_motor + 1e-12


def test_a_long_feeder_and_the_simple_form():
    """100 A of locked rotor at 0.7 over 150 ft of 3 AWG on 20 kVA with X'd 0.2 (derived).

    240 V: motor 2.4 ohm at 45.6 degrees = 1.68 + 1.714j; feeder 2 · 0.15 · (0.25 + 0.047j) =
    0.075 + 0.0141j; source 0.576j. Panel |1.68 + 1.714j| / |1.755 + 2.304j| = 0.8287. The simple
    form adds the dip of the generator alone and I·(R·cosθ + X·sinθ) / V: 14.98 % + 2.6 %; it is
    rough, and within a point.
    """
    ohm = run_ohm("3", 150.0)
    found = start_voltages(24.0, 0.7, 240.0, 20.0, 0.2, ohm)
    motor = rect(2.4, acos(0.7))
    assert found.at_panel == pytest.approx(abs(motor) / abs(motor + 2.0 * ohm + 0.576j))
    assert found.at_panel == pytest.approx(0.8287, abs=2e-4)
    alone = voltage_dip_with_power_factor(0.2, 24.0, 20.0, 0.7)
    simple = alone + 2.0 * 100.0 * (ohm.real * 0.7 + ohm.imag * (1.0 - 0.49) ** 0.5) / 240.0
    assert found.panel_dip == pytest.approx(simple, abs=0.01)


def test_a_start_on_one_leg():
    """Derived: 120 V sees half of the source: 6 kVA on one leg dips like 12 kVA across both."""
    one = start_voltages(6.0, 0.5, 120.0, 20.0, 0.2, 0j)
    both = start_voltages(12.0, 0.5, 240.0, 20.0, 0.2, 0j)
    assert one.at_panel == pytest.approx(both.at_panel)


def test_starts_that_do_not_exist_are_refused():
    """No start without kVA, no motor of 208 V, no power factor above 1."""
    for arguments in ((0.0, 0.5, 240.0), (5.0, 0.5, 208.0), (5.0, 1.1, 240.0)):
        with pytest.raises(ValueError, match="Need"):
            start_voltages(*arguments, 20.0, 0.2, 0j)


def test_short_circuit_of_a_generator():
    """20 kVA at 240 V: 83.3 A; over X''d 0.10 it is 833 A (derived); X''d unknown: half of X'd.

    That X''d is above half of X'd is from memory.
    """
    assert fault.generator_fault_a(20.0, 0.10) == pytest.approx(833.3, abs=0.1)
    assert fault.subtransient_reactance(0.2) == 0.1
    assert fault.subtransient_reactance(0.2, 0.15) == 0.15
    with pytest.raises(ValueError, match="positive"):
        fault.generator_fault_a(20.0, 0.0)


@given(st.floats(50.0, 80.0), st.floats(1.0, 400.0))
def test_sound_falls_by_six_decibels_for_each_doubling(stated_db, distance_ft):
    """Derived: twice the distance is a quarter of the power: 10·log₁₀ 4 = 6.02 dB less."""
    near, far = (noise.level_db(stated_db, ft) for ft in (distance_ft, 2.0 * distance_ft))
    assert near - far == pytest.approx(10.0 * log10(4.0))
    assert near - far == pytest.approx(6.02, abs=5e-3)
    assert noise.distance_for_db_ft(stated_db, near) == pytest.approx(distance_ft)
    assert noise.level_db(stated_db, noise.REFERENCE_FT) == stated_db


def test_no_sound_level_at_no_distance():
    """At 0 ft the law has no value."""
    with pytest.raises(ValueError, match="positive"):
        noise.level_db(65.0, 0.0)


def test_clearances():
    """NFPA 37 4.1.4: 5 ft; NEC 110.26(A) (from memory): 36 in, 30 in, 78 in."""
    assert (clearances.FROM_OPENINGS_FT, clearances.FROM_WALLS_FT) == (5.0, 5.0)
    assert (clearances.WORKING_DEPTH_IN, clearances.WORKING_WIDTH_IN,
            clearances.WORKING_HEIGHT_IN) == (36.0, 30.0, 78.0)


@pytest.mark.parametrize(("gal", "feet"), [
    (120.0, 0.0), (125.0, 10.0), (500.0, 10.0), (501.0, 25.0), (1000.0, 25.0), (2000.0, 25.0)])
def test_distance_of_a_tank_from_buildings(gal, feet):
    """NFPA 58 Table 6.4.1.1 (from memory), both sides of each step."""
    assert clearances.tank_distance_ft(gal) == feet


def test_a_tank_beyond_the_table_is_the_suppliers():
    """Above 2000 gal the table has a larger distance that is not held here."""
    with pytest.raises(ValueError, match="2000 gal"):
        clearances.tank_distance_ft(2001.0)
