"""What one generator can do for one home: the limits of the service rule, and every start.

The starting kW of a motor depends on the generator, because the voltage dips while it starts; so
both are tabled here per load and per soft starter.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, replace

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.engine import COMES_UP_S, SOFT_START_TIMES
from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook, SoftStarter
from planner.physics.average import PERMITTED_AVERAGE
from planner.physics.derate import derate_factor
from planner.physics.engine import LEAST_SHARE, start_rooms_kw, weighed_pick_up_kw
from planner.physics.motor_start import engine_start_kw, ohm_base, startable_kva
from planner.remembered import Itself
from planner.service.house import House
from planner.service.loops.inputs import KW_ROW, NEVER_KW, Power
from planner.service.module_fit import modules_for
from planner.tolerances import LIMIT, meets

TAKEOVER_DIP = 0.30
"""Dip that is tolerated when everything starts at once at takeover: the largest of a public
specification of motor starts (UFGS-16264A, p. 18)."""
PICK_UP_DIP = 0.25
"""Dip at a start that nobody announced (design, section 6)."""
FAST_LEVEL_S = 0.5
"""From the limit of the starts until the controller has opened all its modules (a choice) [s]."""
FIRST_S = 1.0
"""What comes up slowly counts at a start with what it has come to by then (a choice) [s]."""
LEAST_START_S = 0.05  # a start without seconds (a choice)
REMEMBERED = 512  # tables of starts

Starts = tuple[Floats, Floats, Floats, Floats]  # kW, kVA, room kW, seconds; nobody changes them
_known_starts: dict[tuple[object, ...], Starts] = {}


@dataclass(frozen=True, slots=True)
class SiteLimits:
    """What the site adds to the limits of a generator.

    Attributes
    ----------
    fuel_kw : tuple of float
        Average over 24 h for which the fuel suffices, by design day [kW]; empty: any.
    feeder_ohm : float
        Impedance of the feeder, both lines, to the transfer equipment [ohm].
    """

    fuel_kw: tuple[float, ...] = ()
    feeder_ohm: float = 0.0


NO_LIMITS = SiteLimits()


@dataclass(frozen=True)
class Supply:
    """Limits of one generator at one home.

    Attributes
    ----------
    generator : Generator
        As the price book offers it.
    derated_kw, kva : float
        Rating on the fuel of the home at its altitude, on its hottest day [kW, kVA].
    capacity_kw : float
        Derated kW times the largest share that may be used [kW] (K of the service rule).
    leg_a : float
        Amperes per leg times the largest share [A] (A of the service rule).
    startable_kva, takeover_kva, pick_kva : float
        Locked-rotor kVA that it starts at the allowed dip, at takeover, and unannounced [kVA].
    pick_kw : float
        Load that it stands until modules open, if nobody announced it, electronics counted by
        `ELECTRONIC_MORE` more [kW].
    average_kw, floor_kw : float
        What it may give on average over 24 h, and what each slot counts there at least [kW].
    fuel_kw : ndarray of float, shape (D,)
        What it may give on average over 24 h of each design day for the fuel [kW].
    reactance : float
        X'd and the feeder behind it, per unit on its kVA: a start dips the voltage by both.
    start_kw, start_kva, room_kw : ndarray of float, shape (n, 1 + soft starters)
        Starting draw of each load without (column 0) and with each soft starter of the book, and
        the other load on which that start succeeds (R of the service rule); 0 kVA and no limit for
        loads that are no motors. The starting kW is never below the running one of the day.
    start_s : ndarray of float, shape (n, 1 + soft starters)
        How long each start takes [s].
    blind : ndarray of bool, shape (n,)
        Whether the cheapest module that suits a load does not sense its call.
    """

    generator: Generator
    derated_kw: float
    kva: float
    capacity_kw: float
    leg_a: float
    startable_kva: float
    takeover_kva: float
    pick_kva: float
    pick_kw: float
    average_kw: float
    floor_kw: float
    fuel_kw: Floats
    reactance: float
    start_kw: Floats
    start_kva: Floats
    room_kw: Floats
    start_s: Floats
    blind: Bools

    def can_start(self, starting_kva: float) -> bool:
        """Whether a start keeps within the allowed dip."""
        return meets(starting_kva, self.startable_kva)

    def caps(self, house: House) -> Floats:
        """Limit of each row of `house.draw`, shape (R,): kW, A, A, then panel amperes."""
        return np.concatenate([[self.capacity_kw, self.leg_a, self.leg_a], house.panel_caps_a])

    def with_starts(self, factor: float) -> Supply:
        """Give the supply at which every start takes so many times as much, its dip and its room.

        kVA and kW grow alike: the safe side, since a deeper dip lowers the kW drawn per kVA.
        """
        start_kw = np.where(self.start_kva > 0.0, self.start_kw * factor, self.start_kw)
        room_kw, motors = self.room_kw.copy(), self.start_kva > 0.0
        if motors.any():
            room_kw[motors] = start_rooms_kw(
                start_kw[motors], self.start_s[motors], self.derated_kw, self.kva,
                inertia_s=self.generator.inertia_s, governor_s=self.generator.governor_s)
        return replace(self, start_kva=self.start_kva * factor, start_kw=start_kw, room_kw=room_kw)

    def power(
        self, house: House, soft_start: tuple[int, ...], sensing: Collection[int] = ()
    ) -> Power:
        """Give the limits with the soft starters and the modules that are chosen, for the loops.

        `sensing`: loads whose module senses their call though the cheapest does not.
        """
        unannounced = self.blind.copy()
        unannounced[list(sensing)] = False
        rows, columns = np.arange(house.count), np.array(soft_start, dtype=np.int64)
        kva, start = self.start_kva[rows, columns], self.start_kw[rows, columns]
        running = house.draw[:, KW_ROW, :]
        return Power(
            caps=self.caps(house), room_kw=self.room_kw[rows, columns], start_kw=start,
            start_kva=kva, begins_kw=begins_kw(house, running, start),
            dip_ok=kva <= self.startable_kva + LIMIT, unannounced=unannounced,
            takeover_kva=self.takeover_kva, pick_kva=self.pick_kva, pick_kw=self.pick_kw,
            average_kw=self.average_kw, floor_kw=self.floor_kw,
            fuel_kw=self.fuel_kw)


def begins_kw(house: House, running_kw: Floats, start_kw: Floats) -> Floats:
    """What each load counts in its first second on each day, shape (D, n) [kW].

    Electronics by `ELECTRONIC_MORE` more. A motor its start; a vehicle charger, which comes up over
    `COMES_UP_S`, what it has come to; all else its running draw.
    """
    slow = np.array([load.nature == "battery" for load in house.home.loads], dtype=np.bool_)
    motor = house.starting_kva > 0.0
    begins = np.where(motor[None, :], np.maximum(running_kw, start_kw[None, :]), running_kw)
    come = np.where(slow[None, :], begins * min(1.0, FIRST_S / COMES_UP_S), begins)
    return np.ascontiguousarray(come * house.weight)


def supply_of(
    house: House, generator: Generator, book: PriceBook, site: SiteLimits = NO_LIMITS
) -> Supply:
    """Derate a generator for a home and table every start on it.

    The impedance of the feeder counts as reactance, which overstates the dip. What a start takes
    from the engine is reckoned without it, which overstates that, too.

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
    start_kw, start_kva, room_kw, start_s = _starts(
        house, generator, book.soft_starters, derated_kw, kva)
    average = generator.permitted_average
    modules = modules_for(home, book)
    reactance = generator.reactance + site.feeder_ohm / ohm_base(kva)
    return Supply(
        generator=generator,
        derated_kw=derated_kw,
        kva=kva,
        capacity_kw=derated_kw * home.limits.largest_share,
        leg_a=leg_a * home.limits.largest_share,
        startable_kva=startable_kva(kva, reactance, home.limits.allowed_dip),
        takeover_kva=startable_kva(kva, reactance, TAKEOVER_DIP),
        pick_kva=startable_kva(kva, reactance, PICK_UP_DIP),
        pick_kw=weighed_pick_up_kw(derated_kw, kva, inertia_s=generator.inertia_s,
                                   shed_s=FAST_LEVEL_S),
        average_kw=derated_kw * (PERMITTED_AVERAGE if average is None else average),
        floor_kw=LEAST_SHARE * derated_kw,
        fuel_kw=(np.array(site.fuel_kw) if site.fuel_kw
                 else np.full(len(home.days), NEVER_KW)),
        reactance=reactance,
        start_kw=start_kw,
        start_kva=start_kva,
        room_kw=room_kw,
        start_s=start_s,
        blind=np.array([module is not None and module.senses != "call" for module in modules],
                       dtype=np.bool_),
    )


def hottest_degf(home: Home) -> float:
    """Temperature for which a generator is derated on every day: the worst of them [degF].

    Winter days would leave it more; the limits of the service rule know one rating for all days.
    """
    return max(home.summer_degf, *(day.high_degf for day in home.days))


def _factor(home: Home, generator: Generator) -> float:
    return derate_factor(home.altitude_ft, hottest_degf(home), generator.derating)


def _starts(
    house: House, generator: Generator, starters: tuple[SoftStarter, ...], derated_kw: float,
    kva: float,
) -> Starts:
    """Table what every start takes; the same tables for homes that differ in wishes alone."""
    running_kw = np.ascontiguousarray(house.draw[:, KW_ROW, :].max(axis=0))
    key = (running_kw.tobytes(), house.starting_kva.tobytes(), house.starting_pf.tobytes(),
           house.start_s.tobytes(), Itself(generator), Itself(starters), derated_kw, kva)
    found = _known_starts.get(key)
    if found is None:
        if len(_known_starts) >= REMEMBERED:
            _known_starts.pop(next(iter(_known_starts)), None)
        found = _known_starts[key] = _tabled(house, generator, starters, derated_kw, kva)
    return found


def _tabled(
    house: House, generator: Generator, starters: tuple[SoftStarter, ...], derated_kw: float,
    kva: float,
) -> Starts:
    running_kw = house.draw[:, KW_ROW, :].max(axis=0)
    start_kw = np.repeat(running_kw[:, None], 1 + len(starters), axis=1)
    start_kva, start_s = np.zeros_like(start_kw), np.zeros_like(start_kw)
    for i in np.flatnonzero(house.starting_kva):
        for column, starter in enumerate([None, *starters]):
            start_kva[i, column], start_kw[i, column], start_s[i, column] = start_of(
                house, int(i), starter, generator.reactance, kva)
    room_kw, motors = np.full_like(start_kw, NEVER_KW), house.starting_kva > 0.0
    if motors.any():
        room_kw[motors] = start_rooms_kw(
            start_kw[motors], start_s[motors], derated_kw, kva, inertia_s=generator.inertia_s,
            governor_s=generator.governor_s)
    return start_kw, start_kva, room_kw, start_s


def start_of(
    house: House, i: int, starter: SoftStarter | None, reactance: float, kva: float
) -> tuple[float, float, float]:
    """Give what the start of a motor takes on a generator: kVA, kW of the engine, seconds.

    Parameters
    ----------
    house : House
    i : int
        Place of a load that is a motor.
    starter : SoftStarter or None
    reactance, kva : float
        X'd of the generator per unit, on its kVA at the site.
    """
    reduced_kva = float(house.starting_kva[i]) * (starter.factor if starter else 1.0)
    drawn_kw = engine_start_kw(reduced_kva, float(house.starting_pf[i]), reactance, kva)
    running_kw = float(house.draw[:, KW_ROW, i].max())
    return reduced_kva, max(running_kw, drawn_kw), _start_s(float(house.start_s[i]), starter)


def _start_s(own_s: float, starter: SoftStarter | None) -> float:
    """Seconds of a start, longer behind a soft starter."""
    usual_s = max(LEAST_START_S, own_s)
    if starter is None:
        return usual_s
    return starter.start_s or usual_s * SOFT_START_TIMES.value
