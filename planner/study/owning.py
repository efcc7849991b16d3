"""What it costs to own a plan: installed, maintained, and fuelled through the expected outages.

No interest, no change of prices and no value left at the end: a dollar of a later year counts as
one of today. The fuel of exercise runs outside outages is not counted.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.facts.home import SLOTS_PER_DAY, Home
from planner.facts.price_book import PriceBook
from planner.physics.fuel import fuel_btu_h, natural_gas_therm_h, propane_gal_h
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.frontier import frontier, frontier_by_size
from planner.study.basis import Basis

SHARE_OF_COMMON = 0.5  # of the progress told, a guess

FuelUnit = Literal["therm", "gal"]


@dataclass(frozen=True, slots=True)
class OwningCost:
    """Cost of a plan over the years of a basis; no interest.

    `fuel_per_h` is what an average outage hour burns, in `fuel_unit`: therm of natural gas or gal
    of liquid propane.
    """

    installed_usd: float
    maintenance_usd: float
    fuel_usd: float
    fuel_per_h: float
    fuel_unit: FuelUnit

    @property
    def usd(self) -> float:
        """All of it [USD]."""
        return self.installed_usd + self.maintenance_usd + self.fuel_usd


def owning_cost(plan: Plan, basis: Basis) -> OwningCost:
    """Add up what a plan costs to buy, to maintain and to run through the outages.

    An outage hour is taken to be like an average hour of the design days, each by its weight, with
    what the replay has on in every slot, each for the share of the slot that it runs.
    """
    book = plan.menu.book
    burned_btu_h = mean_fuel_btu_h(plan)
    unit: FuelUnit
    if plan.menu.house.home.fuel == "natural gas":
        per_h, unit = natural_gas_therm_h(burned_btu_h), "therm"
        price_usd = book.natural_gas_per_therm
    else:
        per_h, unit = propane_gal_h(burned_btu_h), "gal"
        price_usd = book.propane_per_gal
    return OwningCost(
        installed_usd=plan.cost_usd,
        maintenance_usd=basis.years * book.maintenance_per_year,
        fuel_usd=basis.outage_h * per_h * price_usd,
        fuel_per_h=per_h,
        fuel_unit=unit,
    )


def mean_fuel_btu_h(plan: Plan) -> float:
    """Give the heat that an average hour of the design days burns [Btu/h, higher heating value].

    Each slot is burned at its own load, because the curve bends; the full-load figure belongs to
    the rating before derating.
    """
    house = plan.menu.house
    rating = plan.supply.generator.ratings[house.home.fuel]
    by_day = plan.service.state.mean_kw.reshape(len(house.weights), house.spell, SLOTS_PER_DAY)
    burned = [np.mean([fuel_btu_h(float(kw), rating.kw, rating.fuel) for kw in day[-1]])
              for day in by_day]
    return float(np.array(burned) @ house.weights)


def unbeaten_by(plans: Iterable[Plan], cost: Callable[[Plan], float]) -> tuple[Plan, ...]:
    """Keep the plans that no other beats on both cost and coverage, by rising cost.

    Of plans that match on both, the first given is kept. Costs closer than a millionth of a dollar
    match, and so do coverages closer than a billionth.

    Parameters
    ----------
    plans : iterable of Plan
        Of one home.
    cost : callable
        From a plan to its cost [USD].
    """
    known = [(round(cost(plan), 6), round(plan.coverage, 9), plan) for plan in plans]
    kept: list[Plan] = []
    most = -math.inf
    for _, covered, plan in sorted(known, key=lambda one: (one[0], -one[1])):
        if covered > most:
            kept.append(plan)
            most = covered
    return tuple(kept)


def owning_frontier(
    home: Home, book: PriceBook, basis: Basis, *, on_progress: OnProgress | None = None
) -> tuple[Plan, ...]:
    """Find plans that none of those looked at beats on both owning cost and coverage.

    Looked at are the common frontier and the frontier of each size, both by installed cost.

    What this does not prove: a plan that another of its size beats at installed cost is not looked
    at, although it may burn less. And the proof that a plan carries speaks of installed cost:
    among all sizes if it stands on the common frontier, else among its own size.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    basis : Basis
        Years and outage hours.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.

    Returns
    -------
    tuple of Plan
        By rising owning cost.

    Raises
    ------
    NoPlanError
        If no generator of the book can serve the home.
    """
    tell = on_progress or unheard
    common = frontier(home, book, on_progress=part_of(tell, 0.0, SHARE_OF_COMMON))
    sizes = frontier_by_size(home, book, on_progress=part_of(tell, SHARE_OF_COMMON, 1.0))
    looked_at = [*common.points, *(plan for one in sizes.values() for plan in one.points)]

    def usd(plan: Plan) -> float:
        tell(1.0)
        return owning_cost(plan, basis).usd

    return unbeaten_by(looked_at, usd)


__all__ = ["Basis", "FuelUnit", "OwningCost", "mean_fuel_btu_h", "owning_cost", "owning_frontier",
           "unbeaten_by"]
