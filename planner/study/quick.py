"""Problems for questions that are asked by the dozen: each is looked at less patiently.

What is found is a plan all the same; a slightly cheaper one might be found with more time. On the
homes of `cases` it was the same for all changes of wishes that were compared.
"""

from __future__ import annotations

from dataclasses import replace

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.search.limits import SearchLimits
from planner.search.problem import Problem, problems_of
from planner.tolerances import costs_at_most

QUICK = SearchLimits(nodes=5_000, probe=5_000, all_nodes=60_000)
"""An order that is looked for too shortly leaves hundreds of nodes behind it: with a probe of 30
one of the homes of `cases` took five times as long as with this."""
HASTY = replace(QUICK, all_nodes=20_000)
"""For what only spares single questions: whether the lighter half of comforts saves anything."""


def quick_problems(
    home: Home, book: PriceBook, generator: str | None = None, most_usd: float = float("inf"),
    *, hasty: bool = False,
) -> tuple[Problem, ...]:
    """Give the problems of one size, or of all that by themselves cost at most so much [USD]."""
    worth = tuple(one for one in book.generators if generator in (None, one.id)
                  and costs_at_most(one.installed_usd + book.permits, most_usd))
    found = problems_of(home, replace(book, generators=worth), HASTY if hasty else QUICK)
    return tuple(replace(one, menu=replace(one.menu, book=book)) for one in found)
