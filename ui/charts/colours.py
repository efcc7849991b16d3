"""The colours of loads: each has one, fixed by its home, in every chart, plan and day."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from planner.facts.comfort import Comfort

PALETTE = ("#0072b2", "#e69f00", "#009e73", "#f0e442", "#d55e00", "#56b4e9", "#cc79a7")
"""Seven hues that colour-blind readers tell apart, neighbours light and dark in turn.

M. Okabe, K. Ito, Color Universal Design, 2008 (from memory); its black is left out, as a page may
be dark.
"""
REST_COLOUR = "#8f8c86"  # of all that does not stand apart
CROSS = "#c8321f"


def colours_of(load_ids: Sequence[str]) -> dict[str, str]:
    """Give each load that stands apart its colour.

    Parameters
    ----------
    load_ids : sequence of str
        Those of a home that count most, as `planner.report.tables.day.standing_apart` gives them:
        the same for every plan of the home.
    """
    return dict(zip(load_ids, PALETTE, strict=False))


def of_comforts(comforts: Iterable[Comfort], colours: Mapping[str, str]) -> dict[str, str]:
    """Give each comfort the colour of the first load that serves it and stands apart."""
    found = {one.id: next((colours[load] for load in one.loads if load in colours), "")
             for one in comforts}
    return {comfort_id: colour for comfort_id, colour in found.items() if colour}
