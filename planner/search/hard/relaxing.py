"""What a search left open is bounded by the relaxed model: all loads share what there is.

The search hopes for each load what it could get beside those that are decided; where many compete
that says little. The model (`planner/model/FORMULATION.md`) with connections, soft starters and
slots in parts, without orders, and with the judged day of each spell alone lets nothing stand out
that the replay accepts, so no plan covers more than its optimum; where it has none, there is none.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from planner.plan.price import price_of
from planner.progress import OnProgress
from planner.search.desk import desk_of
from planner.search.ground import Ground
from planner.search.hard.polishing import polished
from planner.search.problem import Problem
from planner.search.still_open import NOTHING
from planner.service.choice import Choice

if TYPE_CHECKING:
    from planner.model.solver import Solution

ANY_USD = 1e9  # more than any book asks
SOLVER = 5e-6
"""Of a coverage: what the solver may be off, five times its tolerance of 1e-6."""
SMALL = 3_000
"""Variables up to which whole slots are asked for, which is tighter and takes up to half a second
(measured: 80 made-up loads have 1,600, the estate 6,800, which takes 5 s)."""
ROUNDS = 6  # plans that are made of points of the model, each for less money (a choice)
NODES = 2_000  # prefixes of the search for an order
TRIES = 500  # plans near one that are tried (measured: more found nothing)


class Relaxed:
    """The relaxed model of one size."""

    def __init__(self, problem: Problem) -> None:
        from planner.model.build import build  # noqa: PLC0415 - slow to import, seldom needed

        self.problem = problem
        tables = replace(problem.tables, last_days=1)
        self.model = build(tables, whole_slots=False)
        if self.model.problem.numVariables() <= SMALL:
            self.model = build(tables)
        self.known: dict[float, tuple[Solution, Choice | None]] = {}

    def solved(self, usd: float) -> tuple[Solution, Choice | None]:
        """The most for at most so much money [USD], and the choice that its point names, if any.

        Of the root of the tree, so always the same.
        """
        from planner.model.build import maximise_coverage, read_choice  # noqa: PLC0415 - as above
        from planner.model.solver import solve  # noqa: PLC0415

        if usd not in self.known:
            maximise_coverage(self.model, min(usd, ANY_USD))
            found = solve(self.model.problem, nodes=1)
            self.model.problem.solverModel = None  # it is large
            self.known[usd] = found, read_choice(self.model) if found.has_point else None
        return self.known[usd]

    def most(self, usd: float = float("inf")) -> float:
        """Coverage that no plan beats which costs at most so much [USD]; -1 if there is none."""
        found, _ = self.solved(usd)
        if found.infeasible:
            return NOTHING
        return 1.0 if found.bound is None else min(1.0, found.bound + SOLVER)

    def plans(self, tick: OnProgress) -> Iterator[Choice]:
        """Plans that are made of points of the model, each for less than the one before."""
        usd = float("inf")
        for _ in range(ROUNDS):
            tick(0.0)
            _, hint = self.solved(usd)
            if hint is None:
                return
            choice = self._plan(hint, tick)
            price = None if choice is None else price_of(self.problem.menu, choice)
            if choice is None or price is None:
                return
            yield choice
            usd = price.usd - 1.0

    def _plan(self, hint: Choice, tick: OnProgress) -> Choice | None:
        """Give the connections of a point an order in which they are a plan, and polish it."""
        ground = Ground(self.problem, desk_of(self.problem.house))
        node = ground.node_of(hint)
        if node is None:
            return None
        found = ground.search(ground.asked(node), node.soft, -1.0, tick, first=False, nodes=NODES)
        choice = None if found.order is None else ground.choice(node, found.order)
        coverage = None if choice is None else self.problem.coverage(choice)
        if choice is None or coverage is None:
            return None
        return polished(self.problem, (choice, coverage), None, TRIES, tick)
