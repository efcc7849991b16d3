"""What burns at a site: the generator by its load, and the gas appliances beside it."""

from __future__ import annotations

from collections.abc import Iterable

from planner.facts.home import DesignDay, Home, Load
from planner.facts.price_book import FuelUse
from planner.facts.site import FUEL_BURNING, GasAppliance
from planner.physics.fuel import (
    NATURAL_GAS_BTU_PER_FT3,
    fuel_btu_h,
    natural_gas_ft3_h,
    propane_ft3_h,
)
from planner.service.house import House


def mean_limit_kw(btu_h: float, rated_kw: float, use: FuelUse) -> float:
    """Give the average load at which a generator surely burns no more than a heat [kW].

    Parameters
    ----------
    btu_h : float
        Fuel that may be burned on average [Btu/h].
    rated_kw : float
        Load of the full-load figure [kW]; positive.
    use : FuelUse
        Figures at no, half and full load.

    Returns
    -------
    float
        At most the rating; below 0 if even idling burns more.

    Notes
    -----
    However the load is spread over a day, its mean fuel lies on or below the concave hull of the
    curve (Jensen's inequality); the curve has one knee, so that is the curve itself or its chord.
    """
    half = max(use.half_load_btu_h, (use.no_load_btu_h + use.full_load_btu_h) / 2.0)
    if btu_h < half:
        return rated_kw / 2.0 * (btu_h - use.no_load_btu_h) / (half - use.no_load_btu_h)
    share = 0.5 + 0.5 * (btu_h - half) / (use.full_load_btu_h - half)
    return rated_kw * min(1.0, share)


def mean_btu_h(loads_kw: Iterable[float], rated_kw: float, use: FuelUse) -> float:
    """Give the mean fuel of a generator over slots of equal length [Btu/h]."""
    burned = [fuel_btu_h(kw, rated_kw, use) for kw in loads_kw]
    return sum(burned) / len(burned)


def others_btu_h(house: House, day: int) -> float:
    """Give what the gas appliances of a home burn on average on a design day [Btu/h].

    With its load as unlimited power would let it run: a plan seldom gives it more. Heat of rooms
    is not burned in summer, when the blower runs for the air conditioner.
    """
    site = house.home.site
    if site is None or site.gas is None:
        return 0.0
    return sum(one.input_btu_h * _share(house, one, house.home.days[day], day)
               for one in site.gas.appliances)


def _share(house: House, appliance: GasAppliance, day: DesignDay, place: int) -> float:
    if not appliance.load:
        return appliance.mean_share
    i = house.index(appliance.load)
    if house.home.loads[i].nature == "room" and day.season == "summer":
        return 0.0
    return float(house.nature.ran[i, place])


def others_input_btu_h(house: House) -> float:
    """Give what the gas appliances burn when all are on [Btu/h]."""
    site = house.home.site
    if site is None or site.gas is None:
        return 0.0
    return sum(one.input_btu_h for one in site.gas.appliances)


def unknown_burners(home: Home) -> tuple[Load, ...]:
    """List the loads that burn gas, and of which nothing says how much."""
    gas = home.site.gas if home.site is not None else None
    told = {one.load for one in gas.appliances} if gas is not None else set[str]()
    return tuple(load for load in home.loads if load.kind in FUEL_BURNING and load.id not in told)


def natural_gas_btu_ft3(home: Home) -> float:
    """Give the heating value of a home's natural gas: its own, else that of the EIA [Btu/ft³]."""
    gas = home.site.gas if home.site is not None else None
    said = gas.btu_per_ft3 if gas is not None else None
    return NATURAL_GAS_BTU_PER_FT3 if said is None else said


def ft3_h(btu_h: float, home: Home) -> float:
    """Give the volume of a home's gas that carries a heat [ft³/h]."""
    return (propane_ft3_h(btu_h) if home.fuel == "propane"
            else natural_gas_ft3_h(btu_h, natural_gas_btu_ft3(home)))
