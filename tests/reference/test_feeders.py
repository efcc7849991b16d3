"""The feeder of a generator, its voltage drop and its grounding conductors against the code."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.home import CodeEntry
from planner.physics.wire import feeder, grounding, voltage_drop
from planner.physics.wire.branch import Branch
from planner.physics.wire.branch_wire import branch_conductor, cable_ampacity_a
from planner.physics.wire.conductor import next_standard_size_a
from planner.physics.wire.conductor_tables import CIRCULAR_MILS, SIZES
from planner.physics.wire.grounding import EQUIPMENT_GROUNDING
from planner.physics.wire.start_drop import start_voltages
from tests.homes import load, motor

MATERIALS = st.sampled_from(["copper", "aluminum"])
RACEWAYS = st.sampled_from(["PVC", "steel"])


def test_feeder_of_a_20_kw_generator():
    """NEC 445.13 and Table 310.16: 83.3 A, 90 A breaker, 95.8 A: 1 AWG at 60 degC, 3 AWG at 75.

    115 % of 83.3 A derived. Aluminum at 75 degC: 1 AWG (100 A), as 2 AWG carries 90 A.
    """
    plain = feeder.feeder_conductor(20000.0 / 240.0)
    assert (plain.size, plain.breaker_a, plain.terminals_degc) == ("1", 90.0, 60)
    assert plain.needed_a == pytest.approx(95.8, abs=0.05)
    marked = feeder.feeder_conductor(20000.0 / 240.0, terminals_degc=75)
    assert (marked.size, marked.ampacity_a) == ("3", 100.0)
    assert feeder.feeder_conductor(
        20000.0 / 240.0, terminals_degc=75, material="aluminum").size == "1"


def test_terminals_limit_wire_of_90_degc():
    """NEC 110.14(C) with Table 310.16: 6 AWG copper carries 55 A at 60 degC terminals, 65 at 75.

    At 50 degC air its 75 A of the 90 degC column become 75 · 0.82 = 61.5 A (derived), below 65.
    """
    assert feeder.ampacity_at_terminals_a("6", "copper", 60) == 55.0
    assert feeder.ampacity_at_terminals_a("6", "copper", 75) == 65.0
    assert feeder.ampacity_at_terminals_a("6", "copper", 75, ambient_degc=50.0) == pytest.approx(
        61.5)


def test_unmarked_terminals():
    """NEC 110.14(C)(1) (from memory): 60 degC up to 100 A, 75 above; a mark of 90 counts as 75."""
    assert [feeder.terminal_degc(a) for a in (100.0, 110.0)] == [60, 75]
    assert [feeder.terminal_degc(60.0, mark) for mark in (60, 75, 90)] == [60, 75, 75]
    with pytest.raises(ValueError, match="60, 75 or 90"):
        feeder.terminal_degc(60.0, 70)


@pytest.mark.parametrize(("size", "carried_a", "breaker_a", "kept"), [
    ("6", 55.0, 60.0, True), ("6", 55.0, 70.0, False), ("10", 40.0, 35.0, False),
    ("12", 30.0, 20.0, True), ("8", 40.0, 45.0, False)])
def test_next_standard_rating_may_protect(size, carried_a, breaker_a, kept):
    """NEC 240.4(B): 55 A behind 60 A, not 70; 40 A is a standard rating; 240.4(D): 10 AWG 30 A."""
    assert feeder.is_protected(size, "copper", carried_a, breaker_a) is kept


@given(st.floats(5.0, 250.0), MATERIALS, st.sampled_from([None, 60, 75]), st.floats(-10.0, 50.0),
       st.integers(2, 6))
def test_a_chosen_feeder_carries_what_is_asked(nameplate_a, material, marked, air_degc, count):
    """Derived from NEC 445.13 and 240.4: whatever is found holds, and the next smaller does not."""
    try:
        found = feeder.feeder_conductor(nameplate_a, material=material, terminals_degc=marked,
                                        ambient_degc=air_degc, current_carrying=count)
    except ValueError:
        assert feeder.ampacity_at_terminals_a(
            "500", material, feeder.terminal_degc(next_standard_size_a(nameplate_a), marked),
            ambient_degc=air_degc, current_carrying=count) < 1.15 * nameplate_a
        return
    assert found.ampacity_a >= found.needed_a - 1e-9
    assert found.needed_a == pytest.approx(1.15 * nameplate_a)
    assert found.breaker_a == next_standard_size_a(nameplate_a)
    assert feeder.is_protected(found.size, material, found.ampacity_a, found.breaker_a)
    place = SIZES.index(found.size)
    if SIZES[place - 1] in ("14",) or place == 0:
        return
    smaller_a = feeder.ampacity_at_terminals_a(
        SIZES[place - 1], material, found.terminals_degc, ambient_degc=air_degc,
        current_carrying=count)
    assert smaller_a < found.needed_a or not feeder.is_protected(
        SIZES[place - 1], material, smaller_a, found.breaker_a)


def test_no_feeder_in_parallel():
    """Above what 500 kcmil carries there is an error: 380 A at 75 degC is 330 A of nameplate."""
    with pytest.raises(ValueError, match="parallel"):
        feeder.feeder_conductor(340.0)


@given(st.floats(1.0, 200.0), st.floats(1.0, 400.0), st.floats(1.0, 2.0), MATERIALS, RACEWAYS)
def test_longer_or_more_is_never_a_smaller_drop(amperes, length_ft, more, material, raceway):
    """Derived: drop rises with length and current, falls with the size; a longest run just fits."""
    ohm = [voltage_drop.highest_ohm_per_kft(size, material, raceway) for size in SIZES
           if size not in ("14", "600")]
    assert ohm == sorted(ohm, reverse=True)
    drop_v = voltage_drop.voltage_drop_v(amperes, length_ft, ohm[0])
    assert voltage_drop.voltage_drop_v(amperes, more * length_ft, ohm[0]) >= drop_v
    assert voltage_drop.voltage_drop_v(more * amperes, length_ft, ohm[0]) >= drop_v
    assert voltage_drop.longest_run_ft(amperes, drop_v, ohm[0]) == pytest.approx(length_ft)


def test_size_against_voltage_drop():
    """80 A over 200 ft within 7.2 V (3 % of 240): 3 AWG loses 8.0 V, 2 AWG 6.2 V (derived).

    NEC Chapter 9, Tables 8 and 9: 0.25 and 0.194 ohm/kft at a power factor of 1.
    """
    assert voltage_drop.voltage_drop_v(80.0, 200.0, voltage_drop.highest_ohm_per_kft(
        "3")) == pytest.approx(8.0)
    assert voltage_drop.size_for_drop("3", 80.0, 200.0, 7.2) == "2"
    assert voltage_drop.size_for_drop("1", 80.0, 200.0, 7.2) == "1"
    with pytest.raises(ValueError, match="500 kcmil"):
        voltage_drop.size_for_drop("3", 80.0, 5000.0, 7.2)
    with pytest.raises(ValueError, match="Need a current"):
        voltage_drop.longest_run_ft(0.0, 1.0, 1.0)


@pytest.mark.parametrize(("breaker_a", "copper", "aluminum"), [
    (20.0, "12", "10"), (60.0, "10", "8"), (90.0, "8", "6"), (200.0, "6", "4"), (400.0, "3", "1")])
def test_equipment_grounding_conductor(breaker_a, copper, aluminum):
    """NEC Table 250.122 (from memory)."""
    assert grounding.equipment_grounding_size(breaker_a) == copper
    assert grounding.equipment_grounding_size(breaker_a, "aluminum") == aluminum


def test_grounding_grows_with_the_wires():
    """NEC 250.122(B): 3 AWG laid as 1/0 is 2.007 times; 8 AWG grows to 4 (derived: 33,137 cmil).

    It never need be larger than the wires (250.122(A)): 14 AWG laid as 12 at 15 A gives 12.
    """
    assert grounding.equipment_grounding_size(90.0, needed_size="3", laid_size="1/0") == "4"
    assert grounding.equipment_grounding_size(15.0, needed_size="14", laid_size="12") == "12"
    assert grounding.equipment_grounding_size(90.0, needed_size="3", laid_size="3") == "8"
    with pytest.raises(ValueError, match=r"250\.122"):
        grounding.equipment_grounding_size(801.0)


def test_grounding_tables_rise():
    """NEC Table 250.122 (from memory): sizes rise with the device, aluminum above copper."""
    for column in (1, 2):
        sizes = [CIRCULAR_MILS[row[column]] for row in EQUIPMENT_GROUNDING]
        assert sizes == sorted(sizes)
    for _, copper, aluminum in EQUIPMENT_GROUNDING:
        assert CIRCULAR_MILS[aluminum] > CIRCULAR_MILS[copper]


@pytest.mark.parametrize(("size", "material", "copper"), [
    ("4", "copper", "8"), ("2", "copper", "8"), ("1", "copper", "6"), ("2/0", "copper", "4"),
    ("4/0", "aluminum", "4"), ("4/0", "copper", "2"), ("2", "aluminum", "8")])
def test_electrode_conductor(size, material, copper):
    """NEC Table 250.66 (from memory); Table 250.102(C)(1) has the same sizes."""
    assert grounding.grounding_electrode_size(size, material) == copper
    assert grounding.supply_side_jumper_size(size, material) == copper


def test_electrode_conductor_of_an_unknown_size():
    """A size outside the table is refused."""
    with pytest.raises(ValueError, match=r"250\.66"):
        grounding.grounding_electrode_size("750")


def test_neutral_of_a_feeder():
    """NEC 220.61, 215.2(A)(2): 50 A of neutral take 6 AWG (55 A at 60 degC), 10 A the 8 of 250.122.

    A neutral of all the current is as large as the lines.
    """
    found = feeder.feeder_conductor(20000.0 / 240.0)
    assert feeder.neutral_conductor(50.0, found, "8") == "6"
    assert feeder.neutral_conductor(10.0, found, "8") == "8"
    assert feeder.neutral_conductor(300.0, found, "8") == found.size


def test_the_neutral_grows_with_the_lines():
    """Lines laid larger than the code asks take the neutral with them (a choice, no source)."""
    found = feeder.feeder_conductor(20000.0 / 240.0)
    assert feeder.neutral_conductor(10.0, found, "8", laid_size="2/0") == "2/0"
    assert feeder.neutral_conductor(10.0, found, "8", laid_size=found.size) == "8"


@pytest.mark.parametrize(("needed_a", "degc", "air_degc", "size"), [
    (100.0, 60, 30.0, "1"), (150.0, 75, 30.0, "1/0"), (200.0, 75, 30.0, "3/0"),
    (200.0, 75, 50.0, "4/0"), (20.0, 60, 30.0, "12")])
def test_a_wire_behind_a_breaker(needed_a, degc, air_degc, size):
    """NEC Table 310.16 with 110.14(C): 1 AWG 110 A at 60 degC, 1/0 150 A at 75.

    In air of 50 degC 3/0 carries 225 · 0.82 = 184.5 A, 4/0 213.2 A (derived).
    """
    assert feeder.carrying_conductor(needed_a, degc, ambient_degc=air_degc) == size


def test_a_start_on_one_leg_comes_back_through_the_neutral():
    """Derived: 0.04 Ω of line and 0.12 Ω of neutral are 0.16 Ω, as two conductors of 0.08 Ω are.

    A start across both lines knows no neutral.
    """
    one_leg = start_voltages(5.0, 0.5, 120.0, 20.0, 0.2, 0.04 + 0j, neutral_ohm=0.12 + 0j)
    alike = start_voltages(5.0, 0.5, 120.0, 20.0, 0.2, 0.08 + 0j)
    assert one_leg.panel_dip == pytest.approx(alike.panel_dip)
    both = [start_voltages(5.0, 0.5, 240.0, 20.0, 0.2, 0.04 + 0j, neutral_ohm=ohm)
            for ohm in (None, 0.12 + 0j)]
    assert both[0] == both[1]


def test_a_motor_that_plugs_in_is_protected_by_its_breaker():
    """NEC 240.4(D): 14 AWG stands behind 15 A at most; 240.4(G) frees motors that are wired in.

    Workshop machines of 12 A behind 30 A: 10 AWG; a pool pump alike: 14 AWG carries its 15 A.
    """
    at = {"code": CodeEntry("motor", 12.0 * 240.0), "motor_hp": 1.5}
    tools = replace(load("tools", 2.0, **at), kind="workshop tools")
    pump = replace(load("pump", 2.0, **at), kind="pool pump")
    assert branch_conductor(tools, Branch(30.0, "as the file gives it")) == "10"
    assert branch_conductor(pump, Branch(30.0, "as the file gives it")) == "14"


def test_the_wire_of_a_motor_follows_the_motor():
    """NEC 440.33 with Table 310.16: an ampacity of 18 A takes 12 AWG behind its 30 A breaker.

    A dryer of 5 kW on the same breaker takes 10 AWG (240.4(D)); a 48 A charger on 60 A needs 60 A
    (210.19(A)), 4 AWG at 60 degC.
    """
    air = replace(motor("air", 3.0, 20.0), code=CodeEntry("cooling", 18.0 * 240.0))
    assert branch_conductor(air, Branch(30.0, "as the file gives it")) == "12"
    dryer = load("dryer", 5.0, code=CodeEntry("dryer", 5000.0))
    assert branch_conductor(dryer, Branch(30.0, "422.11(E)")) == "10"
    charger = load("car", 11.52, code=CodeEntry("vehicle", 11520.0))
    assert branch_conductor(charger, Branch(60.0, "625.41")) == "4"


def test_cables_in_a_bundle():
    """NEC 334.80: 12 AWG, 30 A at 90 degC: three cables 80 % = 24, no more than 20 A; six 50 %.

    Three cables are six conductors, six are twelve (derived); two lie free.
    """
    assert [cable_ampacity_a("12", bundled_cables=n) for n in (1, 2, 3)] == [20.0, 20.0, 20.0]
    assert cable_ampacity_a("12", bundled_cables=6) == pytest.approx(15.0)
    with pytest.raises(ValueError, match="at least one"):
        cable_ampacity_a("12", bundled_cables=0)
