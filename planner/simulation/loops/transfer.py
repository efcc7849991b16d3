"""Who carries the house in the next second."""

from __future__ import annotations

from planner.compiled import compiled
from planner.simulation.transfer import (
    CARRYING,
    COOLING,
    CRANKING,
    FAILED,
    RESTING,
    SENSING,
    STALLED,
    TRIPPED,
    UTILITY,
    WARMING,
    Sequence,
)


@compiled
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
    If the generator does not carry the house when the utility returns, the delay is passed over.
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


@compiled
def _back(state: int, lasted: int, second: int, times: Sequence) -> int:
    """Give the state once the utility is back."""
    if state == CARRYING:
        return COOLING if second >= times.return_s + times.retransfer_s else CARRYING
    if state == COOLING:
        return UTILITY if lasted >= times.cool_down_s else COOLING
    return COOLING if state in (WARMING, TRIPPED) else UTILITY


@compiled
def engine_runs(state: int) -> bool:
    """Whether the engine turns and burns fuel."""
    return state in (WARMING, CARRYING, TRIPPED, COOLING)
