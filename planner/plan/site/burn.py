"""What a plan burns on each design day, by its replay."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.facts.home import SLOTS_PER_DAY
from planner.physics.fuel import FILL_LIMIT_SHARE, fuel_btu_h
from planner.plan.plan import Plan
from planner.plan.site.fuel import mean_btu_h, others_btu_h
from planner.plan.site.tank import Tanks, mean_degf

SLOTS_OF_AN_HOUR = 4


@dataclass(frozen=True, slots=True)
class Burn:
    """What is burned on a design day, on the hardest day of its spell.

    Attributes
    ----------
    day : int
        Place of the design day.
    mean_kw : float
        Average load of the generator [kW].
    generator_btu_h, others_btu_h : float
        On average, the generator and the gas appliances [Btu/h].
    hour_btu_h : float
        Both, in the hour in which the generator burns most [Btu/h].
    """

    day: int
    mean_kw: float
    generator_btu_h: float
    others_btu_h: float
    hour_btu_h: float

    @property
    def all_btu_h(self) -> float:
        """All that is burned on average [Btu/h]."""
        return self.generator_btu_h + self.others_btu_h


def burn_of(plan: Plan, day: int) -> Burn:
    """Work out what a plan burns on a design day."""
    house = plan.menu.house
    rating = plan.supply.generator.ratings[house.home.fuel]
    length = house.spell * SLOTS_PER_DAY
    slots_kw = plan.service.state.mean_kw[day * length:(day + 1) * length]
    days_kw = slots_kw.reshape(house.spell, SLOTS_PER_DAY)
    means = [mean_btu_h(row.tolist(), rating.kw, rating.fuel) for row in days_kw]
    others = others_btu_h(house, day)
    burned = np.array([fuel_btu_h(float(kw), rating.kw, rating.fuel) for kw in slots_kw])
    hours = np.convolve(burned, np.full(SLOTS_OF_AN_HOUR, 1.0 / SLOTS_OF_AN_HOUR), "valid")
    return Burn(day, float(days_kw.mean(axis=1).max()), max(means), others,
                float(hours.max()) + others)


def hardest_burn(plan: Plan, tanks: Tanks, share: float) -> Burn:
    """Find the design day on which tanks have least vapour left over, at a fill."""
    days = plan.menu.house.home.days
    burns = [burn_of(plan, place) for place in range(len(days))]
    return min(burns, key=lambda burn: tanks.vapour_btu_h(share, mean_degf(days[burn.day]))
               - burn.all_btu_h)


def shortest_burn(plan: Plan, tanks: Tanks, share: float) -> Burn:
    """Find the design day on which tanks last the shortest, from a fill on."""
    days = plan.menu.house.home.days

    def lasts_h(burn: Burn) -> tuple[float, float]:
        degf = mean_degf(days[burn.day])
        return (tanks.lasts_h(burn.all_btu_h, share, degf),
                tanks.lasts_h(burn.all_btu_h, FILL_LIMIT_SHARE, degf))

    return min((burn_of(plan, place) for place in range(len(days))), key=lasts_h)
