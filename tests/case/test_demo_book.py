"""The demonstration price book follows the rules that its header states, figure by figure.

Preferred numbers: ISO 3 rounds 10^(k/40), k whole, to the terms of R40; R10 and R5 are every fourth
and every eighth of them.
"""

from __future__ import annotations

import math
from itertools import pairwise
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.facts.price_book import Derating
from planner.physics.motor_tables import FULL_LOAD_A
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A

BOOK = read_book(Path(__file__).parents[2] / "cases" / "demo_price_book.toml")[0]
AIR = tuple(one for one in BOOK.generators if one.cooling == "air")
LIQUID = tuple(one for one in BOOK.generators if one.cooling == "liquid")
PARTS = (*BOOK.generators, *BOOK.transfers, *BOOK.modules, *BOOK.controllers, *BOOK.soft_starters)
R40 = (1.0, 1.06, 1.12, 1.18, 1.25, 1.32, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9, 2.0, 2.12, 2.24, 2.36, 2.5,
       2.65, 2.8, 3.0, 3.15, 3.35, 3.55, 3.75, 4.0, 4.25, 4.5, 4.75, 5.0, 5.3, 5.6, 6.0, 6.3, 6.7,
       7.1, 7.5, 8.0, 8.5, 9.0, 9.5)  # ISO 3, Table 1, from memory; held against 10^(k/40) below
BTU_PER_KWH = 3412.0  # US Energy Information Administration


def term(value):
    """Give the place of a preferred number in R40, 0 for 1."""
    tens = math.floor(math.log10(value))
    return 40 * tens + R40.index(round(value / 10.0**tens, 6))


def steps(values):
    """Give by how many terms of R40 each value is above the one before."""
    return [term(large) - term(small) for small, large in pairwise(values)]


def on_the_line(kw, sizes, ends):
    """Give what lies between the values at the ends of a range of sizes [kW]."""
    return ends[0] + (kw - sizes[0]) / (sizes[1] - sizes[0]) * (ends[1] - ends[0])


def propane_kw(generator):
    """Give the size of a generator."""
    return generator.ratings["propane"].kw


def priced(part, price, installation, to):
    """Hold the two prices of a part against their rule, to the nearest `to` USD."""
    for found, rule in ((part.price, price), (part.installation, installation)):
        assert found % to == 0.0
        assert found == pytest.approx(rule, abs=0.5 * to)


def test_the_series_is_the_one_that_it_rounds():
    """Every term of R40 lies within 1.3 % of 10^(k/40) (derived); the next lies 5.9 % on."""
    for place, one in enumerate(R40):
        assert one == pytest.approx(10.0 ** (place / 40.0), rel=0.013)


@pytest.mark.parametrize("odd", [18.5, 24.0, 11.5, 46.0, 8.0001])
def test_a_number_of_no_series_is_found(odd):
    """These are no terms of R40, so the check of the sizes can fail."""
    with pytest.raises(ValueError, match="not in tuple"):
        term(odd)


def test_sizes_are_preferred_numbers():
    """R40/2 from 8.5 to 23.6 kW air-cooled, R40/4 from 30 to 47.5 kW liquid-cooled (ISO 3)."""
    assert [propane_kw(AIR[0]), propane_kw(AIR[-1])] == [8.5, 23.6]
    assert [propane_kw(LIQUID[0]), propane_kw(LIQUID[-1])] == [30.0, 47.5]
    assert steps([propane_kw(one) for one in AIR]) == [2] * 9
    assert steps([propane_kw(one) for one in LIQUID]) == [4] * 2


def test_apparent_power_follows_from_the_size():
    """As many kVA as kW, air-cooled; four terms of R40 above them, liquid-cooled."""
    assert [one.ratings["propane"].kva for one in AIR] == [propane_kw(one) for one in AIR]
    for one in LIQUID:
        kva = one.ratings["propane"].kva
        assert term(kva) - term(propane_kw(one)) == 4
        assert propane_kw(one) / kva == pytest.approx(0.8, rel=0.014)


@pytest.mark.parametrize("generator", BOOK.generators, ids=lambda one: one.id)
def test_ratings_and_fuel_follow_from_the_size(generator):
    """Natural gas 90 % of propane; amperes of the kVA, rounded down; fuel by its efficiency."""
    propane, gas = generator.ratings["propane"], generator.ratings["natural gas"]
    assert gas.kw == pytest.approx(0.9 * propane.kw)
    assert gas.kva == pytest.approx(0.9 * propane.kva)
    for rating in (propane, gas):
        exact_a = 1000.0 * rating.kva / 240.0
        assert generator.breaker_a >= rating.amperes
        assert exact_a - 0.1 < rating.amperes <= exact_a + 1e-9
        assert round(10.0 * rating.amperes) == pytest.approx(10.0 * rating.amperes)
        full = rating.kw * BTU_PER_KWH / (0.20 if generator.cooling == "air" else 0.24)
        fuel = rating.fuel
        for burnt, share in ((fuel.no_load_btu_h, 1 / 3), (fuel.half_load_btu_h, 2 / 3),
                             (fuel.full_load_btu_h, 1.0)):
            assert burnt % 1000.0 == 0.0
            assert burnt == pytest.approx(share * full, abs=500.0)


def test_inlet_pressures_are_the_same_for_all():
    """5 inWC of natural gas and 10 of propane at the least, terms of R10 (ISO 3)."""
    for one in BOOK.generators:
        inlets = {fuel: rating.inlet_in_wc for fuel, rating in one.ratings.items()}
        assert inlets == {"natural gas": pytest.approx(5.0), "propane": pytest.approx(10.0)}
        assert all(term(round(inlet, 6)) % 4 == 0 for inlet in inlets.values())


@pytest.mark.parametrize("generator", BOOK.generators, ids=lambda one: one.id)
def test_the_machine_and_its_price_follow_from_the_size(generator):
    """Reactance, inertia and short-time power lie on lines between two ends; so do prices."""
    kw, air = propane_kw(generator), generator.cooling == "air"
    sizes = (8.5, 23.6) if air else (30.0, 47.5)
    assert generator.reactance == pytest.approx(
        on_the_line(kw, sizes, (0.25, 0.16) if air else (0.15, 0.12)), abs=0.005 + 1e-9)
    assert generator.inertia_s == pytest.approx(
        on_the_line(kw, sizes, (0.35, 0.50) if air else (0.80, 0.90)), abs=0.005 + 1e-9)
    assert generator.short_time == pytest.approx(
        on_the_line(kw, sizes, (1.05, 1.10)) if air else 1.15, abs=0.005 + 1e-9)
    assert generator.performance_class == ("G1" if air else "G2")
    assert generator.noise_db == pytest.approx(
        on_the_line(kw, sizes, (63.0, 69.0) if air else (66.0, 70.0)), abs=0.5 + 1e-9)
    assert generator.noise_db % 1.0 == 0.0
    sides_in = (generator.length_in, generator.width_in)
    assert sides_in == ((63.0, 31.5) if air else (100.0, 40.0))
    assert all(term(side) % 4 == 0 for side in sides_in)
    assert generator.subtransient is None
    assert generator.derating == Derating(0.035, 0.0, 0.01, 77.0)
    price, installation = ((1000.0 + 200.0 * kw, 2000.0 + 80.0 * kw) if air
                           else (4500.0 + 280.0 * kw, 4400.0 + 60.0 * kw))
    priced(generator, price, installation, 25.0)


@pytest.mark.parametrize("generator", BOOK.generators, ids=lambda one: one.id)
def test_the_breaker_is_the_next_standard_rating(generator):
    """The smallest rating of NEC 240.6(A) that is not below the amperes on propane."""
    amperes = generator.ratings["propane"].amperes
    assert generator.breaker_a == min(one for one in STANDARD_RATINGS_A if one >= amperes)


def test_transfer_equipment_follows_its_rules():
    """Ratings of NEC 240.6(A); positions R5 from 10 (ISO 3); prices by ampere or position."""
    for kind in ("whole-house", "selected-circuits"):
        found = [one for one in BOOK.transfers if one.kind == kind]
        assert [one.rating_a for one in found] == [100.0, 150.0, 200.0, 400.0]
        assert {one.rating_a for one in found} <= set(STANDARD_RATINGS_A)
        assert {(one.switches_neutral, one.short_circuit_a) for one in found} == {(False, 10000.0)}
        assert {one.service_rated for one in found} == {True if kind == "whole-house" else None}
        if kind == "whole-house":
            for one in found:
                priced(one, 300.0 + 2.5 * one.rating_a, 300.0 + 2.0 * one.rating_a, 1.0)
        else:
            assert found[0].positions == 10
            assert steps([one.positions for one in found]) == [8] * 3
            for one in found:
                priced(one, 250.0 + 25.0 * one.positions, 200.0 + 30.0 * one.positions, 1.0)


def test_shedding_modules_follow_their_rules():
    """Ratings of NEC 240.6(A); the largest row of NEC Table 430.248 that the module carries.

    One has a button that asks for power, for 40 USD more and 60 USD more to put in.
    """
    contactors = [one for one in BOOK.modules if one.action == "contactor"]
    assert [(one.poles, one.amperes, one.senses) for one in contactors] == [
        (1, 25.0, "current"), (2, 60.0, "current"), (2, 60.0, "call"), (2, 90.0, "current")]
    assert {one.amperes for one in contactors} <= set(STANDARD_RATINGS_A)
    for one in contactors:
        volts = 115 if one.poles == 1 else 230
        assert one.motor_hp == max(hp for hp, row in FULL_LOAD_A.items()
                                   if row[volts] <= one.amperes)
        assert one.full_load_a == FULL_LOAD_A[one.motor_hp][volts]
        assert one.locked_rotor_a == 6.0 * one.full_load_a
        assert one.short_circuit_a == 10_000.0
        assert one.largest_breaker_a is None  # behind a breaker of its own amperes at most
        pole_a = one.poles * one.amperes
        button, wiring = (40.0, 60.0) if one.senses == "call" else (0.0, 0.0)
        priced(one, 60.0 + 1.25 * pole_a + button, 75.0 + 0.40 * pole_a + wiring, 5.0)
    thermostat, = (one for one in BOOK.modules if one.action == "thermostat")
    priced(thermostat, 75.0, 75.0, 5.0)


def test_controllers_follow_their_rules():
    """Every third term of R10 from 5 (ISO 3): 5, 10, 20 modules; prices by module; no setpoint."""
    assert BOOK.controllers[0].modules == 5
    assert steps([one.modules for one in BOOK.controllers]) == [12] * 2
    for one in BOOK.controllers:
        priced(one, 50.0 + 30.0 * one.modules, 100.0 + 10.0 * one.modules, 1.0)
        assert one.setpoint_a is None


def test_soft_starters_follow_their_rules():
    """18 A and 35.5 A are terms of R40 (ISO 3); prices by the ampere; 5,000 A in a fault."""
    assert [one.amperes for one in BOOK.soft_starters] == [18.0, 35.5]
    for one in BOOK.soft_starters:
        assert one.short_circuit_a == 5000.0
        term(one.amperes)
        priced(one, 60.0 + 6.0 * one.amperes, 60.0 + 2.0 * one.amperes, 5.0)


def test_names_say_what_a_part_is_and_that_it_is_for_demonstration():
    """Every label begins with "Demo" and names the size; an id is the plain size."""
    for part in PARTS:
        assert part.label.startswith("Demo ")
    for one in BOOK.generators:
        size = f"{propane_kw(one):g}"
        assert one.label == f"Demo generator, {size} kW, {one.cooling}-cooled"
        assert one.id == f"{one.cooling}-{size.replace('.', '-')}"
    assert BOOK.label.startswith("Demo")
