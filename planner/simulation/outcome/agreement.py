"""Planned against simulated: the same plan seen by the service rule and second by second."""

from __future__ import annotations

from dataclasses import dataclass
from math import isnan

from planner.plan.plan import Plan
from planner.simulation.comforts import ComfortResult
from planner.simulation.outcome.mean import Mean
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.simulation.settings import Settings


@dataclass(frozen=True, slots=True)
class Gap:
    """Planned and simulated share that is kept of one comfort, or of the whole."""

    id: str
    label: str
    importance: float
    planned: float
    simulated: Mean

    @property
    def difference(self) -> float:
        """Simulated minus planned: below 0 the plan promises too much."""
        return self.simulated.value - self.planned


@dataclass(frozen=True, slots=True)
class Worst:
    """The worst of a comfort on one design day, planned and over all simulated outages.

    `usual` is the median of the outages; all in the unit of the comfort.
    """

    id: str
    label: str
    day: str
    unit: str
    planned: float
    simulated: float
    usual: float


@dataclass(frozen=True)
class Agreement:
    """How far plan and simulation are apart.

    Attributes
    ----------
    coverage : Gap
        Of the whole.
    comforts : tuple of Gap
        Every comfort that counts in the coverage, the largest part of the difference first.
    worst : tuple of Worst
        Every comfort on every design day on which both know it.
    """

    coverage: Gap
    comforts: tuple[Gap, ...]
    worst: tuple[Worst, ...]


def agreement_of(results: Results) -> Agreement:
    """Set the plan's promise beside what many outages delivered."""
    plan = results.plan
    weight = plan.menu.house.importance
    whole = Gap("coverage", "Coverage", float(weight.sum()), plan.coverage, results.coverage)
    found = results.comforts()
    gaps = [Gap(one.id, one.label, float(part), one.planned, one.kept)
            for one, part in zip(found, weight, strict=True) if part > 0.0]
    return Agreement(whole, tuple(sorted(
        gaps, key=lambda gap: -abs(gap.difference) * gap.importance)), _worst(found))


def _worst(found: tuple[ComfortResult, ...]) -> tuple[Worst, ...]:
    return tuple(
        Worst(one.id, one.label, day.day, one.unit, day.planned, day.worst, day.usual)
        for one in found for day in one.days if not (isnan(day.planned) or isnan(day.worst)))


def agree(
    plan: Plan, *, seeds: int = 30, hours: float | None = None, settings: Settings | None = None
) -> Agreement:
    """Play a plan on all its design days and set it beside its promise.

    The spell that the plan is made for, from midnight, unless other `hours` are given.
    """
    long_h = 24.0 * plan.menu.house.spell if hours is None else hours
    played = outages(plan, seeds=seeds, hours=long_h, settings=settings)
    return agreement_of(Results(plan, long_h, tuple(played)))
