"""What the plan may ask of an engine, against the simulated engine: on the safe side, and close."""

from __future__ import annotations

import pytest

from planner.physics.engine import load_factor, no_return_hz, pick_up_kw, settled_hz, start_room_kw
from tests.benchmarks.engine import pick_ups, safe_and_used, start_rooms

USUAL = {"inertia_s": 0.5, "governor_s": 0.2}


def test_the_start_room_is_on_the_safe_side_and_close():
    """99 of 100 drawn generators stay above 48 Hz, and nine tenths of the true room are used."""
    safe, used = safe_and_used(start_rooms(150, seed=7))
    assert safe >= 0.99
    assert used >= 0.90


def test_the_pick_up_limit_is_on_the_safe_side():
    """99 of 100 drawn generators still turn when the modules open; 0.8 of the limit is used."""
    safe, used = safe_and_used(pick_ups(120, seed=11))
    assert safe >= 0.99
    assert used >= 0.80


def test_the_start_room_falls_with_the_start_and_rises_with_what_turns():
    """A harder or longer start leaves less room; more inertia, or a faster governor, more."""
    def room(kw=8.0, seconds=0.5, **changes):
        return start_room_kw(kw, seconds, 14.0, 14.0, **{**USUAL, **changes})

    assert room(kw=9.0) < room()
    assert room(seconds=0.7) < room()
    assert room(inertia_s=0.6) > room()
    assert room(governor_s=0.15) > room()
    assert room(allowed_fall=0.15) < room()
    assert room(kw=40.0) < 0.0


@pytest.mark.parametrize(("shed_s", "electronic", "kw"), [
    (0.5, 1.0, 13.3), (0.5, 0.5, 15.4), (1.0, 0.0, 15.4), (0.1, 0.0, 21.0)])
def test_the_pick_up_limit_is_that_of_its_form(shed_s, electronic, kw):
    """K·min(1.5, 0.65 + 0.30·H·S/(K·t) + 0.30·(1 − electronics)): 14 kW, H 0.5 s (derived)."""
    assert pick_up_kw(14.0, 14.0, inertia_s=0.5, shed_s=shed_s,
                      electronic_share=electronic) == pytest.approx(kw)


def test_the_closed_forms():
    """57² / (60 · 1.2) = 45.1 Hz, and no return below 60 · load / rating (both derived)."""
    assert settled_hz(1.2) == pytest.approx(45.125)
    assert settled_hz(0.9) == 60.0
    assert no_return_hz(12.6, 14.0) == pytest.approx(54.0)


def test_the_load_factor_counts_low_stretches_at_thirty_percent():
    """ISO 8528-1 (as commonly quoted): 0, 3, 6 and 9 of 10 kW count 0.3, 0.3, 0.6 and 0.9."""
    assert load_factor([0.0, 3.0, 6.0, 9.0], 10.0) == pytest.approx(2.1 / 4.0)


@pytest.mark.parametrize("ask", [
    lambda: start_room_kw(0.0, 0.5, 14.0, 14.0, **USUAL),
    lambda: start_room_kw(5.0, 0.5, 14.0, 14.0, **USUAL, allowed_fall=1.0),
    lambda: pick_up_kw(14.0, 14.0, inertia_s=0.5, shed_s=0.0),
    lambda: settled_hz(0.0), lambda: no_return_hz(-1.0, 14.0), lambda: load_factor([], 14.0)])
def test_what_is_out_of_range_is_refused(ask):
    """A value without meaning raises instead of giving a figure."""
    with pytest.raises(ValueError, match="Out of range"):
        ask()
