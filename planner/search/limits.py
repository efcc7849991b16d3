"""How long the search looks before it says what it has, with the bound that is still open."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """Limits of the search; counted, not timed, so that the same file gives the same plan.

    The defaults were chosen by measurement on the homes of `cases`.

    Attributes
    ----------
    many_turns : int
        Loads that may take turns from which on the search over orders seldom ends by itself; such
        sizes are walked in rounds of growing patience.
    most_combinations : int
        Combinations of options that are listed; above it the model proposes.
    nodes : int
        Nodes of the search over orders where few loads take turns; enough to end it.
    patience : tuple of int
        Nodes of the search over orders per combination, by round.
    last_resort : int
        Nodes where nothing at all was found by then.
    slack : float
        Coverage (0-1) that may be left to win at any point when a round ends.
    """

    many_turns: int = 12
    most_combinations: int = 1_000_000
    nodes: int = 200_000
    patience: tuple[int, ...] = (30, 3_000, 500_000)
    last_resort: int = 1_000_000
    slack: float = 0.0095


USUAL_LIMITS = SearchLimits()
