"""How long the search looks before it says what it has, with the bound that is still open."""

from __future__ import annotations

from dataclasses import dataclass

LEAST_GAIN = 0.0005
"""A plan joins the frontier if it covers so much more than every cheaper one (design, section 8: it
means nothing to a family, and exactness below it costs most of the time)."""


@dataclass(frozen=True, slots=True)
class SearchLimits:
    """Limits of the search; counted, not timed, so that the same file gives the same plan.

    The defaults were chosen by measurement on the homes of `cases`.

    Attributes
    ----------
    nodes : int
        Prefixes of one search for the best order; enough to end it where few loads take turns.
    probe : int
        Prefixes of a search that asks whether any order can do with what is decided so far.
    all_nodes : int
        Prefixes of all searches together; after that every size is looked at shortly by itself.
    """

    nodes: int = 200_000
    probe: int = 20_000
    all_nodes: int = 800_000

    def longer(self) -> SearchLimits:
        """Give limits with ten times the patience, for where nothing at all was found."""
        return SearchLimits(10 * self.nodes, 10 * self.probe, 10 * self.all_nodes)


USUAL_LIMITS = SearchLimits()
