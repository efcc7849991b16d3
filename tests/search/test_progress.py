"""What is told while the frontier is looked for."""

from __future__ import annotations

import pytest

from planner.search.frontier import frontier
from planner.search.limits import SearchLimits
from tests.oracle.wild import crowded_home, wild_book


@pytest.mark.parametrize("probe", [1, 20_000])
def test_progress_never_falls_and_ends_at_the_whole(probe):
    """The share done only grows."""
    told = []
    frontier(crowded_home(3, 6), wild_book(3, (7.0, 9.0, 14.0)), on_progress=told.append,
             limits=SearchLimits(probe=probe))
    assert told == sorted(told)
    assert told[0] == 0.0
    assert told[-1] == 1.0
    assert len(set(told)) > 3
