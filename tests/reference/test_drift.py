"""How fast a house drifts, by hand."""

import pytest

from planner.physics.drift import house_time_constant_h
from planner.physics.thermal import ENVELOPES, house_loss_btu_h_degf


def test_a_house_of_2000_ft2_by_hand():
    """Insulation "normal" of GridLAB-D: UA 717.6 Btu/(h·degF), C 4847 Btu/degF, 6.75 h (derived).

    UA: roof 2000/30, floor 2000/19, walls (1460.6 - 219.1 - 78)/11, windows 219.1 x 0.6, doors
    78/3, air 1 x 16,000 ft3 x 0.0735 x 0.2402. C: 2000 x (3 x 8 x 0.0735 x 0.2402 + 2.0).
    """
    shell = 66.667 + 105.263 + 105.773 + 131.453 + 26.0
    air = 16000.0 * 0.0735 * 0.2402
    assert house_loss_btu_h_degf(2000.0, ENVELOPES["normal"]) == pytest.approx(shell + air, 1e-4)
    assert house_time_constant_h(2000.0, ENVELOPES["normal"]) == pytest.approx(6.755, abs=0.005)


def test_its_first_hour_is_the_published_drift():
    """2500 ft2, "normal": 860 Btu/(h·degF) over 5000 Btu/degF is 8.6 degF/h at 50 degF (derived).

    The air with its furnishings, a fifth more mass, slows that down.
    """
    hours = house_time_constant_h(2500.0, ENVELOPES["normal"])
    air_mass = 3.0 * 8.0 * 0.0735 * 0.2402 / 2.0
    assert 50.0 / hours * (1.0 + air_mass) == pytest.approx(8.6, abs=0.1)


def test_a_better_envelope_drifts_slower_and_an_unknown_floor_is_the_usual_one():
    """Good insulation holds the heat longer than normal, normal longer than little (derived)."""
    levels = ("little", "normal", "good")
    hours = [house_time_constant_h(1800.0, ENVELOPES[name]) for name in levels]
    assert hours == sorted(hours)
    assert house_time_constant_h(0.0, ENVELOPES["good"]) == house_time_constant_h(
        2000.0, ENVELOPES["good"])
