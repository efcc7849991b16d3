"""What it costs at least to cover more than a bar, worked out by hand."""

from __future__ import annotations

import pytest

from planner.search.paying import Paying

THREE = Paying(hope=1.0, usd=5000.0, modules=3, positions=6, losses=(0.2, 0.1, 0.0),
               saves=((300.0, 1, 2), (200.0, 1, 2), (150.0, 0, 1)))


@pytest.mark.parametrize(("bar", "least"), [
    (1.0, (4850.0, 3, 5)),   # only what costs nothing goes
    (0.9, (4650.0, 2, 3)),   # and the second, 0.1 for 200 USD
    (0.8, (4500.0, 2, 2)),   # half of the first besides: half a module saves none, one position
    (0.7, (4350.0, 1, 1)),   # all three
    (-0.5, (4350.0, 1, 1)),
])
def test_what_the_bar_lets_go(bar, least):
    """The best fractions of loads for what may be lost, each kind of saving by itself."""
    assert THREE.least(bar) == pytest.approx(least, abs=1e-3)


def test_nothing_is_open():
    """Without a load that may be left aside it costs what it costs."""
    assert Paying(1.0, 100.0, 1, 2, (), ()).least(0.0) == (100.0, 1, 2)
