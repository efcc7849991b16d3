"""Derating against a textbook, and the standard atmosphere against other libraries."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.price_book import Derating
from planner.physics.atmosphere import M_PER_FT, standard_air
from planner.physics.derate import derate_factor, derated_kw

TEXTBOOK = Derating()


def test_textbook_temperature():
    """University textbook: 165 hp spark ignition at 100 degF, 1 % per 10 degF over 85: 162.525."""
    assert derated_kw(165.0, 0.0, 100.0, TEXTBOOK) == pytest.approx(162.525)


def test_textbook_altitude():
    """University textbook, problem: 225 hp at 4500 ft, 3 % per 1000 ft above 500: 198 (derived)."""
    assert derated_kw(225.0, 4500.0, 60.0, TEXTBOOK) == pytest.approx(198.0)


def test_losses_add_up():
    """Both losses at once add, which never leaves more than their product would (our choice)."""
    both = derate_factor(4500.0, 105.0, TEXTBOOK)
    assert both == pytest.approx(1.0 - 0.12 - 0.02)
    product = derate_factor(4500.0, 60.0, TEXTBOOK) * derate_factor(0.0, 105.0, TEXTBOOK)
    assert both <= product


@given(altitude=st.floats(-300.0, 60000.0), temperature=st.floats(-60.0, 140.0))
def test_never_above_rating_never_below_nothing(altitude, temperature):
    """Cold sea air adds nothing; more altitude or heat never gives more."""
    factor = derate_factor(altitude, temperature, TEXTBOOK)
    assert 0.0 <= factor <= 1.0
    assert derate_factor(altitude + 500.0, temperature, TEXTBOOK) <= factor
    assert derate_factor(altitude, temperature + 10.0, TEXTBOOK) <= factor


@pytest.mark.parametrize(("altitude_ft", "values"), [
    (1000.0, (286.17, 97717.0, 0.9711, 0.9644)),
    (2000.0, (284.19, 94213.0, 0.9428, 0.9298)),
    (5000.0, (278.24, 84307.0, 0.8617, 0.8320)),
    (5280.0, (277.69, 83428.0, 0.8544, 0.8234)),
    (10000.0, (268.34, 69682.0, 0.7385, 0.6877)),
])
def test_tabulated_atmosphere(altitude_ft, values):
    """ICAO standard atmosphere (from memory): kelvin, pascal, density ratio, pressure ratio."""
    air = standard_air(altitude_ft)
    temperature_k, pressure_pa, density_ratio, pressure_ratio = values
    assert air.temperature_k == pytest.approx(temperature_k, abs=0.006)
    assert air.pressure_pa == pytest.approx(pressure_pa, abs=1.0)
    assert air.density_ratio == pytest.approx(density_ratio, abs=5e-5)
    assert air.pressure_ratio == pytest.approx(pressure_ratio, abs=5e-5)


@pytest.mark.parametrize("altitude_ft", [0.0, 1000.0, 3000.0, 6000.0, 12000.0])
def test_atmosphere_against_other_libraries(altitude_ft):
    """Density and pressure as two independent libraries compute them, within 0.1 %."""
    ambiance = pytest.importorskip("ambiance")
    fluids = pytest.importorskip("fluids")
    altitude_m = altitude_ft * M_PER_FT
    ours = standard_air(altitude_ft)
    first, second = ambiance.Atmosphere(altitude_m), fluids.ATMOSPHERE_1976(altitude_m)
    assert ours.density_kg_m3 == pytest.approx(float(first.density[0]), rel=1e-3)
    assert ours.pressure_pa == pytest.approx(float(first.pressure[0]), rel=1e-3)
    assert ours.density_kg_m3 == pytest.approx(second.rho, rel=1e-3)
    assert ours.pressure_pa == pytest.approx(second.P, rel=1e-3)


def test_the_slope_is_physics():
    """3 % per 1000 ft lies between the fall of density and of pressure over the first 6000 ft."""
    air = standard_air(6000.0)
    kept = derate_factor(6500.0, 60.0, TEXTBOOK)
    assert air.pressure_ratio < kept < air.density_ratio


def test_beyond_the_troposphere_is_refused():
    """The formula ends at 36,089 ft."""
    with pytest.raises(ValueError, match="standard atmosphere"):
        standard_air(40000.0)
