"""Why no smaller generator was recommended: what each could do, what it could not, what helps."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.problem import problems_of
from planner.study.any_price import reach_of
from planner.study.confidence import Confidence, Houses, confidence_of
from planner.study.quick import quick_problems
from planner.study.reaching import covering_most, look_for_reaching
from planner.study.why_smaller.conflict import Conflict, conflict_of
from planner.study.why_smaller.limits import Binding, binding_of
from planner.study.why_smaller.remedies import Remedy, remedies_of
from planner.study.why_smaller.waiting import Waiting, waiting_of
from planner.tolerances import LIMIT, reaches


@dataclass(frozen=True)
class SmallerSize:
    """One size below the recommended one.

    Attributes
    ----------
    generator : Generator
    derated_kw : float
        What it gives on this site [kW].
    enough : Plan or None
        Its cheapest plan that reaches the goal: then it is only dearer. None if there is none.
    most : Plan or None
        Its plan that covers most; None if it cannot even keep what is promised and must run.
    conflict : Conflict or None
        Wishes that it cannot meet together; None where it reaches the goal.
    binding : Binding or None
        The rule that stands in the way of these; None where it reaches the goal.
    waiting : tuple of Waiting
        The loads by which most is lost in its best plan.
    confidence : Confidence or None
        In how many houses that fit the file `enough` holds; None where that was not asked.
    remedies : tuple of Remedy
        Single changes with which it reaches the goal, cheapest first.
    proven : bool
        Whether nothing of it reaches the goal, or nothing cheaper than `enough` does; if not, none
        was found.
    """

    generator: Generator
    derated_kw: float
    enough: Plan | None
    most: Plan | None
    conflict: Conflict | None
    binding: Binding | None
    waiting: tuple[Waiting, ...]
    remedies: tuple[Remedy, ...]
    confidence: Confidence | None = None
    proven: bool = True


def why_not_smaller(
    home: Home, book: PriceBook, plan: Plan, coverage: float, *, most_sizes: int | None = None,
    houses: Houses | None = None, on_progress: OnProgress | None = None,
) -> tuple[SmallerSize, ...]:
    """Explain each size below that of a plan, the largest first.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    plan : Plan
        The recommended plan.
    coverage : float
        The goal that it was made for, 0-1.
    most_sizes : int, optional
        How many of the sizes next below are explained; all if not given.
    houses : Houses, optional
        Houses that fit the file, in which a plan of a smaller size is played that reaches the goal.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    """
    tell = on_progress or unheard
    smaller = _smaller(home, book, plan.supply.derated_kw)[:most_sizes]
    found = []
    for place, (generator, derated_kw) in enumerate(smaller):
        tick = part_of(tell, place / len(smaller), (place + 1) / len(smaller))
        found.append(_explained(home, book, generator, derated_kw, coverage, houses, tick))
        tick(1.0)
    return tuple(found)


def _smaller(home: Home, book: PriceBook, size_kw: float) -> list[tuple[Generator, float]]:
    sizes = {p.menu.generator.id: (p.menu.generator, p.supply.derated_kw)
             for p in problems_of(home, book) if p.supply.derated_kw < size_kw - LIMIT}
    return sorted(sizes.values(), key=lambda pair: (-pair[1], pair[0].id))


def _explained(
    home: Home, book: PriceBook, generator: Generator, derated_kw: float, coverage: float,
    houses: Houses | None, tick: OnProgress,
) -> SmallerSize:
    enough, most, sure = _reach(home, book, generator.id, coverage, part_of(tick, 0.0, 0.2))
    waiting = waiting_of(most) if most else ()
    if enough is not None:
        return SmallerSize(generator, derated_kw, enough, most, None, None, waiting, (),
                           confidence_of(enough, houses, on_progress=part_of(tick, 0.2, 1.0))
                           if houses else None, sure)
    goal = coverage if most else 0.0
    conflict = conflict_of(home, book, generator.id, goal, part_of(tick, 0.2, 0.6), proven=sure)
    binding = binding_of(conflict, book, generator.id, part_of(tick, 0.6, 0.7))
    losing = _losing(most) if most else []
    remedies = remedies_of(home, book, generator.id, coverage, conflict.wishes, losing,
                           part_of(tick, 0.7, 1.0), short=binding.promises)
    return SmallerSize(generator, derated_kw, None, most, conflict, binding, waiting, remedies,
                       proven=sure)


def _losing(most: Plan) -> list[str]:
    """Tasks that are refused, of the comforts that lose most, which waiting might save."""
    house = most.menu.house
    tasks = [one.id for one in house.home.loads if one.nature == "task"]
    short = {one.comfort.id: one.comfort.importance * (1.0 - one.kept) for one in most.comforts
             if not reaches(one.kept, 1.0)}
    refused = [part for part in most.loads if part.id in tasks and part.comfort in short
               and part.connection == "module"]
    return [part.id for part in sorted(refused, key=lambda part: -short[part.comfort])]


def _reach(
    home: Home, book: PriceBook, generator: str, coverage: float, tick: OnProgress
) -> tuple[Plan | None, Plan | None, bool]:
    """The cheapest plan of a size that reaches the goal, and the one that covers most.

    Whether that is proven: no plan at all, none that reaches the goal, or none that is cheaper.
    """
    problems = quick_problems(home, book, generator)
    serves = reach_of(problems, 0.0, part_of(tick, 0.0, 0.0))
    if not serves:
        return None, None, serves is False
    found = look_for_reaching(problems, coverage, part_of(tick, 0.0, 0.5))
    most = covering_most(problems, part_of(tick, 0.5, 1.0)) or found.plan
    if found.plan is None and most is not None and reaches(most.coverage, coverage):
        return most, most, False  # what took too long to find by itself
    return found.plan, most, found.proven
