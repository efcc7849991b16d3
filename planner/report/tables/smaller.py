"""The table of the sizes below the recommended one."""

from __future__ import annotations

from collections.abc import Sequence

from planner.report.smaller_words import remedy_words, shortage_words
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import money, rating, share
from planner.study.why_smaller import SmallerSize


def smaller_table(sizes: Sequence[SmallerSize], goal: float) -> Table[SmallerSize]:
    """One row per smaller size, the largest first: what it reaches and what would help."""
    columns: tuple[Column[SmallerSize], ...] = (
        text("generator", "Size", lambda size: size.generator.label),
        figure("derated_kw", "kW here", lambda size: size.derated_kw, rating),
        Column("most_coverage", "Keeps at most", lambda size: size.most and size.most.coverage,
               _most_words, right=True),
        Column("cost_usd", f"{share(goal)} for", _cost, _cost_words, right=True),
        text("limit", "What stands in the way", _limit),
        text("remedy", "Works if", _remedy),
    )
    return Table("Why not smaller", columns, sizes)


def _cost(size: SmallerSize) -> float | None:
    return size.enough.cost_usd if size.enough else None


def _cost_words(size: SmallerSize) -> str:
    if size.enough is None:
        return "out of reach" if size.proven else "none found"
    return money(size.enough.cost_usd, size.enough.menu.book.currency)


def _most_words(size: SmallerSize) -> str:
    """Say the most that it keeps; where that is not proven, what it might."""
    most = size.most
    if most is None:
        return "not what is promised" if size.proven else "none found"
    return share(most.coverage) if most.proof.kind == "proven" else (
        f"{share(most.coverage)} found")


def _limit(size: SmallerSize) -> str:
    """Say the first of the limits that would have to move, with its numbers; whether others too."""
    if size.binding is None or not size.binding.shortages:
        return ""
    more = "; and more" if size.binding.together and len(size.binding.shortages) > 1 else ""
    return f"{shortage_words(size.binding.shortages[0])}{more}"


def _remedy(size: SmallerSize) -> str:
    if not size.remedies:
        return ""
    return remedy_words(size.remedies[0])
