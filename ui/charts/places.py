"""Where an axis begins, and where the words beside marks stand so that none lies on another."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

LETTER_PX, LINE_PX, MARK_PX = 6.6, 15.0, 12.0  # of a label's type: generous; around a mark
STEPS_PX = (-20.0, 21.0, -36.0, 38.0, -53.0, 55.0, -70.0, 72.0)
"""Shifts of a label up (below 0) and down from its mark, the nearest first."""
NICE = (1.0, 2.0, 2.5, 5.0, 10.0)
FROM_ZERO = 0.5  # an axis whose lowest value lies below this share of the highest begins at zero
MARGIN = 0.12  # of what an axis spans, left free at both ends


@dataclass(frozen=True, slots=True)
class Span:
    """From where to where an axis goes."""

    low: float
    high: float

    def px(self, value: float, length_px: float) -> float:
        """Place of a value on an axis of this length [px]."""
        return (value - self.low) / (self.high - self.low) * length_px


def span_of(values: Sequence[float], most: float = math.inf) -> Span:
    """Let an axis take in values, from zero unless they lie close together; `most` ends it."""
    low, high = min(values), max(values)
    room = max(MARGIN * (high - low), 0.004 * abs(high), 1e-6)
    step = _nice(room)
    first = 0.0 if low <= FROM_ZERO * high else math.floor((low - room) / step) * step
    return Span(max(0.0, first), min(most, math.ceil((high + room) / step) * step))


@dataclass(frozen=True, slots=True)
class Place:
    """Where a label stands: moved up (below 0) or down [px], aligned so that it stays inside."""

    up_px: float
    align: Literal["left", "right", "center"]


def places_of(
    at_px: Sequence[tuple[float, float]], words: Sequence[str], width_px: float, height_px: float,
    lines_px: Sequence[float] = (),
) -> list[Place]:
    """Find for each label a place where it lies on no mark and no other label, if there is one.

    Parameters
    ----------
    at_px : sequence of (float, float)
        Marks, from the left and from the bottom.
    words : sequence of str
        Their labels; an empty one takes no place.
    width_px, height_px : float
        Of the chart, at its narrowest: where it is wider they stand further apart.
    lines_px : sequence of float
        Heights of lines across the chart, from the bottom; no label lies on one either.
    """
    lines = [_box(width_px / 2.0, height_px - y, width_px, 2.0) for y in lines_px]
    taken = lines + [_box(x, height_px - y, 2.0 * MARK_PX, 2.0 * MARK_PX) for x, y in at_px]
    found = []
    for (x, y), word in zip(at_px, words, strict=True):
        wide, down = LETTER_PX * len(word), height_px - y
        align, middle = _aligned(x, wide, width_px)
        free = [one for one in STEPS_PX if 0.0 <= down + one <= height_px] or list(STEPS_PX[:1])
        shift = next((one for one in free if not any(
            _overlap(_box(middle, down + one, wide, LINE_PX), box) for box in taken)), free[0])
        found.append(Place(shift, align))
        if word:
            taken.append(_box(middle, down + shift, wide, LINE_PX))
    return found


def _aligned(
    x: float, wide: float, width_px: float
) -> tuple[Literal["left", "right", "center"], float]:
    """How a label is aligned to its mark so that it stays inside, and where its middle is then."""
    if x < wide / 2.0:
        return "left", x + wide / 2.0
    if x > width_px - wide / 2.0:
        return "right", x - wide / 2.0
    return "center", x


def _box(x: float, y: float, wide: float, high: float) -> tuple[float, float, float, float]:
    return x - wide / 2.0, y - high / 2.0, x + wide / 2.0, y + high / 2.0


def _overlap(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> bool:
    return (one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3])


def _nice(value: float) -> float:
    power = 10.0 ** math.floor(math.log10(value))
    return next(one * power for one in NICE if one * power >= value * 0.999)
