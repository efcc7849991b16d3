"""The planner from Python: what `import planner` offers, each function with the book of the home.

>>> import planner
>>> home = planner.read_home("cases/gas_heated_small.toml")
>>> planner.recommend(home, coverage=0.9)  # doctest: +ELLIPSIS
<Plan ...: ... USD, covers ... %, proven>
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import isfinite
from numbers import Real
from pathlib import Path

from planner.case.book.read import read_book as _read_book
from planner.case.bounds import MOST_SEEDS, OUTAGE_H
from planner.case.read import read_home as _read_home
from planner.case.read import read_home_text
from planner.editing.any_list import read_any
from planner.editing.lists import with_usual_sizes
from planner.editing.new_home import new_home_text
from planner.errors import CaseError, NotFoundError, Severity
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.quoting import quoted
from planner.search.frontier import Frontier
from planner.search.frontier import frontier as _frontier
from planner.search.limits import SECONDS, USUAL_LIMITS, SearchLimits, limits_for
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.study.compare import Comparison
from planner.study.compare import compare as _compare
from planner.study.confidence import TO_QUOTE
from planner.study.explain import Explanation
from planner.study.explain import explain as _explain
from planner.study.recommend import recommend as _recommend

USUAL_SEEDS = 20


def read_home(path: Path | str) -> Home:
    """Read a home; what was noticed is in its `findings`.

    What was assumed of the house is in its `assumed`, of a load in that of the load.

    Raises
    ------
    CaseError
        The file is not a home; its `findings` say all that is wrong, where, and what to do.
    """
    return _read_home(path)[0]


def read_book(path: Path | str) -> PriceBook:
    """Read a price book.

    Raises
    ------
    CaseError
        The file is not a price book; its `findings` say all that is wrong.
    """
    return _read_book(path)[0]


def new_home(lines: str | Iterable[str], *, label: str = "New home") -> Home:
    """Make a home of a list in everyday words; what nobody said is assumed and marked.

    Parameters
    ----------
    lines : str or iterable of str
        ``central air, 3 ton``, ``electric water heater``, ...: a line for each load.
    label : str
        What the home is called.

    Raises
    ------
    CaseError
        The list is empty, or a line of it is no appliance that the library knows.

    Examples
    --------
    >>> import planner
    >>> home = planner.new_home(["central air, 3 ton", "fridge", "electric range"])
    >>> [load.label for load in home.loads]
    ['Lighting and receptacles', 'Central air', 'Fridge', 'Electric range']
    """
    listed = with_usual_sizes(
        read_any(lines if isinstance(lines, str) else "\n".join(lines)))
    if listed.not_read:
        raise CaseError("Not all of the list is understood.", [
            one for one in listed.findings if one.severity is not Severity.NOTE])
    home, _ = read_home_text(new_home_text(listed, label), "new_home.toml")
    return replace(home, findings=(*listed.findings, *home.findings))


def frontier(
    home: Home, book: PriceBook | None = None, *, limits: SearchLimits = USUAL_LIMITS,
    seconds: float | None = None, gap: float | None = None,
) -> Frontier:
    """Find every plan that no other beats on both installed cost and coverage.

    Parameters
    ----------
    home : Home
    book : PriceBook, optional
        What can be bought; the book that the home names if not given.
    limits : SearchLimits, optional
        How long the search looks; where it ends early, each plan says what might still be won.
    seconds : float, optional
        Longest time of the search [s], instead of `limits`: `ended` of the answer says ``clock``
        where that ended it, and the same home may then have other plans.
    gap : float, optional
        Coverage that a plan may be below what is possible for its cost, 0-1, instead of `limits`.

    Raises
    ------
    NoPlanError
        If nothing in the book can serve the home; says why, and what would help.
    NotFoundError
        If none was found in time, and it is not known whether there is one.
    """
    return _frontier(home, _book_of(home, book), limits=_limits(seconds, gap, limits))


def recommend(
    home: Home, coverage: float = USUAL_COVERAGE, *, book: PriceBook | None = None,
    budget_usd: float | None = None, allow_unserved: bool = False, confidence: float = TO_QUOTE,
    seconds: float | None = None, gap: float | None = None,
) -> Plan:
    """Recommend a plan: the cheapest that reaches the coverage and in which all that matters runs.

    It is the cheapest of those compared that holds in enough of the houses that fit the file.

    Parameters
    ----------
    home : Home
    coverage : float
        The goal, 0-1; not read where there is a budget.
    book : PriceBook, optional
        What can be bought; the book that the home names if not given.
    budget_usd : float, optional
        Largest installed cost; the plan then covers as much as it buys.
    allow_unserved : bool
        Whether something that matters may never run in it.
    confidence : float
        In which share of these houses it has to hold, 0-1; 0 asks for none.
    seconds, gap : float, optional
        As for `frontier`.

    Raises
    ------
    NoPlanError
        If nothing covers that much, costs so little, or serves the home at all.
    NotFoundError
        If none was found that does, and it is not known whether there is one.
    """
    _check_share("coverage", coverage)
    _check_share("confidence", confidence)
    _check("budget_usd", budget_usd, 0.0, float("inf"))
    found = _recommend(home, _book_of(home, book), coverage, budget_usd=budget_usd,
                       none_starved=not allow_unserved, share=confidence,
                       limits=_limits(seconds, gap))
    if not found.reached:
        message = (f"No plan for {home.label} that covers {100.0 * coverage:g} % was found within "
                   f"{seconds:g} s; whether there is one is not known. Allow more seconds.")
        raise NotFoundError(message)
    return found.plan


def compare(
    home: Home, sizes: Sequence[str] = (), *, coverage: float = USUAL_COVERAGE,
    book: PriceBook | None = None, seconds: float | None = None, gap: float | None = None,
) -> Comparison:
    """Put several sizes side by side: those asked for by id, else the recommended and neighbours.

    `seconds` and `gap` are as for `frontier`.

    Raises
    ------
    NoPlanError
        If no size has a plan, or an id is not in the book.
    NotFoundError
        If no plan was found in time, and it is not known whether there is one.
    """
    _check_share("coverage", coverage)
    wanted = (sizes,) if isinstance(sizes, str) else sizes
    return _compare(home, _book_of(home, book), wanted, coverage=coverage,
                    limits=_limits(seconds, gap))


def explain(
    home: Home, coverage: float = USUAL_COVERAGE, *, book: PriceBook | None = None
) -> Explanation:
    """Explain the recommended plan: why not smaller, the order, what wishes cost, what to verify.

    Raises
    ------
    NoPlanError
        If nothing covers that much, or serves the home at all.
    """
    _check_share("coverage", coverage)
    return _explain(home, _book_of(home, book), coverage)


def simulate(plan: Plan, *, seeds: int = USUAL_SEEDS, hours: float | None = None) -> Results:
    """Put a plan through outages second by second, so many on each design day of its home.

    They last as long as the spell that it is made for, unless other `hours` are given.

    Raises
    ------
    ValueError
        If there is nothing to play, or too much.
    """
    if not isinstance(plan, Plan):
        message = f"Give a plan, as planner.recommend(home) does, not {_named(plan)}."
        raise TypeError(message)
    _check("seeds", seeds, 1, MOST_SEEDS)
    long_h = 24.0 * plan.menu.house.spell if hours is None else hours
    _check("hours", long_h, *OUTAGE_H)
    return Results(plan, long_h, tuple(outages(plan, seeds=seeds, hours=long_h)))


def _book_of(home: Home, book: PriceBook | None) -> PriceBook:
    if not isinstance(home, Home):
        message = f"Give a home, as planner.read_home(path) does, not {_named(home)}."
        raise TypeError(message)
    if book is not None and not isinstance(book, PriceBook):
        message = f"Give a price book, as planner.read_book(path) does, not {_named(book)}."
        raise TypeError(message)
    if book is not None:
        return book
    if home.price_book is None:
        message = (f"{home.label} names no price book. Add price_book to [home], or give one: "
                   "book=planner.read_book(path).")
        raise CaseError(message)
    return read_book(home.price_book)


def _limits(
    seconds: float | None, gap: float | None, usual: SearchLimits = USUAL_LIMITS
) -> SearchLimits:
    """The limits that are asked for; the usual ones where none are."""
    _check("seconds", seconds, *SECONDS)
    _check("gap", gap, 0.0, 1.0)
    return usual if seconds is None and gap is None else limits_for(gap, seconds)


def _check_share(name: str, value: float) -> None:
    """Refuse what is no share of 1: 90 for 90 %."""
    _check(name, value, 0.0, 1.0)


def _check(name: str, value: float | None, least: float, most: float) -> None:
    """Refuse what is no number (TypeError), or is out of range (ValueError); None passes."""
    if value is None:
        return
    if not isinstance(value, Real) or isinstance(value, bool):
        message = f"{name} is a number, not {quoted(value)}."
        raise TypeError(message)
    if not least <= value <= most:
        upper = f"from {least:g} to {most:g}" if isfinite(most) else f"{least:g} or more"
        message = f"{name} is {upper}, not {value:g}."
        raise ValueError(message)


def _named(found: object) -> str:
    return f"{type(found).__name__} {quoted(found)}" if isinstance(found, str) else (
        f"an object of the type {type(found).__name__}")
