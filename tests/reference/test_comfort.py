"""The livable band of the air, beside standard effective temperatures of a comfort library.

The numbers of pythermalcomfort 4.8.1 (MIT, functions of ISO 7730 and ASHRAE 55) lie in
`data/comfort.toml` with their inputs and the command that printed them.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import numpy as np
import pytest

from planner.physics.comfort import (
    COLDEST_LIVABLE_DEGF,
    LEAST_BAND_DEGF,
    WARMEST_LIVABLE_DEGF,
    farthest_livable_degf,
)

MODEL = tomllib.loads((Path(__file__).parent / "data" / "comfort.toml").read_text("utf-8"))


def set_degf(season, air_degf):
    """Standard effective temperature in the clothing of a season, at 50 % humidity."""
    return float(np.interp(air_degf, MODEL["air_degf"], MODEL[season]["set_degf"]))


def test_air_within_the_band_is_within_the_band_of_standard_effective_temperature():
    """The band of 54 to 86 degF (pilot credit IPpc100, from memory) is held on the safe side.

    At 86 degF in summer clothing it feels like 84.9, at 54 degF in winter clothing like 60.6: held
    against the air, the limits are 1 degF cautious in the heat and nearly 7 in the cold.
    """
    assert set_degf("summer", WARMEST_LIVABLE_DEGF) == pytest.approx(84.9, abs=0.05)
    assert set_degf("winter", COLDEST_LIVABLE_DEGF) == pytest.approx(60.6, abs=0.05)
    assert set_degf("summer", 90.0) > WARMEST_LIVABLE_DEGF
    assert set_degf("summer", COLDEST_LIVABLE_DEGF) < COLDEST_LIVABLE_DEGF


@pytest.mark.parametrize(("set_point", "cooling", "farthest"), [
    (76.0, True, 10.0), (70.0, False, 16.0), (84.0, True, 7.0), (56.0, False, 7.0)])
def test_how_far_a_room_may_be_behind(set_point, cooling, farthest):
    """To the end of the band, or seven degrees where the set point is nearer to it (derived)."""
    assert farthest_livable_degf(set_point, cooling=cooling) == farthest
    assert farthest >= LEAST_BAND_DEGF
