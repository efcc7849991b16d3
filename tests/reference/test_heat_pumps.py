"""What air conditioners and heat pumps draw and give, by age and outdoor temperature."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.physics import heat_pump

ANY_DEGF = st.floats(-60.0, 140.0)


@pytest.mark.parametrize(("year", "least", "most"), [
    (1992, 8.5, 9.0), (2005, 8.5, 9.0), (2006, 10.9, 11.1), (2015, 11.7, 12.0), (2024, 11.7, 12.0)])
def test_efficiency_follows_the_least_that_could_be_sold(year, least, most):
    """EER 8.5 to 9 for SEER 10, 11 for SEER 13, 11.7 to 12 for SEER 14 (from memory).

    The years of the minimum SEER: 2006 by 16 CFR 305 App. H, 1992 and 2015 from memory.
    """
    assert least <= heat_pump.eer_at_95(year)[1] <= most


@pytest.mark.parametrize("year", [None, 1985, 1992, 2006, 2015, 2030])
def test_power_lies_halfway_between_its_ends(year):
    """The middle efficiency stands for the middle of the powers, the range around it (derived)."""
    low, middle, high = heat_pump.eer_at_95(year)
    assert low < middle < high
    assert 1.0 / middle == pytest.approx((1.0 / low + 1.0 / high) / 2.0)


def test_an_unknown_age_holds_every_age_since_the_first_minimum():
    """Its range reaches from the worst unit of 1992 to the best of today (derived)."""
    low, _, high = heat_pump.eer_at_95(None)
    for year in (1992, 2006, 2015, 2030):
        one = heat_pump.eer_at_95(year)
        assert low <= one[0]
        assert one[2] <= high


@pytest.mark.parametrize(("year", "kw"), [(1998, 4.1), (2008, 3.3), (2018, 3.0)])
def test_three_tons_by_age(year, kw):
    """3 ton at 95 degF: about 4.1 kW of the 1990s, 3.3 from 2006, 3.0 from 2015.

    Derived: 36 kBtu/h over the EER of the least SEER of its year (EER from memory).
    """
    assert heat_pump.cooling_kw(3.0, heat_pump.eer_at_95(year)[1], 95.0) == pytest.approx(
        kw, abs=0.05)


def test_cooling_at_the_second_rating_point():
    """At 82 degF the EER is 1.24 to 1.31 times that at 95 (AHRI 210/240, from memory).

    Derived: SEER = EER at 82 degF · (1 − C_D / 2), C_D 0.15 to 0.25, SEER 10 with EER 8.75.
    """
    share = heat_pump.cooling_capacity_share(82.0) / heat_pump.cooling_power_share(82.0)
    assert 1.235 <= share <= 1.31
    assert heat_pump.cooling_capacity_share(95.0) == 1.0
    assert heat_pump.cooling_power_share(95.0) == 1.0


def test_heating_at_the_rating_points():
    """17 degF: 0.6 to 0.65 of the capacity at 47, COP 2.2 to 2.5; 3.2 to 3.6 at 47.

    AHRI 210/240 rating points of single-speed units, from memory. A cold-climate unit holds 0.70 of
    its capacity at 5 degF with a COP of 1.75 (a programme's requirement, from memory).
    """
    assert heat_pump.heating_capacity_share(47.0) == pytest.approx(1.0)
    assert 0.6 <= heat_pump.heating_capacity_share(17.0) <= 0.65
    assert 3.2 <= heat_pump.heating_cop(47.0) <= 3.6
    assert 2.2 <= heat_pump.heating_cop(17.0) <= 2.5
    assert heat_pump.heating_capacity_share(5.0, inverter=True) == pytest.approx(0.70)
    assert heat_pump.heating_cop(5.0, inverter=True) == pytest.approx(1.75)
    assert 2.2 <= heat_pump.heating_cop(17.0, inverter=True) <= 2.5


def test_power_while_heating():
    """3 ton at 47 degF: 36,000 / 3412 / 3.4 = 3.10 kW; at 17 degF 2.81 kW (derived)."""
    assert heat_pump.heating_kw(3.0, 47.0) == pytest.approx(3.103, abs=0.002)
    assert heat_pump.heating_kw(3.0, 17.0) == pytest.approx(2.806, abs=0.002)


def test_no_efficiency_is_refused():
    """An efficiency of nothing would draw without end."""
    with pytest.raises(ValueError, match="positive"):
        heat_pump.cooling_kw(3.0, 0.0, 95.0)


@given(ANY_DEGF, ANY_DEGF, st.booleans())
def test_curves_run_one_way(one_degf, other_degf, inverter):
    """A hotter day cools less and draws more; a warmer day heats more and better, never below 1.

    The cooling capacity stays within 0.85 and 1.15 of that at 95 degF (derived from its slope).
    """
    cold, warm = sorted((one_degf, other_degf))
    assert heat_pump.cooling_capacity_share(warm) <= heat_pump.cooling_capacity_share(cold)
    assert heat_pump.cooling_power_share(cold) <= heat_pump.cooling_power_share(warm)
    for curve in (heat_pump.heating_capacity_share, heat_pump.heating_cop):
        assert curve(cold, inverter=inverter) <= curve(warm, inverter=inverter)
    assert heat_pump.heating_capacity_share(cold, inverter=inverter) > 0.0
    assert heat_pump.heating_cop(cold, inverter=inverter) >= 1.0
    assert 0.84 <= heat_pump.cooling_capacity_share(warm) <= 1.16
