"""A change that may lead to a plan, and how it is said; a ladder is one change by rising degree."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import PriceBook

Change = Callable[[Home, PriceBook], tuple[Home, PriceBook]]


@dataclass(frozen=True)
class Help:
    """A change, and how it is said.

    Attributes
    ----------
    where : str
        Place in the file, as in a finding.
    given : str
        With what there is a plan, as a clause.
    remedy : str
        What to do.
    change : callable
        From a home and a book to those with the change.
    """

    where: str
    given: str
    remedy: str
    change: Change


Ladder = Sequence[Help]
