"""From the loss of the utility to its return: who carries the house, second by second."""

from __future__ import annotations

from typing import NamedTuple

from numba import njit

from planner.simulate.settings import Settings

(SENSING, CRANKING, RESTING, WARMING, CARRYING, TRIPPED, STALLED, FAILED, COOLING,
 UTILITY) = range(10)
"""States. SENSING: the utility is gone, the engine not yet called. CRANKING, RESTING: a start that
fails, and the rest after it. WARMING: it runs without load. CARRYING: it carries the house.
TRIPPED: its breaker is open, it runs on. STALLED: it was pulled down. FAILED: it gave up.
COOLING: the utility carries the house, the engine runs on unloaded. UTILITY: all is over."""


class Sequence(NamedTuple):
    """Times of the sequence in whole seconds; `fails` counts the starts that fail."""

    sensing_s: int
    warm_up_s: int
    crank_s: int
    rest_s: int
    tries: int
    retransfer_s: int
    cool_down_s: int
    reset_s: int
    return_s: int
    fails: int


def sequence_of(settings: Settings, return_s: int, fails: int = 0) -> Sequence:
    """Take the times from the settings; `return_s` is when the utility comes back [s]."""
    return Sequence(
        sensing_s=round(settings.sensing_s), warm_up_s=round(settings.warm_up_s),
        crank_s=round(settings.crank_s), rest_s=round(settings.rest_s), tries=settings.tries,
        retransfer_s=round(settings.retransfer_s), cool_down_s=round(settings.cool_down_s),
        reset_s=round(settings.reset_s), return_s=return_s, fails=fails,
    )


@njit(cache=True)
def next_state(state: int, since: int, tried: int, second: int, times: Sequence) -> tuple[int, int]:
    """Give the state in a second, and how many starts have failed so far.

    Parameters
    ----------
    state, since : int
        State in the second before, and the second in which it began.
    tried : int
        Starts that have failed so far.
    second : int
        Since the loss of the utility.
    times : Sequence
        The times of the sequence.

    Notes
    -----
    If the set does not carry the house when the utility returns, the delay is passed over.
    """
    lasted = second - since
    if second >= times.return_s or state in (COOLING, UTILITY):
        return _back(state, lasted, second, times), tried
    if state == CRANKING and lasted >= times.crank_s:
        return (RESTING if tried + 1 < times.tries else FAILED), tried + 1
    called = (state == SENSING and lasted >= times.sensing_s) or (
        state == RESTING and lasted >= times.rest_s)
    if called and tried < times.fails:
        return CRANKING, tried
    if called or (state == STALLED and lasted >= times.reset_s):
        return WARMING, tried
    if (state == WARMING and lasted >= times.warm_up_s) or (
            state == TRIPPED and lasted >= times.reset_s):
        return CARRYING, tried
    return state, tried


@njit(cache=True)
def _back(state: int, lasted: int, second: int, times: Sequence) -> int:
    """Give the state once the utility is back."""
    if state == CARRYING:
        return COOLING if second >= times.return_s + times.retransfer_s else CARRYING
    if state == COOLING:
        return UTILITY if lasted >= times.cool_down_s else COOLING
    return COOLING if state in (WARMING, TRIPPED) else UTILITY


@njit(cache=True)
def engine_runs(state: int) -> bool:
    """Whether the engine turns and burns fuel."""
    return state in (WARMING, CARRYING, TRIPPED, COOLING)
