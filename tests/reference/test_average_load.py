"""The average load of a standby rating over a day."""

from __future__ import annotations

import pytest

from planner.physics.average import LEAST_COUNTED, PERMITTED_AVERAGE, counted_average


def test_the_permitted_average():
    """ISO 8528-1 (2005), as commonly quoted, from memory: 70 %, and 30 % at least is counted."""
    assert (PERMITTED_AVERAGE, LEAST_COUNTED) == (0.70, 0.30)


def test_half_the_day_at_full_load_and_half_of_it_idle():
    """12 h at 10 kW and 12 h at 1 kW of 10 kW: (1.00 + 0.30) / 2 = 65 %, not 55 % (derived)."""
    assert counted_average([10.0] * 12 + [1.0] * 12, 10.0) == pytest.approx(0.65)


def test_shorter_stretches_never_count_less():
    """0 and 6 kW by turns of 10 kW: 45 % by quarters, 30 % by whole hours of 3 kW (derived)."""
    assert counted_average([0.0, 6.0] * 48, 10.0) == pytest.approx(0.45)
    assert counted_average([3.0] * 24, 10.0) == pytest.approx(0.30)


def test_a_steady_load_is_its_own_average():
    """By definition, above 30 % and at it; below, 30 %."""
    for kw, share in ((7.0, 0.7), (3.0, 0.3), (0.0, 0.3)):
        assert counted_average([kw] * 24, 10.0) == pytest.approx(share)


@pytest.mark.parametrize(("load_kw", "rated_kw"), [([], 10.0), ([1.0], 0.0), ([-1.0, 2.0], 10.0)])
def test_what_has_no_average_is_refused(load_kw, rated_kw):
    """No stretch, no rating, a negative load: a mistake of the caller (by definition)."""
    with pytest.raises(ValueError, match="average"):
        counted_average(load_kw, rated_kw)
