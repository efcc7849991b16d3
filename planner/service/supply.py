"""What one generator can do for one home: the limits of the service rule, and every start.

The starting kW of a motor depends on the generator, because the voltage dips while it starts; so
both are tabled here per load and per soft starter.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Floats
from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook, SoftStarter
from planner.physics.derate import derate_factor
from planner.physics.motor_start import engine_start_kw, startable_kva
from planner.service.house import KW_ROW, House
from planner.tolerances import meets


@dataclass(frozen=True)
class Supply:
    """Limits of one generator at one home.

    Attributes
    ----------
    generator : Generator
        As the price book offers it.
    derated_kw : float
        Rating on the fuel of the home at its altitude, on its hottest day [kW].
    capacity_kw : float
        Derated kW times the largest share that may be used [kW] (K of the service rule).
    leg_a : float
        Amperes per leg [A] (A of the service rule).
    short_time_kw : float
        Real power it gives for the seconds of a start [kW] (Ks of the service rule).
    startable_kva : float
        Locked-rotor kVA that it starts at the allowed dip [kVA] (V of the service rule).
    start_kw, start_kva : ndarray of float, shape (n, 1 + soft starters)
        Starting draw of each load without (column 0) and with each soft starter of the book; equal
        to the running kW and 0 kVA for loads that are no motors.
    """

    generator: Generator
    derated_kw: float
    kva: float
    capacity_kw: float
    leg_a: float
    short_time_kw: float
    startable_kva: float
    start_kw: Floats
    start_kva: Floats

    def can_start(self, starting_kva: float) -> bool:
        """Whether a start keeps within the allowed dip; all that starts together at once."""
        return meets(starting_kva, self.startable_kva)

    def caps(self, house: House) -> Floats:
        """Limit of each row of `house.draw`, shape (R,): kW, A, A, then panel amperes."""
        return np.concatenate([[self.capacity_kw, self.leg_a, self.leg_a], house.panel_caps_a])


def supply_of(house: House, generator: Generator, book: PriceBook) -> Supply:
    """Derate a generator for a home and table every start on it.

    Raises
    ------
    KeyError
        If the generator has no rating on the fuel of the home.
    """
    home = house.home
    rating = generator.ratings[home.fuel]
    factor = _factor(home, generator)
    derated_kw = rating.kw * factor
    kva = rating.kva * (factor if generator.derating.kva_too else 1.0)
    leg_a = rating.amperes * (factor if generator.derating.kva_too else 1.0)
    start_kw, start_kva = _starts(house, generator, book.soft_starters, kva)
    return Supply(
        generator=generator,
        derated_kw=derated_kw,
        kva=kva,
        capacity_kw=derated_kw * home.limits.largest_share,
        leg_a=leg_a,
        short_time_kw=derated_kw * generator.short_time,
        startable_kva=startable_kva(kva, generator.reactance, home.limits.allowed_dip),
        start_kw=start_kw,
        start_kva=start_kva,
    )


def hottest_degf(home: Home) -> float:
    """Temperature for which a generator is derated on every day: the worst of them [degF].

    Winter days would leave it more; the limits of the service rule know one rating for all days.
    """
    return max(home.summer_degf, *(day.high_degf for day in home.days))


def _factor(home: Home, generator: Generator) -> float:
    return derate_factor(home.altitude_ft, hottest_degf(home), generator.derating)


def _starts(
    house: House, generator: Generator, starters: tuple[SoftStarter, ...], kva: float
) -> tuple[Floats, Floats]:
    running_kw = house.draw[KW_ROW]
    start_kw = np.repeat(running_kw[:, None], 1 + len(starters), axis=1)
    start_kva = np.zeros_like(start_kw)
    factors = [1.0, *(starter.factor for starter in starters)]
    for i in np.flatnonzero(house.starting_kva):
        for column, factor in enumerate(factors):
            reduced_kva = float(house.starting_kva[i]) * factor
            drawn_kw = engine_start_kw(
                reduced_kva, float(house.starting_pf[i]), generator.reactance, kva
            )
            start_kva[i, column] = reduced_kva
            start_kw[i, column] = max(float(running_kw[i]), drawn_kw)
    return start_kw, start_kva
