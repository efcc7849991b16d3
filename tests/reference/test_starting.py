"""Motor tables, locked-rotor kVA, voltage dip and the draw of a start from the engine.

The tables of the NEC were read in secondary copies: 430.248 of 1999 (there 430-148) and of a later
edition, which print the same values; 430.251(A) of 2008; of 430.7(B) the edition was not noted.
"""

from __future__ import annotations

from itertools import pairwise
from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.physics.motor_start import (
    engine_start_kw,
    locked_rotor_kva_from_code_letter,
    startable_kva,
    surge_profile,
    voltage_dip,
    voltage_dip_with_power_factor,
)
from planner.physics.motor_tables import (
    CODE_LETTER_KVA_PER_HP,
    FULL_LOAD_A,
    equivalent_hp,
    full_load_a,
)

LOCKED_ROTOR_A = {
    1 / 2: {115: 58.8, 208: 32.5, 230: 29.4},
    3 / 4: {115: 82.8, 208: 45.8, 230: 41.4},
    1.0: {115: 96.0, 208: 53.0, 230: 48.0},
    1.5: {115: 120.0, 208: 66.0, 230: 60.0},
    2.0: {115: 144.0, 208: 80.0, 230: 72.0},
    3.0: {115: 204.0, 208: 113.0, 230: 102.0},
    5.0: {115: 336.0, 208: 186.0, 230: 168.0},
    7.5: {115: 480.0, 208: 265.0, 230: 240.0},
    10.0: {115: 600.0, 208: 332.0, 230: 300.0},
}
"""NEC Table 430.251(A) (2008), locked-rotor current of single-phase motors [A]."""

REACTANCE = st.floats(0.05, 0.4)
KVA = st.floats(1.0, 80.0)


def test_locked_rotor_is_six_times_full_load():
    """NEC Table 430.251(A) (2008) is 6 × Table 430.248 at 115 V and 230 V, within 2 % at 208 V."""
    for hp, row in LOCKED_ROTOR_A.items():
        assert row[115] == pytest.approx(6.0 * FULL_LOAD_A[hp][115])
        assert row[230] == pytest.approx(6.0 * FULL_LOAD_A[hp][230])
        assert row[208] == pytest.approx(6.0 * FULL_LOAD_A[hp][208], rel=0.02)


def test_five_horsepower_at_230_volts():
    """NEC Tables 430.248 and 430.251(A): 28 A full load, 168 A locked rotor."""
    assert full_load_a(5.0, 230.0) == 28.0
    assert LOCKED_ROTOR_A[5.0][230] == 168.0


def test_full_load_table_properties():
    """NEC Table 430.248: current rises with hp, and falls about as the voltage rises."""
    sizes = sorted(FULL_LOAD_A)
    for volts in (115, 200, 208, 230):
        column = [FULL_LOAD_A[hp][volts] for hp in sizes]
        assert column == sorted(set(column))
    for row in FULL_LOAD_A.values():
        assert row[115] == pytest.approx(2.0 * row[230], rel=0.01)
        assert row[208] == pytest.approx(row[230] * 230.0 / 208.0, rel=0.02)
        assert row[200] == pytest.approx(row[230] * 230.0 / 200.0, rel=0.02)


def test_between_two_sizes_the_larger_counts():
    """Between two rows of NEC Table 430.248 the larger counts; 120 V and 240 V mean 115 and 230."""
    assert full_load_a(0.6, 240.0) == FULL_LOAD_A[3 / 4][230]
    assert full_load_a(0.333, 120.0) == FULL_LOAD_A[1 / 3][115]


@pytest.mark.parametrize(("amperes", "volts", "hp"), [
    (8.0, 240, 1.0), (8.1, 240, 1.5), (28.0, 230, 5.0), (0.0, 120, 1 / 6), (9.9, 115, 3 / 4),
    (50.0, 240, 10.0), (60.0, 240, 12.0)])
def test_a_current_stands_for_the_next_larger_horsepower(amperes, volts, hp):
    """NEC 440.12(A)(1), from memory: next higher row of Table 430.248; beyond in proportion."""
    assert equivalent_hp(amperes, volts) == pytest.approx(hp)


@given(st.floats(0.17, 10.0), st.sampled_from([120, 240]))
def test_horsepower_and_current_never_understate_each_other(hp, volts):
    """There and back leads to no smaller motor (derived: both take the next larger row)."""
    assert equivalent_hp(full_load_a(hp, volts), volts) >= hp * (1.0 - 3e-3)


def test_no_horsepower_for_what_is_no_current():
    """A negative current and a voltage without a column are refused."""
    with pytest.raises(ValueError, match="negative"):
        equivalent_hp(-1.0, 240)
    with pytest.raises(ValueError, match="480"):
        equivalent_hp(5.0, 480)


@pytest.mark.parametrize(("hp", "volts"), [(0.0, 230.0), (11.0, 230.0), (1.0, 480.0)])
def test_motors_outside_the_table_are_refused(hp, volts):
    """NEC Table 430.248 ends at 10 hp and holds no 480 V column."""
    with pytest.raises(ValueError, match=r"430\.248"):
        full_load_a(hp, volts)


def test_code_letters_leave_no_gap():
    """NEC Table 430.7(B): each range starts 0.01 above the last; no I, O or Q; V is open."""
    rows = list(CODE_LETTER_KVA_PER_HP.values())
    for (_, upper), (lower, _) in pairwise(rows):
        assert lower == pytest.approx(upper + 0.01)
    assert "".join(CODE_LETTER_KVA_PER_HP) == "ABCDEFGHJKLMNPRSTUV"
    assert rows[-1][1] is None


def test_code_letter_worked_example():
    """NEC Table 430.7(B): 10 hp, 230 V three-phase, 6.3 kVA/hp (lower end of H): 158.1 A.

    Derived: 1000 · 6.3 · 10 / (√3 · 230) = 158.1; the same was read in a text without a title. At
    the upper end of H 7.09 · 10 = 70.9 kVA (derived).
    """
    lowest = CODE_LETTER_KVA_PER_HP["H"][0]
    assert lowest * 10.0 * 1000.0 / (sqrt(3.0) * 230.0) == pytest.approx(158.1, abs=0.05)
    assert locked_rotor_kva_from_code_letter(10.0, "H") == pytest.approx(70.9)


def test_code_letter_at_the_upper_end():
    """NEC Table 430.7(B), F: 5.59 · 15 hp = 83.85 kVA, 232.7 A at 208 V three-phase (derived)."""
    kva = locked_rotor_kva_from_code_letter(15.0, "F")
    assert kva == pytest.approx(83.85)
    assert 1000.0 * kva / (sqrt(3.0) * 208.0) == pytest.approx(232.7, abs=0.05)


@pytest.mark.parametrize(("letter", "message"), [("V", "nameplate"), ("O", "no code letter")])
def test_code_letters_without_an_answer(letter, message):
    """V has no upper end, so the nameplate amperes are asked for; O does not exist."""
    with pytest.raises(ValueError, match=message):
        locked_rotor_kva_from_code_letter(3.0, letter)


@pytest.mark.parametrize(("starting_kva", "generator_kva", "dips"), [
    (10.0, 12.0, (0.1429, 0.1380, 0.1284, 0.1112)),
    (77.0 * 0.24, 20.0, (0.1560, 0.1508, 0.1407, 0.1223)),
    (25.0, 20.0, (0.2000, 0.1940, 0.1823, 0.1607)),
    (25.0, 12.0, (0.2941, 0.2873, 0.2736, 0.2481)),
])
def test_voltage_dip_values(starting_kva, generator_kva, dips):
    """Dip at X'd = 0.20: reactive form, then at power factors 0.3, 0.5 and 0.7 (derived).

    X·s / (1 + X·s) and 1 − |Z / (Z + jX)| with Z = (1/s)∠acos(pf), s = start over generator kVA.
    """
    ours = [voltage_dip(0.2, starting_kva, generator_kva)]
    ours += [voltage_dip_with_power_factor(0.2, starting_kva, generator_kva, power_factor)
             for power_factor in (0.3, 0.5, 0.7)]
    assert tuple(ours) == pytest.approx(dips, abs=6e-5)


@given(reactance=REACTANCE, starting=KVA, generator=KVA, power_factor=st.floats(0.0, 1.0))
def test_the_reactive_form_is_the_deeper_dip(reactance, starting, generator, power_factor):
    """The form that decides is never below the reported one, equal at power factor 0 (derived)."""
    deciding = voltage_dip(reactance, starting, generator)
    reported = voltage_dip_with_power_factor(reactance, starting, generator, power_factor)
    at_zero = voltage_dip_with_power_factor(reactance, starting, generator, 0.0)
    assert 0.0 <= reported <= deciding + 1e-12 < 1.0
    assert at_zero == pytest.approx(deciding)


@given(reactance=REACTANCE, generator=KVA, dip=st.floats(0.01, 0.6))
def test_startable_kva_is_the_inverse_of_the_dip(reactance, generator, dip):
    """What may be started at an allowed dip dips by exactly that."""
    kva = startable_kva(generator, reactance, dip)
    assert voltage_dip(reactance, kva, generator) == pytest.approx(dip)


def test_engine_start_worked_by_hand():
    """25 kVA at pf 0.7 on 20 kVA, X'd 0.2: dip 20 %, 25·0.7·0.8² = 11.2 kW (derived)."""
    assert engine_start_kw(25.0, 0.7, 0.2, 20.0) == pytest.approx(11.2)


@given(reactance=REACTANCE, starting=KVA, generator=KVA, power_factor=st.floats(0.1, 1.0))
def test_a_start_takes_less_than_locked_rotor_power(reactance, starting, generator, power_factor):
    """The dip spares the engine: less than the full-voltage kW, more on a stiffer generator."""
    drawn = engine_start_kw(starting, power_factor, reactance, generator)
    assert 0.0 < drawn < starting * power_factor
    assert engine_start_kw(starting, power_factor, reactance, 2.0 * generator) > drawn


def test_surge_profile():
    """One step at locked-rotor draw, cut by a soft starter; none for a load that starts softly.

    18 · 0.7 = 12.6 kW and 18 · 0.5 = 9 kVA (derived).
    """
    (step,) = surge_profile(18.0, 0.7, 0.3, running_kva=4.0)
    assert (step.seconds, step.kw, step.kva) == pytest.approx((0.3, 12.6, 18.0))
    (soft,) = surge_profile(18.0, 0.7, 0.3, running_kva=4.0, factor=0.5)
    assert soft.kva == pytest.approx(9.0)
    assert surge_profile(3.0, 0.7, 0.3, running_kva=4.0) == ()


@pytest.mark.parametrize("call", [
    lambda: voltage_dip(-0.1, 1.0, 1.0),
    lambda: voltage_dip(0.2, 1.0, 0.0),
    lambda: voltage_dip_with_power_factor(0.2, 1.0, 1.0, 1.2),
    lambda: startable_kva(10.0, 0.2, 1.0),
    lambda: startable_kva(10.0, 0.0, 0.2),
    lambda: engine_start_kw(10.0, 0.0, 0.2, 10.0),
    lambda: locked_rotor_kva_from_code_letter(0.0, "G"),
    lambda: surge_profile(18.0, 0.7, 0.0),
    lambda: surge_profile(18.0, 0.7, 0.3, factor=0.0),
])
def test_arguments_out_of_range_are_refused(call):
    """A figure that cannot be is an error, not a number."""
    with pytest.raises(ValueError, match=r"[Nn]eed|power factor|horsepower|soft|takes time"):
        call()
