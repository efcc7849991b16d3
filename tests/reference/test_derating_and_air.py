"""Derating by the usual rule and beside SAE J1349; the standard atmosphere beside other libraries.

The rule, 3 % per 1000 ft above 500 ft and 1 % per 10 degF above 85 degF, is common practice, no
source: the text that it was read in could not be named.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.case.book.read import read_book
from planner.facts.price_book import Derating
from planner.physics.derate import derate_factor, derated_kw
from tests.reference.atmosphere import M_PER_FT, standard_air

BOOK = read_book(Path(__file__).parents[2] / "cases" / "demo_price_book.toml")[0]
USUAL = Derating(0.03, 500.0, 0.01, 85.0)


def test_usual_loss_by_temperature():
    """1 % per 10 degF over 85, at 100 degF: 165 · (1 − 0.015) = 162.525 kW (derived)."""
    assert derated_kw(165.0, 0.0, 100.0, USUAL) == pytest.approx(162.525)


def test_usual_loss_by_altitude():
    """3 % per 1000 ft above 500, at 4500 ft: 225 · (1 − 0.12) = 198 kW (derived)."""
    assert derated_kw(225.0, 4500.0, 60.0, USUAL) == pytest.approx(198.0)


def test_losses_add_up():
    """Both losses at once add, 1 − 0.12 − 0.02 (derived), never above their product (a choice)."""
    both = derate_factor(4500.0, 105.0, USUAL)
    assert both == pytest.approx(1.0 - 0.12 - 0.02)
    product = derate_factor(4500.0, 60.0, USUAL) * derate_factor(0.0, 105.0, USUAL)
    assert both <= product


@given(altitude=st.floats(-300.0, 60000.0), temperature=st.floats(-60.0, 140.0))
def test_never_above_rating_never_below_nothing(altitude, temperature):
    """Cold sea air adds nothing; more altitude or heat never gives more (derived)."""
    factor = derate_factor(altitude, temperature, USUAL)
    assert 0.0 <= factor <= 1.0
    assert derate_factor(altitude + 500.0, temperature, USUAL) <= factor
    assert derate_factor(altitude, temperature + 10.0, USUAL) <= factor


@pytest.mark.parametrize(("altitude_ft", "values"), [
    (1000.0, (286.17, 97717.0, 0.9711, 0.9644)),
    (2000.0, (284.19, 94213.0, 0.9428, 0.9298)),
    (5000.0, (278.24, 84307.0, 0.8617, 0.8320)),
    (5280.0, (277.69, 83428.0, 0.8544, 0.8234)),
    (10000.0, (268.34, 69682.0, 0.7385, 0.6877)),
])
def test_tabulated_atmosphere(altitude_ft, values):
    """ICAO Doc 7488 (third edition, 1993, from memory): K, Pa, density ratio, pressure ratio."""
    air = standard_air(altitude_ft)
    temperature_k, pressure_pa, density_ratio, pressure_ratio = values
    assert air.temperature_k == pytest.approx(temperature_k, abs=0.006)
    assert air.pressure_pa == pytest.approx(pressure_pa, abs=1.0)
    assert air.density_ratio == pytest.approx(density_ratio, abs=5e-5)
    assert air.pressure_ratio == pytest.approx(pressure_ratio, abs=5e-5)


@pytest.mark.parametrize("altitude_ft", [0.0, 1000.0, 3000.0, 6000.0, 12000.0])
def test_atmosphere_against_other_libraries(altitude_ft):
    """Density and pressure within 0.1 % of two open-source libraries.

    ambiance holds ICAO Doc 7488, fluids the US Standard Atmosphere 1976, the same so low down.
    """
    ambiance = pytest.importorskip("ambiance")
    fluids = pytest.importorskip("fluids")
    altitude_m = altitude_ft * M_PER_FT
    ours = standard_air(altitude_ft)
    first, second = ambiance.Atmosphere(altitude_m), fluids.ATMOSPHERE_1976(altitude_m)
    assert ours.density_kg_m3 == pytest.approx(float(first.density[0]), rel=1e-3)
    assert ours.pressure_pa == pytest.approx(float(first.pressure[0]), rel=1e-3)
    assert ours.density_kg_m3 == pytest.approx(second.rho, rel=1e-3)
    assert ours.pressure_pa == pytest.approx(second.P, rel=1e-3)


def sae_share(pressure_mbar, temperature_degc):
    """Share of its power that an engine keeps, 1/CF of SAE J1349 (June 1990; a quotation read)."""
    warmth = ((temperature_degc + 273.0) / 298.0) ** 0.5
    return 1.0 / (1.180 * (990.0 / pressure_mbar) * warmth - 0.18)


def test_correction_of_sae_j1349():
    """SAE J1349 (June 1990): 1 at 990 mbar and 25 degC; 0.829 and 0.806 at 5000 ft (derived).

    Dry air, 25 and 40 degC, at the pressure of ICAO Doc 7488.
    """
    pressure_mbar = standard_air(5000.0).pressure_pa / 100.0
    assert sae_share(990.0, 25.0) == pytest.approx(1.0)
    assert sae_share(pressure_mbar, 25.0) == pytest.approx(0.829, abs=5e-4)
    assert sae_share(pressure_mbar, 40.0) == pytest.approx(0.806, abs=5e-4)


@pytest.mark.parametrize("altitude_ft", [1000.0, 3000.0, 5000.0, 7800.0, 10000.0])
@pytest.mark.parametrize("temperature_degc", [25.0, 32.0, 40.0])
def test_the_usual_rule_leaves_more_than_sae_j1349(altitude_ft, temperature_degc):
    """The rule is the less cautious one: up to 5 points above SAE J1349 (June 1990), see above.

    On hot days high up the air is thinner than the standard atmosphere's, which the slope follows;
    a book can give a steeper slope.
    """
    rule = derate_factor(altitude_ft, 1.8 * temperature_degc + 32.0, USUAL)
    sae = sae_share(standard_air(altitude_ft).pressure_pa / 100.0, temperature_degc)
    assert -0.005 < rule - sae < 0.055


@pytest.mark.parametrize("generator", BOOK.generators, ids=lambda one: one.id)
def test_the_demonstration_book_is_on_the_cautious_side(generator):
    """It never leaves more than SAE J1349 (June 1990) or the usual rule (common practice) does.

    At every 100 ft from 0 to 10,000 and every degF from 60 to 120 (derived); nowhere does it leave
    more than 3.4 points less than the smaller of the two.
    """
    most = 0.0
    for altitude_ft in range(0, 10_001, 100):
        pressure_mbar = standard_air(float(altitude_ft)).pressure_pa / 100.0
        for degf in range(60, 121):
            book = derate_factor(altitude_ft, degf, generator.derating)
            least = min(1.0, sae_share(pressure_mbar, (degf - 32.0) / 1.8),
                        derate_factor(altitude_ft, degf, USUAL))
            assert book <= least + 1e-12
            most = max(most, least - book)
    assert most < 0.034


def test_the_slope_is_physics():
    """3 % per 1000 ft lies between the fall of density and of pressure over the first 6000 ft.

    Both of the standard atmosphere (ICAO Doc 7488), whose air is colder higher up.
    """
    air = standard_air(6000.0)
    kept = derate_factor(6500.0, 60.0, USUAL)
    assert air.pressure_ratio < kept < air.density_ratio


def test_beyond_the_troposphere_is_refused():
    """The formula ends at 36,089 ft."""
    with pytest.raises(ValueError, match="standard atmosphere"):
        standard_air(40000.0)
