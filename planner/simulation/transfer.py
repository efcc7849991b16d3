"""From the loss of the utility to its return: who carries the house, second by second."""

from __future__ import annotations

from typing import NamedTuple

from planner.simulation.settings import Settings

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
