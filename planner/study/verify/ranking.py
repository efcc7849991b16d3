"""Which assumed values to verify on site, those first on which the recommended plan hangs.

Each assumed value is set to either end of its plausible range, alone. The plan is replayed on the
home so changed; where that shows any effect, the changed home is planned anew for the same goal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.problem import problems_of
from planner.study.reaching import cheapest_reaching
from planner.study.verify.ends import (
    SOFT_START_LEAVES,
    Changed,
    comfort_ends,
    ends_of,
    reweighted,
    softened,
    spread_of,
)
from planner.study.verify.trial import Stand, resolved, stand_of
from planner.tolerances import DOLLAR, reaches

Effect = Literal["breaks", "size", "price", "coverage", "nothing"]
EFFECTS: tuple[Effect, ...] = ("breaks", "size", "price", "coverage", "nothing")

TODAY, REPLAYED = 0.05, 0.1  # of the time, a guess: planned as it is, every end replayed
WEIGHT_SPREAD = 0.5  # of a design day's weight; common practice, no source
LEAST_KW = 1e-6
LEAST_COVERAGE = 1e-6


@dataclass(frozen=True, slots=True)
class End:
    """What one end of a plausible range does.

    Attributes
    ----------
    value : str
        The value at this end, with its unit.
    stand : Stand
        The recommended plan, replayed there.
    solved : bool
        Whether the home was planned anew.
    instead : Plan or None
        The cheapest plan for the goal there; None if not planned anew, or if there is none.
    effect : str
        The gravest: ``breaks`` the plan, changes the recommended ``size``, its ``price``, the
        ``coverage`` of the plan, or ``nothing``. No plan for the goal counts as a change of size.
    size_change_kw, price_change_usd : float
        Derated kW and installed cost of `instead` minus those of what is recommended today.
    coverage_change : float
        Coverage of the plan there minus today's (0-1); 0 if it is refused.
    """

    value: str
    stand: Stand
    solved: bool
    instead: Plan | None
    effect: Effect
    size_change_kw: float
    price_change_usd: float
    coverage_change: float

    @property
    def no_plan(self) -> bool:
        """Whether no plan of the price book was found that reaches the goal here."""
        return self.solved and self.instead is None

    @property
    def gravity(self) -> tuple[int, bool, float, float, bool, float]:
        """Sorts the gravest effect first, the largest within it, loss of coverage before gain."""
        return (EFFECTS.index(self.effect), not self.no_plan, -abs(self.size_change_kw),
                -abs(self.price_change_usd), self.coverage_change > 0.0,
                -abs(self.coverage_change))


@dataclass(frozen=True, slots=True)
class Doubt:
    """One assumed value, and what hangs on it.

    Attributes
    ----------
    load_id, label : str
        The load; for a design day or a comfort its id and label.
    key : str
        Key of the file, or ``weight`` for a design day.
    value, source : str
        What was assumed, and why.
    spread : float
        Plausible relative error.
    ends : tuple of End
        Lower values first.
    """

    load_id: str
    label: str
    key: str
    value: str
    source: str
    spread: float
    ends: tuple[End, ...]

    @property
    def gravest(self) -> End:
        """The end on which most hangs."""
        return min(self.ends, key=lambda end: end.gravity)

    @property
    def effect(self) -> Effect:
        """Effect of the gravest end."""
        return self.gravest.effect


def to_verify(
    home: Home, book: PriceBook, plan: Plan, coverage: float,
    on_progress: OnProgress | None = None, *, most_anew: int | None = None,
    today: Plan | None = None,
) -> tuple[Doubt, ...]:
    """Rank the assumed values of a home by what hangs on them.

    Parameters
    ----------
    home, book : Home, PriceBook
        What the plan was made for.
    plan : Plan
        The recommended plan.
    coverage : float
        The goal it was made for, 0-1.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    most_anew : int, optional
        How many values are planned anew, those first on which the replay shows most; all that show
        anything if not given. Large homes take seconds for each.
    today : Plan, optional
        The cheapest plan for the goal in the house as it is assumed, if it is known already.

    Returns
    -------
    tuple of Doubt
        Breaks the plan, changes the recommended size, its price, the coverage, nothing; within
        these by the change of size, of price, of coverage.
    """
    tell = on_progress or unheard
    if today is None:
        today = cheapest_reaching(problems_of(home, book), coverage,
                                  part_of(tell, 0.0, TODAY)) or plan
    questions = _questions(home, book, plan)
    trials = []
    for number, question in enumerate(questions):
        tell(TODAY + (REPLAYED - TODAY) * number / len(questions))
        stands = tuple(stand_of(plan, changed.home, changed.book) for changed in question.ends)
        trials.append(_Trial(question, stands))
    telling = [trial for trial in trials if any(_tells(stand, plan) for stand in trial.stands)]
    telling.sort(key=lambda trial: min(_shows(stand, plan, coverage) for stand in trial.stands))
    anew = telling[:most_anew]
    doubts = [_doubt(trial, plan, today, [None] * len(trial.stands), solved=False)
              for trial in trials if trial not in anew]
    for number, trial in enumerate(anew):
        mine = part_of(part_of(tell, REPLAYED, 1.0), number / len(anew), (number + 1) / len(anew))
        ends = list(zip(trial.question.ends, trial.stands, strict=True))
        instead = [
            resolved(changed.home, changed.book or book, coverage, stand,
                     part_of(mine, end / len(ends), (end + 1) / len(ends)))
            for end, (changed, stand) in enumerate(ends)]
        doubts.append(_doubt(trial, plan, today, instead, solved=True))
        mine(1.0)
    return tuple(sorted(doubts, key=lambda doubt: doubt.gravest.gravity))


@dataclass(frozen=True, slots=True)
class _Question:
    load_id: str
    label: str
    key: str
    value: str
    source: str
    spread: float
    ends: tuple[Changed, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Trial:
    question: _Question
    stands: tuple[Stand, ...]


def _questions(home: Home, book: PriceBook, plan: Plan) -> tuple[_Question, ...]:
    """List every assumed value with a plausible error, soft starters, weights of design days."""
    found = [
        _Question(load.id, load.label, one.key, one.text, one.source, spread_of(one), ends)
        for load in home.loads for one in load.assumed if (ends := ends_of(home, load, one))
    ]
    found += [
        _Question(comfort.id, comfort.label, one.key, one.text, one.source, one.spread, ends)
        for comfort in home.comforts for one in comfort.assumed
        if (ends := comfort_ends(home, comfort, one))
    ]
    found += _of_soft_starters(home, book, plan)
    if len(home.days) > 1:
        found += [_Question(
            day.id, day.label, "weight", f"{100.0 * day.weight:.0f} %",
            "common practice, no source", WEIGHT_SPREAD,
            tuple(reweighted(home, day.id, growth) for growth in (-WEIGHT_SPREAD, WEIGHT_SPREAD)),
        ) for day in home.days]
    return tuple(found)


def _of_soft_starters(home: Home, book: PriceBook, plan: Plan) -> list[_Question]:
    """Ask of each kind of soft starter in the plan what it leaves, under its first load."""
    found: dict[str, _Question] = {}
    offered = {soft.id: soft for soft in book.soft_starters}
    for part in plan.loads:
        soft = offered.get(part.soft_starter or "")
        if soft is not None and soft.id not in found:
            spread = max(abs(share / soft.factor - 1.0) for share in SOFT_START_LEAVES)
            found[soft.id] = _Question(
                part.id, part.label, "soft_start", f"{100.0 * soft.factor:.0f} %",
                "the estimator's figure in the price book; no independent source", spread,
                softened(home, book, soft))
    return list(found.values())


def _doubt(
    trial: _Trial, plan: Plan, today: Plan, instead: Sequence[Plan | None], *, solved: bool
) -> Doubt:
    asked = trial.question
    ends = tuple(_end(changed.value, stand, plan, today, anew, solved=solved) for
                 changed, stand, anew in zip(asked.ends, trial.stands, instead, strict=True))
    return Doubt(asked.load_id, asked.label, asked.key, asked.value, asked.source, asked.spread,
                 ends)


def _tells(stand: Stand, plan: Plan) -> bool:
    """Whether the replay shows any effect."""
    if stand.coverage is None or stand.cost_usd is None:
        return True
    return (abs(stand.coverage - plan.coverage) > LEAST_COVERAGE
            or abs(stand.cost_usd - plan.cost_usd) >= DOLLAR)


def _shows(stand: Stand, plan: Plan, goal: float) -> tuple[bool, bool, bool, float]:
    """Sorts what the replay shows: refused, below the goal, dearer, then by coverage."""
    if stand.coverage is None or stand.cost_usd is None:
        return (False, False, False, 0.0)
    return (True, reaches(stand.coverage, goal), stand.cost_usd <= plan.cost_usd + DOLLAR,
            stand.coverage)


def _end(
    value: str, stand: Stand, plan: Plan, today: Plan, instead: Plan | None, *, solved: bool
) -> End:
    size_kw = instead.supply.derated_kw - today.supply.derated_kw if instead else 0.0
    usd = instead.cost_usd - today.cost_usd if instead else 0.0
    covers = stand.coverage - plan.coverage if stand.coverage is not None else 0.0
    happens = (bool(stand.refusal), abs(size_kw) > LEAST_KW or (solved and instead is None),
               abs(usd) >= DOLLAR, abs(covers) > LEAST_COVERAGE, True)
    return End(value, stand, solved, instead, EFFECTS[happens.index(True)], size_kw, usd, covers)
