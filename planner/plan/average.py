"""The average load of a plan's generator over each design day, against what its rating permits.

The service rule holds it (rule 4); here it is said.
"""

from __future__ import annotations

from dataclasses import dataclass

from planner.physics.average import PERMITTED_AVERAGE
from planner.plan.plan import Plan
from planner.tolerances import meets


@dataclass(frozen=True, slots=True)
class Average:
    """The design day with the highest average load.

    Attributes
    ----------
    day : str
        Its label.
    share : float
        Average load, share of the derated rating, each slot counted as at least 30 %.
    permitted : float
        Share that may be given on average over 24 h.
    by_maker : bool
        Whether the price book states it; else it is that of ISO 8528-1.
    """

    day: str
    share: float
    permitted: float
    by_maker: bool

    @property
    def is_kept(self) -> bool:
        """Whether the average is within what is permitted."""
        return meets(self.share, self.permitted)


def average_of(plan: Plan) -> Average:
    """Find the highest average load of a plan over its design days.

    Parameters
    ----------
    plan : Plan
        Its replay says what is on in each quarter of an hour.
    """
    stated = plan.supply.generator.permitted_average
    shares = plan.service.average.tolist()
    worst = max(range(len(shares)), key=lambda day: shares[day])
    return Average(plan.menu.house.home.days[worst].label, shares[worst],
                   permitted_average(plan), stated is not None)


def permitted_average(plan: Plan) -> float:
    """Give what the generator may give on average over 24 h: by its maker, else by the standard."""
    stated = plan.supply.generator.permitted_average
    return PERMITTED_AVERAGE if stated is None else stated
