"""What it costs at least to cover more than a bar: not all that may be left aside can be.

What is left aside loses its part of the coverage. Whatever the bar does not let go has to be
connected, at its price, with its module and its positions.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

ROUNDING = 1e-9  # of what may be given up, for rounding of floats


@dataclass(frozen=True, slots=True)
class Paying:
    """What a node costs with all of its open loads connected, and what each left aside saves.

    Attributes
    ----------
    hope : float
        Coverage that nothing beats if no load is left aside.
    usd : float
        Cost with every load connected that can be, without the equipment that all share [USD].
    modules, positions : int
        Modules and positions that it has then at least.
    losses : tuple of float
        Coverage that each load that may be left aside takes at least, if it is.
    saves : tuple of (float, int, int)
        What each saves at most: dollars, its module if it cannot be connected without, positions.
    saved_off : tuple of float
        What each load that is surely off, and counted as moved, saves if its module stays open,
        the most first [USD]. One that may still be off counts at the lesser of the two.
    """

    hope: float
    usd: float
    modules: int
    positions: int
    losses: tuple[float, ...]
    saves: tuple[tuple[float, int, int], ...]
    saved_off: tuple[float, ...] = ()

    def least(self, bar: float) -> tuple[float, int, int]:
        """Dollars, modules, positions of a plan that beats a bar at least, each by itself."""
        spare = self.hope - bar + ROUNDING
        usd, modules, positions = (_most(gains, self.losses, spare) for gains in zip(
            *self.saves, strict=True)) if self.saves else (0.0, 0.0, 0.0)
        return (self.usd - usd, self.modules - int(modules + ROUNDING),
                self.positions - int(positions + ROUNDING))


def _most(gains: Sequence[float], losses: Sequence[float], spare: float) -> float:
    """Most that is gained for losses that add up to what may be lost, in fractions of loads."""
    found = 0.0
    pairs = []
    for gain, loss in zip(gains, losses, strict=True):
        if loss <= 0.0:
            found += gain
        elif gain > 0.0:
            pairs.append((loss / gain, gain, loss))
    for _, gain, loss in sorted(pairs):
        if loss >= spare:
            return found + gain * max(0.0, spare) / loss
        found += gain
        spare -= loss
    return found
