"""The things that a statement names, each once, with everything else in it marked."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.editing.family.facts import mark_facts, mark_fuels
from planner.editing.family.figures import amount, mark_counts, mark_figures, mark_short_sizes
from planner.editing.family.fits import comes_in
from planner.editing.family.marks import Statement
from planner.editing.family.mentions import Mention, mentions_of
from planner.editing.family.temperatures import mark_temperatures
from planner.editing.family.wishes import mark_wishes

_FRACTION = re.compile(r"(?<![\w./-])(1/[2-9]|3/4)(?![\w/]|\s*(?:of|the))")
_BESIDE = re.compile(
    r"\s*[(-]?\s*(?:with\s+)?(?:an?\s+|its\s+|the\s+)?(?:[\d,.]+\s?k?\s?\w+\s+)?")
_HEADS = re.compile(r"\s*(?::|-|is|has|comes from|is by|is made by|is from)\s*(?:an?|the)?\s*"
                    r"(?:[\w\x00-]+\s+){0,2}")
_FOR_OTHERS = frozenset(("hot water", "well", "water", "pool", "ac", "a/c", "compressor"))


def named_in(here: Statement) -> list[Mention]:
    """Mark all that a statement says, and give the things that it names."""
    mark_facts(here)
    mark_figures(here)
    mark_temperatures(here)
    made = mentions_of(here)
    mark_wishes(here)
    mark_fuels(here)
    if any(comes_in(one.kind, unit) for one in made for unit in ("ton", "kBtu/h")):
        mark_short_sizes(here)
    here.take(_FRACTION, "size", lambda match: ("", (amount(match[1]), "hp")))
    mark_counts(here)
    return _once([one for number, one in enumerate(made)
                  if not _heads(here, made, number)])


def _once(made: Sequence[Mention]) -> list[Mention]:
    """Leave out a second name for the same thing beside it: ``AC 36,000 btu outside unit``."""
    kept: list[Mention] = []
    for one in made:
        last = kept[-1] if kept else None
        blows = last is not None and one.kind == "furnace blower" and "furnace" in last.kind
        twice = last is not None and last.kind == one.kind and _BESIDE.fullmatch(
            one.place.text[last.end:one.start])
        if not blows and not twice:
            kept.append(one)
    return kept


def _heads(here: Statement, made: Sequence[Mention], number: int) -> bool:
    """Whether a thing is only what another one is for: ``Hot water: power vent gas``."""
    if number + 1 >= len(made):
        return False
    one, other = made[number], made[number + 1]
    if _HEADS.fullmatch(here.text[one.end:other.start]) is None:
        return False
    if one.words == "hot water" and other.words.endswith("heater"):
        other.kind = other.kind if "water heater" in other.kind else "electric water heater"
        return True
    return (one.kind == other.kind or ("water heater" in one.kind and "water" in other.kind)
            or one.words in _FOR_OTHERS or one.words.split()[-1] == other.words.split()[-1])
