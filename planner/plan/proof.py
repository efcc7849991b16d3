"""How good an answer is known to be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.errors import VerificationError

ProofKind = Literal["proven", "within", "found"]

SAME = 5e-5  # coverages closer than this print alike and count as equal


@dataclass(frozen=True, slots=True)
class Proof:
    """What is known about plans that cost no more.

    bound
        No plan of at most this cost covers more than this; None if nothing is known.
    """

    coverage: float
    bound: float | None

    def __post_init__(self) -> None:
        """Refuse a bound that the plan itself beats (VerificationError)."""
        if self.bound is not None and self.bound < self.coverage - SAME:
            msg = f"A plan covers {self.coverage:.6f}, above its bound of {self.bound:.6f}."
            raise VerificationError(msg)

    @property
    def kind(self) -> ProofKind:
        """``proven``: nothing is better; ``within``: the gap is known; ``found``: it is not."""
        if self.bound is None:
            return "found"
        return "proven" if self.gap <= SAME else "within"

    @property
    def gap(self) -> float:
        """Coverage that might still be won, 0-1; 1 if no bound is known."""
        return 1.0 if self.bound is None else max(0.0, self.bound - self.coverage)
