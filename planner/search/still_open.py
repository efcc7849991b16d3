"""What a search left open, as steps: from a cost on, the most that might be covered for it."""

from __future__ import annotations

from collections.abc import Iterable

from planner.tolerances import SAME_USD

Steps = tuple[tuple[float, float], ...]
"""Cost from which on [USD] and the coverage that might be had (0-1); both rise."""

NOTHING = -1.0  # covered by what is not open at all


def steps_of(opened: Iterable[tuple[float, float]]) -> Steps:
    """Put in order what was left open; what is dearer and covers no more is left out."""
    found: list[tuple[float, float]] = []
    for usd, hope in sorted(opened, key=lambda one: (one[0], -one[1])):
        if not found or hope > found[-1][1]:
            found.append((usd, hope))
    return tuple(found)


def most_below(steps: Steps, usd: float) -> float:
    """The most that is open for less than a price."""
    return max((hope for from_usd, hope in steps if from_usd < usd - SAME_USD), default=NOTHING)


def most_at(steps: Steps, usd: float) -> float:
    """The most that is open for a price or less."""
    return max((hope for from_usd, hope in steps if from_usd <= usd + SAME_USD), default=NOTHING)


def lower_of(one: Steps, other: Steps) -> Steps:
    """What two searches for the same both left open: at each cost the lower."""
    places = sorted({usd for usd, _ in (*one, *other)})
    both = [(usd, min(_up_to(one, usd), _up_to(other, usd))) for usd in places]
    return steps_of(step for step in both if step[1] > NOTHING)


def _up_to(steps: Steps, usd: float) -> float:
    return max((hope for from_usd, hope in steps if from_usd <= usd), default=NOTHING)
