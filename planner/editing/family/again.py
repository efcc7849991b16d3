"""What is spoken of again: ``the dryer`` of a list that has named it already."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.editing.family.marks import Statement
from planner.editing.family.mentions import SEVERAL, Mention, with_fuel

OFTEN_SEVERAL = frozenset(("refrigerator", "freezer", "television", "room air conditioner"))
"""Kinds of which a house has several: another name is another one."""
_IS = re.compile(r"\s*(?:and [\w\s]{3,30}? )?(?:is|are)\b")


def spoken_of(
    here: Statement, made: Sequence[Mention], known: Sequence[Mention]
) -> dict[int, list[Mention]]:
    """Things of a statement, by identity, that were there before; what is said goes to those."""
    again: dict[int, list[Mention]] = {}
    for number, one in enumerate(made):
        before = (*known, *made[:number]) if one.definite else known
        earlier = [other for other in before
                   if _same(other, one) and id(other) not in again]
        if earlier and _refers(here, one) and not _fresh(here, one, earlier):
            last = one.words.split()[-1]
            earlier = [other for other in earlier if other.words.split()[-1] == last] or earlier
            again[id(one)] = earlier
            _pass_on(one, earlier[-1])
    return again


def _refers(here: Statement, one: Mention) -> bool:
    speaks = bool(here.of("wish")) or _IS.match(here.text[one.end:]) is not None
    return one.definite or (speaks and not one.another)


def _fresh(here: Statement, one: Mention, earlier: Sequence[Mention]) -> bool:
    """Whether it is one more of its kind: so many, of another size, or listed with figures."""
    if not one.definite and (one.sizes or one.plate):
        return True
    counted = one.counted and not here.text[:one.start].rstrip().endswith("both")
    return counted or (bool(one.sizes) and all(
        other.sizes and other.sizes != one.sizes for other in earlier))


def _pass_on(one: Mention, other: Mention) -> None:
    other.plate += one.plate
    other.sizes = other.sizes or one.sizes
    if one.fuel and not other.fuel:
        with_fuel(other, one.fuel)
    other.gone = other.gone or one.gone


def _same(one: Mention, other: Mention) -> bool:
    """Whether two names may mean the same thing."""
    mine, its = ({word.removesuffix("s") for word in two.words.replace("-", " ").split()}
                 for two in (one, other))
    if one.kind == "range" and other.words in ("oven", "stove"):
        return True
    if one.kind == other.kind:
        return its <= mine or one.kind not in OFTEN_SEVERAL
    return its <= mine and (one.kind in other.kind or other.kind in one.kind
                            or one.kind.split()[-1] == other.kind.split()[-1]
                            or SEVERAL in (one.kind, other.kind))
