"""The overcurrent device of a branch circuit against the clauses that size it."""

from __future__ import annotations

import pytest

from planner.facts.home import CodeEntry
from planner.physics.wire.branch import branch_circuit, usual_branch, vehicle_a
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A
from tests.homes import load


def branch(category, va, **changes):
    """Branch circuit of a load by its code category and nameplate."""
    return branch_circuit(load("it", 1.0, code=CodeEntry(category, va), **changes))


@pytest.mark.parametrize(("amperes", "breaker_a"), [
    (16.0, 20.0), (24.0, 30.0), (32.0, 40.0), (40.0, 50.0), (48.0, 60.0), (80.0, 100.0)])
def test_a_charger_is_a_continuous_load(amperes, breaker_a):
    """NEC 625.41, from memory: 125 % of the charger's current, the next rating of 240.6(A)."""
    found = branch("vehicle", 240.0 * amperes)
    assert (found.breaker_a, found.clause) == (breaker_a, "625.41")
    assert vehicle_a(breaker_a) == pytest.approx(amperes)


def test_a_motor_takes_250_percent_of_the_table():
    """NEC 430.52 and Table 430.248: 5 hp at 230 V, 28 A: 70 A. Half a horsepower: 12.25 A, 15 A.

    Annex D, D8, has the rule with a three-phase motor: 34 A, 85 A, 90 A.
    """
    found = branch("motor", 4000.0, motor_hp=5.0)
    assert (found.breaker_a, found.clause) == (70.0, "430.52")
    assert branch("motor", 900.0, motor_hp=0.5).breaker_a == 15.0
    assert branch("motor", 34.0 * 240.0).breaker_a == 90.0  # no horsepower: by its nameplate


@pytest.mark.parametrize(("mca_a", "breaker_a"), [(19.95, 35.0), (24.2, 40.0), (4.0, 15.0)])
def test_a_compressor_rounds_down(mca_a, breaker_a):
    """NEC 440.22(A), from memory: at most 225 % of its current, that is 1.8 times the ampacity.

    19.95 A: 35.9 A, so 35 A; 24.2 A: 43.6 A, so 40 A; but no less than the wire needs or 15 A.
    """
    found = branch("cooling", 240.0 * mca_a, compressor=True)
    assert (found.breaker_a, found.clause) == (breaker_a, "440.22(A)")


@pytest.mark.parametrize(("va", "breaker_a"), [(12_000.0, 50.0), (8800.0, 40.0), (5000.0, 25.0)])
def test_a_range_has_forty_amperes_at_least(va, breaker_a):
    """NEC 210.19(A)(3), from memory: 40 A from 8¾ kW; its nameplate decides, not what it draws.

    A range of 12 kW counts 8 kW (Table 220.55), 33.3 A, and stands behind 50 A.
    """
    assert branch("cooking", va).breaker_a == breaker_a


@pytest.mark.parametrize(("category", "va", "breaker_a", "clause"), [
    ("appliance", 4500.0, 30.0, "422.11(E)"),  # 18.75 A: 28.1 A
    ("appliance", 1200.0, 20.0, "422.11(E)"),  # 5 A
    ("dryer", 5000.0, 35.0, "422.11(E)"),  # 20.8 A: 31.3 A
    ("supplemental-heat", 10_000.0, 60.0, "424.4(B)"),  # 41.7 A: 52.1 A
    ("heating", 1500.0, 15.0, "424.4(B)"),  # 6.25 A: 7.8 A
    ("general", 2400.0, 15.0, "210.20(A)"),  # 10 A: 12.5 A
])
def test_heaters_and_appliances(category, va, breaker_a, clause):
    """NEC 422.11(E), from memory: 20 A up to 13.3 A, else 150 %; 424.4(B), 210.20(A): 125 %."""
    found = branch(category, va)
    assert (found.breaker_a, found.clause) == (breaker_a, clause)


def test_a_circuit_for_receptacles_is_taken_for_twenty_amperes():
    """NEC 210.11(C): a 120 V load may stand on a 20 A circuit, however little it draws."""
    assert branch("general", 100.0, leg="L1").breaker_a == 20.0


def usual(category, va, **changes):
    """Device that one would put ahead of a load, by its code category and nameplate."""
    return usual_branch(load("it", 1.0, code=CodeEntry(category, va), **changes))


@pytest.mark.parametrize(("va", "usual_a", "most_a"), [
    (5400.0, 30.0, 35.0), (5000.0, 30.0, 35.0), (4500.0, 30.0, 30.0), (7200.0, 40.0, 45.0),
    (3900.0, 20.0, 25.0), (1200.0, 20.0, 20.0)])
def test_a_ceiling_is_no_size(va, usual_a, most_a):
    """NEC 422.11(E), from memory: 150 % is a maximum; 125 % of the current is put there.

    22.5 A: 28.1, so 30 A; 18.75 A: 23.4, so 25 A, and 30 A as is usual, within 28.1 A rounded up;
    30 A: 37.5, so 40 A (fractions below one half drop). 16.25 A: 20.3 A by 125 %, 20 A.
    """
    assert (usual("dryer", va).breaker_a, branch("dryer", va).breaker_a) == (usual_a, most_a)


def test_a_motor_goes_by_the_table_not_by_its_nameplate():
    """NEC 430.6(A)(1), 430.52: 1 hp at 230 V is 8 A by Table 430.248, so 20 A; its plate has 10.

    10 A would be 25 A, which is the most that a module may have to stand behind.
    """
    assert usual("motor", 2400.0, motor_hp=1.0).breaker_a == 20.0
    assert branch("motor", 2400.0, motor_hp=1.0).breaker_a == 25.0


def test_a_compressor_starts_with_175_percent():
    """NEC 440.22(A), from memory: 24.2 A of ampacity is 19.4 A; 175 % 33.9, so 30 A; 225 % 40 A."""
    found = usual("cooling", 240.0 * 24.2, compressor=True)
    assert (found.breaker_a, found.clause) == (
        30.0, "440.22(A), up to 40 A if it does not start")


def test_fractions_below_one_half_drop():
    """NEC 220.5(B), from memory: a plate of 7700 VA for 32 A asks for 40.1 A, which is 40 A."""
    assert branch("vehicle", 7700.0).breaker_a == 40.0


def test_what_the_file_gives_wins():
    """A breaker that was read off the panel stands, whatever the rules say (by definition)."""
    found = branch("vehicle", 9600.0, breaker_a=70.0)
    assert found.breaker_a == 70.0
    assert found.given


@pytest.mark.parametrize("category", [
    "general", "small-appliance", "laundry", "appliance", "cooking", "dryer", "cooling",
    "heat-pump", "supplemental-heat", "heating", "vehicle", "motor", "air-handler",
    "fuel-heating"])
@pytest.mark.parametrize("va", [100.0, 3000.0, 9000.0, 20_000.0])
def test_every_device_is_standard_and_carries_its_load(category, va):
    """A rating of NEC 240.6(A), never below the nameplate to the whole ampere (220.5(B)).

    What one would put there is never above what the rules let stand there.
    """
    found = branch(category, va)
    assert found.breaker_a in STANDARD_RATINGS_A
    assert found.breaker_a >= va / 240.0 - 0.5
    for changes in ({}, {"compressor": True}, {"motor_hp": 1.0}):
        one, most = usual(category, va, **changes), branch(category, va, **changes)
        assert one.breaker_a in STANDARD_RATINGS_A
        assert va / 240.0 - 0.5 <= one.breaker_a <= most.breaker_a
