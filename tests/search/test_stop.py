"""What ends a search: a clock, or somebody who asks for it."""

from __future__ import annotations

from itertools import count

import pytest

from planner.progress import unheard
from planner.search.limits import FIRST_LIMITS, USUAL_LIMITS, Stop, Stopped, limits_for


def test_the_clock_starts_when_the_stop_is_made():
    """Over after its seconds, not before; once over it stays so."""
    now = [100.0]
    stop = Stop(5.0, clock=lambda: now[0])
    assert (stop.is_over, stop.ended) == (False, "")
    now[0] = 104.9
    assert not stop.is_over
    now[0] = 105.0
    assert (stop.is_over, stop.ended) == (True, "clock")
    now[0] = 0.0
    assert stop.is_over


def test_half_of_what_is_left():
    """Three of ten seconds are gone: the half ends after 3.5 more, by the same clock."""
    now = [0.0]
    stop = Stop(10.0, clock=lambda: now[0])
    now[0] = 3.0
    half = stop.half()
    now[0] = 6.4
    assert not half.is_over
    now[0] = 6.5
    assert (half.is_over, half.ended, stop.is_over) == (True, "clock", False)


@pytest.mark.parametrize("part", [Stop.half, Stop.without_clock])
def test_who_asks_a_part_asks_the_whole(part):
    """What a part of the work hears is not lost on the rest of it."""
    wanted = []
    stop = Stop(1e9, asked=lambda: bool(wanted))
    some = part(stop)
    assert not some.is_over
    wanted.append("now")
    assert some.is_over
    wanted.clear()
    assert (stop.ended, stop.is_over) == ("asked", True)


def test_work_without_a_clock_is_not_ended_by_one():
    """Short work is finished after the time, unless somebody asks."""
    looks = count()
    stop = Stop(1.0, clock=lambda: float(next(looks)))
    assert stop.is_over
    stop.without_clock().watched(unheard)(0.5)


def test_a_watched_listener_ends_the_work_and_still_hears():
    """It is told the share before the work ends."""
    told = []
    with pytest.raises(Stopped):
        Stop(asked=lambda: True).watched(told.append)(0.25)
    assert told == [0.25]


def test_only_what_is_timed_begins_with_little_patience():
    """Counted limits stay the usual ones; a gap alone makes them grow until it is kept."""
    assert limits_for() == USUAL_LIMITS
    assert limits_for(0.01) != USUAL_LIMITS
    assert limits_for(0.01).nodes == USUAL_LIMITS.nodes
    timed = limits_for(None, 5.0)
    assert (timed.nodes, timed.gap) == (FIRST_LIMITS.nodes, 0.0)
    assert timed.stop is not None
    assert timed.stop.seconds == 5.0
