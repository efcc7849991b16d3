"""A part of the work at a site: its price lines, or why it cannot be done."""

from __future__ import annotations

from dataclasses import dataclass

WHERE = "site"
"""Where findings about the site are."""


@dataclass(frozen=True, slots=True)
class SiteLine:
    """One line of the price; None where the price book has no price for it."""

    text: str
    usd: float | None


@dataclass(frozen=True, slots=True)
class Blocked:
    """Why a size cannot stand here: what was found, and what would help."""

    sentence: str
    remedy: str


def usd_of(lines: tuple[SiteLine, ...]) -> float:
    """Sum of the lines that have a price [USD]."""
    return sum(line.usd or 0.0 for line in lines)
