"""Meters that were really read: totals that their own files state, dirt that they really have."""

from __future__ import annotations

import random
from pathlib import Path

import numpy as np
import pytest

from planner.importing.meter.read import read_meter
from planner.importing.meter.table import read_table
from planner.physics.demand.measured import quarter_hour_factor


def test_a_year_of_hours(green_button_year):
    """Its own UsageSummary says 5,089,595 Wh; the rest as counted by a plain parser (derived)."""
    found = read_meter(Path(green_button_year))
    assert found.kwh == pytest.approx(5_089.595, abs=1e-6)
    assert (found.readings, found.missing, found.repeated) == (8_727, 9, 0)
    assert (found.peak_kw, found.interval_min) == (pytest.approx(5.18), 60.0)
    assert found.days == pytest.approx(8_727 / 24)
    assert not found.gives_back
    assert len(found.hours) == 24
    assert max(found.hours) == 1.0


def test_half_hours_with_repeated_stamps(half_hours):
    """Stamps that come twice add nothing: what is counted is one row to a stamp (derived)."""
    for path, repeated in zip(half_hours, (15, 24), strict=True):
        rows = [line.split(",") for line in path.read_text("utf-8").splitlines()[1:]]
        last = {stamp: float(value) for stamp, value in rows if value}
        found = read_meter(path)
        assert found.interval_min == 30.0
        assert found.repeated == repeated
        assert found.readings == len(last)
        assert found.peak_kw == pytest.approx(2.0 * max(last.values()))
        assert found.kwh == pytest.approx(sum(last.values()))


def test_the_order_of_rows_does_not_matter(half_hours, tmp_path):
    """The same rows shuffled are the same measurement."""
    head, *rows = half_hours[0].read_text("utf-8").splitlines()
    random.Random(5).shuffle(rows)
    path = tmp_path / "shuffled.csv"
    path.write_text("\n".join([head, *rows]), "utf-8")
    assert read_meter(path) == read_meter(half_hours[0])


def test_the_factor_from_an_hour_to_half_an_hour_is_on_the_safe_side(half_hours):
    """Two real meters: the highest half hour is 1.06 and 1.31 times the highest hour, below √2.

    The ratios are derived from the files; √(60/30) is `quarter_hour_factor` over a factor of two.
    """
    ratios = []
    for path in half_hours:
        record = read_table(path)
        last = dict(zip(record.start_s.tolist(), record.kwh.tolist(), strict=True))
        halves = np.array(list(last.values()))
        hours = np.array([last[s] + last[s + 1800] for s in last
                          if s % 3600 == 0 and s + 1800 in last])
        ratios.append(2.0 * halves.max() / hours.max())
    assert sorted(round(one, 2) for one in ratios) == [1.06, 1.31]
    assert max(ratios) < quarter_hour_factor(60.0) / quarter_hour_factor(30.0)
