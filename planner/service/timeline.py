"""Who runs and who waits on the judged day of each spell."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Bools, Floats
from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.service.choice import BY_HAND, OFF, Choice
from planner.service.house import House
from planner.service.loops.inputs import CLOCK, KW_ROW, State

QUIET, RUNNING, WAITING, DROPPED, WOKEN = 0, 1, 2, 3, 4
"""Marks: off and not wanted; on; wanted and refused; refused and lost; on for another's sake."""


@dataclass(frozen=True)
class Timeline:
    """The judged days, the last of each spell.

    Attributes
    ----------
    marks : ndarray of uint8, shape (n, T)
    load_kw : ndarray of float, shape (T,)
    service : ndarray of float, shape (n,)
        Share of the called slots that were served, weighted by day; 1 for a connected load that
        never calls, 0 for one that is off or opened by hand.
    called_h, served_h : ndarray of float, shape (n,)
        Hours per day, weighted over the design days.
    usual_wait_h, longest_wait_h : ndarray of float, shape (n,)
        Over the stretches in which it called and was refused.
    """

    marks: NDArray[np.uint8]
    load_kw: Floats
    service: Floats
    called_h: Floats
    served_h: Floats
    usual_wait_h: Floats
    longest_wait_h: Floats


def timeline_of(house: House, choice: Choice, state: State) -> Timeline:
    """Read the judged days out of a play."""
    days = len(house.weights)

    def judged(rows: NDArray[np.generic]) -> NDArray[np.generic]:
        shaped = rows.reshape(*rows.shape[:-1], days, house.spell, SLOTS_PER_DAY)
        return shaped[..., -1, :].reshape(*rows.shape[:-1], house.slots)

    called = np.asarray(judged(state.called), dtype=np.bool_)
    on = np.asarray(judged(state.share), dtype=np.float64) > 0.0
    marks = np.full(called.shape, QUIET, dtype=np.uint8)
    marks[on & called] = RUNNING
    marks[on & ~called] = WOKEN
    marks[called & ~on] = WAITING
    clock = house.works.kind == CLOCK
    marks[clock[:, None] & called & ~on] = DROPPED
    weight = np.repeat(house.weights, SLOTS_PER_DAY)
    called_h, served_h = (called @ weight) * SLOT_H, ((called & on) @ weight) * SLOT_H
    service = np.where(called_h > 0.0, served_h / np.maximum(called_h, 1e-12), 1.0)
    connection = choice.connection_array()
    service[(connection == OFF) | (connection == BY_HAND)] = 0.0
    usual, longest = np.array([_waits(row) for row in called & ~on]).reshape(-1, 2).T
    load_kw = np.asarray(judged(state.sums[KW_ROW]), dtype=np.float64)
    return Timeline(marks, load_kw, service, called_h, served_h, usual, longest)


def _waits(refused: Bools) -> tuple[float, float]:
    """Median and longest stretch of refused slots [h]; a stretch ends with its day."""
    if not refused.any():
        return 0.0, 0.0
    days = np.pad(refused.reshape(-1, SLOTS_PER_DAY), ((0, 0), (1, 1))).astype(np.int8)
    edges = np.diff(days, axis=1)
    lengths = np.nonzero(edges < 0)[1] - np.nonzero(edges > 0)[1]
    return float(np.median(lengths)) * SLOT_H, int(lengths.max()) * SLOT_H
