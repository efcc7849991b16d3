"""Fuel curves, run time and propane vaporisation.

The table of vaporisation is common practice, no source: it was read in a scanned copy without its
title. The rule D·L·K is from memory.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.price_book import FuelUse
from planner.physics import fuel, vaporisation
from planner.physics.propane_pressure import propane_psi

USE = FuelUse(60000.0, 120000.0, 220000.0)


def test_ten_kilowatts_at_22_percent():
    """10 kW at 22 %: 155,097 Btu/h, 149.7 ft³/h at 1036, 1.696 gal/h, 300 gal last 176.9 h.

    Derived: 10 · 3412.142 / 0.22, over 1036 Btu/ft³, over 91,452 Btu/gal.
    """
    btu_h = 10.0 * fuel.BTU_PER_KWH / 0.22
    assert btu_h == pytest.approx(155097.0, abs=1.0)
    assert fuel.natural_gas_ft3_h(btu_h, 1036.0) == pytest.approx(149.7, abs=0.05)
    assert fuel.propane_gal_h(btu_h) == pytest.approx(1.696, abs=5e-4)
    assert fuel.run_time_h(300.0, fuel.propane_gal_h(btu_h)) == pytest.approx(176.9, abs=0.05)


@pytest.mark.parametrize(("kw", "btu_h"), [
    (0.0, 60000.0), (5.0, 90000.0), (10.0, 120000.0), (15.0, 170000.0), (20.0, 220000.0),
    (22.0, 240000.0)])
def test_curve_passes_its_three_points(kw, btu_h):
    """Straight lines through no, half and full load, and on beyond full load (derived)."""
    assert fuel.fuel_btu_h(kw, 20.0, USE) == pytest.approx(btu_h)


@given(lower=st.floats(0.0, 30.0), more=st.floats(0.0, 10.0))
def test_more_load_never_burns_less(lower, more):
    """A rising curve stays rising between and beyond its points (derived)."""
    assert fuel.fuel_btu_h(lower + more, 20.0, USE) >= fuel.fuel_btu_h(lower, 20.0, USE)


def test_propane_vapour_and_liquid_agree():
    """Heating values per gallon and per ft³ imply 36.38 ft³/gal (NFPA 58, from memory), in 1.2 %.

    Annex B, properties of LP-gases. Figures for the vapour differ by 1.1 %, 2488 (there) to 2516
    (NFPA, from memory); ours is the lowest of them.
    """
    ratio = fuel.PROPANE_BTU_PER_GAL / fuel.PROPANE_BTU_PER_FT3
    assert ratio == pytest.approx(36.38, rel=0.012)
    assert fuel.propane_ft3_h(2488.0) == pytest.approx(1.0)
    assert fuel.natural_gas_therm_h(150000.0) == pytest.approx(1.5)


def test_usable_share_of_a_tank():
    """80 % fill (NFPA 58, from memory) less 20 % reserve (common practice, no source): 60 %."""
    assert fuel.usable_gal(500.0) == pytest.approx(300.0)
    assert fuel.usable_gal(500.0, fill_share=0.1) == 0.0


@pytest.mark.parametrize("call", [
    lambda: fuel.fuel_btu_h(-1.0, 20.0, USE),
    lambda: fuel.fuel_btu_h(1.0, 0.0, USE),
    lambda: fuel.usable_gal(500.0, fill_share=0.9),
    lambda: fuel.run_time_h(300.0, 0.0),
    lambda: vaporisation.vaporisation_btu_h(1500.0, 0.2, 0.0),
    lambda: vaporisation.vaporisation_btu_h(500.0, 0.9, 0.0),
    lambda: vaporisation.intermittent_vaporisation_btu_h(41.0, 192.0, 0.8, 0.0),
])
def test_arguments_out_of_range_are_refused(call):
    """A tank, fill or load that cannot be is an error, not a number."""
    with pytest.raises(ValueError, match=r"[Nn]eed|propane tank|tanks|fill|rule"):
        call()


def test_vaporisation_table_properties():
    """The table rises with the fill and the temperature: more wetted steel, more heat."""
    rows = list(vaporisation.VAPORISATION_BTU_H.values())
    for row in rows:
        assert list(row) == sorted(row)
    for column in zip(*rows, strict=True):
        assert list(column) == sorted(column)


@pytest.mark.parametrize(("tank_gal", "fill", "degf", "btu_h"), [
    (500.0, 0.20, 0.0, 113750.0), (500.0, 0.40, 20.0, 364000.0), (500.0, 0.10, -20.0, 22750.0),
    (500.0, 0.25, 0.0, (113750.0 + 154700.0) / 2.0), (500.0, 0.20, 80.0, 236600.0),
    (500.0, 0.20, -44.0, 0.0), (250.0, 0.20, 0.0, 56875.0)])
def test_vaporisation_cells(tank_gal, fill, degf, btu_h):
    """Cells of a 500 gal tank (common practice, no source), halfway between two (derived), ends."""
    assert vaporisation.vaporisation_btu_h(tank_gal, fill, degf) == pytest.approx(btu_h)


def test_thousand_gallon_tank():
    """1000 gal at 20 degF and 20 %: 477,350 (common practice, no source, the same scanned copy).

    In proportion to 500 gal 2 · 236,600 = 473,200 (derived): 1 % less, the safe side.
    """
    ours = vaporisation.vaporisation_btu_h(1000.0, 0.20, 20.0)
    assert 0.98 * 477350.0 < ours <= 477350.0


def test_intermittent_rule_is_twice_the_table():
    """D·L·K (from memory), 41 × 192 in, 20 %: 472,320 at 0 degF, 236,160 at −10 (derived).

    41 · 192 · 60, and half of it: twice the table.
    """
    rule = vaporisation.intermittent_vaporisation_btu_h
    assert rule(41.0, 192.0, 0.20, 0.0) == pytest.approx(472320.0)
    assert rule(41.0, 192.0, 0.20, -10.0) == pytest.approx(236160.0)
    steady = vaporisation.vaporisation_btu_h(1000.0, 0.20, 0.0)
    assert rule(41.0, 192.0, 0.20, 0.0) == pytest.approx(2.0 * steady, rel=0.05)


@pytest.mark.parametrize(("degf", "psi", "off"), [
    (-40.0, 1.42, 0.1), (-20.0, 10.73, 0.1), (0.0, 23.69, 0.1), (20.0, 41.14, 0.1),
    (40.0, 63.94, 0.2), (60.0, 93.02, 0.5), (100.0, 173.9, 2.5), (110.0, 199.6, 3.5)])
def test_pressure_of_propane(degf, psi, off):
    """Gauge pressures at sea level, of the library "CoolProp 8.0.0": close, and never above."""
    assert psi - off <= propane_psi(degf) <= psi


def test_the_pressure_of_propane_fits_its_heat_of_vaporisation():
    """Derived by Clausius and Clapeyron at -43.7 degF, where the gauge reads 0: some 426 kJ/kg.

    d ln p / dT · R · T² / M, less 3 % for a vapour that is no ideal gas, R 8.314 J/(mol K), M 44.1
    g/mol; heat, boiling point and the 3 % from memory.
    """
    assert propane_psi(-43.7) == pytest.approx(0.0, abs=0.02)
    kelvin, step = (-43.7 + 459.67) / 1.8, 0.18
    rise = (propane_psi(-43.7 + step) - propane_psi(-43.7 - step)) / 14.696 / (2.0 * step / 1.8)
    kj_per_kg = 0.97 * rise * 8.314 * kelvin**2 / 44.1
    assert kj_per_kg == pytest.approx(426.0, rel=0.02)


def test_the_pressure_of_propane_has_ends():
    """Warmer than 110 degF counts as 110, colder than -160 is refused."""
    assert propane_psi(130.0) == propane_psi(110.0)
    with pytest.raises(ValueError, match="-160 degF"):
        propane_psi(-161.0)
