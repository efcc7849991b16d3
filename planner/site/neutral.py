"""The neutral of the feeder of a plan."""

from __future__ import annotations

from dataclasses import dataclass

from planner.physics.wire.feeder import neutral_conductor
from planner.physics.wire.grounding import equipment_grounding_size
from planner.plan.code import WHOLE, direct_demand
from planner.plan.plan import Plan
from planner.plan.site.feeder import ambient_degc
from planner.service.choice import OFF
from planner.site.wire import FeederRun


@dataclass(frozen=True, slots=True)
class Neutral:
    """The neutral of a feeder.

    Attributes
    ----------
    size : str
        The least that does; as large as the lines where these are larger than the code asks.
    load_a : float
        What it carries by 220.61, no more than the breaker lets through [A].
    least : str
        The grounding conductor of the feeder, below which it may not be.
    grown : bool
        Whether it is as large as the lines because they were made larger.
    """

    size: str
    load_a: float
    least: str
    grown: bool


def neutral_of(plan: Plan, run: FeederRun) -> Neutral:
    """Size the neutral for all that a plan connects."""
    home, choice, found = plan.menu.house.home, plan.choice, run.by_code
    on = frozenset(load.id for i, load in enumerate(home.loads) if choice.connection[i] != OFF)
    whole = plan.menu.kind == WHOLE
    sheets = direct_demand(home, on, whole_area=whole, entire=whole and OFF not in
                           choice.connection)
    load_a = min(sheets.counts.neutral_a, found.breaker_a)
    least = equipment_grounding_size(found.breaker_a, found.material, needed_size=found.size,
                                     laid_size=run.laid)
    size = neutral_conductor(load_a, found, least, laid_size=run.laid,
                             ambient_degc=ambient_degc(home))
    return Neutral(size, load_a, least, run.laid != found.size)
