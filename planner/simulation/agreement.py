"""Planned against simulated: the same plan seen by the service rule and second by second."""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.plan import Plan
from planner.simulation.results import Mean, Results
from planner.simulation.run import outages
from planner.simulation.settings import Settings


@dataclass(frozen=True, slots=True)
class Gap:
    """Planned and simulated share of one load, or of the whole."""

    id: str
    label: str
    importance: float
    planned: float
    simulated: Mean

    @property
    def difference(self) -> float:
        """Simulated minus planned: below 0 the plan promises too much."""
        return self.simulated.value - self.planned


@dataclass(frozen=True)
class Agreement:
    """How far plan and simulation are apart.

    Attributes
    ----------
    coverage : Gap
        Of the whole.
    loads : tuple of Gap
        Every load that the plan connects, the largest contribution to the difference first.
    """

    coverage: Gap
    loads: tuple[Gap, ...]


def agreement_of(results: Results) -> Agreement:
    """Set the plan's promise beside what many outages delivered."""
    plan = results.plan
    importance = plan.menu.house.importance
    whole = Gap("coverage", "Coverage", float(importance.sum()), plan.coverage, results.coverage)
    gaps = [Gap(one.id, one.label, float(weight), one.planned, one.service)
            for one, part, weight in zip(results.loads(), plan.loads, importance, strict=True)
            if part.connection != "off"]
    return Agreement(whole, tuple(sorted(
        gaps, key=lambda gap: -abs(gap.difference) * gap.importance)))


def agree(
    plan: Plan, *, seeds: int = 30, hours: float = 24.0, settings: Settings | None = None
) -> Agreement:
    """Play a plan on all its design days and set it beside its promise.

    A day from midnight, as the plan counts it; calls still waiting at its end are not served in
    either.
    """
    played = outages(plan, seeds=seeds, hours=hours, settings=settings)
    return agreement_of(Results(plan, hours, tuple(played)))
