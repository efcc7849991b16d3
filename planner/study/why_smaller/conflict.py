"""The smallest set of wishes that one size cannot meet together, at any price."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.progress import OnProgress, part_of, unheard
from planner.search.problem import Problem
from planner.study.any_price import reach_of
from planner.study.quick import quick_problems
from planner.study.wishes import (
    Wish,
    counted,
    counted_in,
    goal_of,
    goal_when_keeping,
    keeping,
    wishes_of,
)

Change = Callable[[Problem], Problem]


@dataclass(frozen=True)
class Conflict:
    """Wishes that cannot be met together, though all but any one of them can.

    Attributes
    ----------
    wishes : tuple of Wish
        The most important first; empty if even without any wish nothing can be done.
    home : Home
        The home with only these wishes.
    coverage : float
        What the kept comforts would have to reach (0-1); 0 if none are among them.
    proven : bool
        Whether no plan meets them; if not, none was found.
    """

    wishes: tuple[Wish, ...]
    home: Home
    coverage: float
    proven: bool = True


def conflict_of(
    home: Home, book: PriceBook, generator: str, coverage: float,
    tick: OnProgress = unheard, *, proven: bool = True,
) -> Conflict:
    """Find wishes that one size cannot meet together; it must not be able to meet all of them.

    Wishes are dropped one after the other, the least important first; one stays dropped if the
    rest still cannot be met. What remains is irreducible where dropping a wish never makes the rest
    harder, as it does but for the anomalies of a greedy rule. So several are dropped at once as
    long as that goes well: each of them would go by itself.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    generator : str
        Id of the size.
    coverage : float
        The goal, 0-1.
    tick : callable, optional
        Told the share done; what it raises ends the work.
    proven : bool
        Whether it is proven that it cannot meet all of them.
    """
    all_wishes = wishes_of(home)
    allowed = (1.0 - coverage) * counted(home)
    stay: list[Wish] = []
    place, at_once = 0, 1
    while place < len(all_wishes):
        rest = (*stay, *all_wishes[place + at_once:])
        mine = part_of(tick, place / len(all_wishes), 1.0)
        met = _can_be_met(home, book, generator, allowed, rest, None, mine)
        if not met:
            proven = met is False
            place, at_once = place + at_once, 2 * at_once
        elif at_once > 1:
            at_once = max(1, at_once // 4)
        else:
            stay.append(all_wishes[place])
            place += 1
        at_once = max(1, min(at_once, len(all_wishes) - place))
    kept = tuple(stay)
    return Conflict(tuple(reversed(kept)), keeping(home, kept),
                    goal_when_keeping(home, kept, coverage), proven)


def can_be_met(
    home: Home, book: PriceBook, generator: str, coverage: float, kept: Sequence[Wish],
    change: Change | None = None, tick: OnProgress = unheard,
) -> bool:
    """Whether some plan of one size that meets these wishes was found, at any price.

    `change` alters what the size can do, to ask what would help.
    """
    return bool(_can_be_met(home, book, generator, (1.0 - coverage) * counted(home), kept, change,
                            tick))


def _can_be_met(
    home: Home, book: PriceBook, generator: str, allowed: float, kept: Sequence[Wish],
    change: Change | None, tick: OnProgress,
) -> bool | None:
    """Whether some plan meets these wishes; None where none was found and that is no proof."""
    problems = quick_problems(keeping(home, kept), book, generator)
    return _reach_of(problems, goal_of(allowed, counted_in(problems[0].house)), change,
                     tick) if problems else False


def reaches(
    problems: Sequence[Problem], coverage: float, change: Change | None = None,
    tick: OnProgress = unheard,
) -> bool:
    """Whether some plan of these problems that covers at least this much was found."""
    return bool(_reach_of(problems, coverage, change, tick))


def _reach_of(
    problems: Sequence[Problem], coverage: float, change: Change | None, tick: OnProgress
) -> bool | None:
    altered = [change(problem) for problem in problems] if change else list(problems)
    return reach_of(altered, coverage, tick)
