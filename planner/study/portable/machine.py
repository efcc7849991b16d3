"""A portable generator behind manual transfer equipment at one home: its limits, its starts."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.portable import ManualTransfer, Portable
from planner.facts.price_book import FuelUse, Generator, PriceBook, Rating
from planner.physics.draw import LINE_VOLTS
from planner.physics.gasoline import GASOLINE_BTU_PER_GAL
from planner.service.house import KW_ROW, L1_ROW, L2_ROW, House
from planner.service.loops.inputs import Power
from planner.service.supply import Supply, supply_of
from planner.tolerances import LIMIT


@dataclass(frozen=True)
class Machine:
    """One way to connect a portable generator.

    Attributes
    ----------
    portable, transfer
    house : House
    supply : Supply
        Its limits at this home, by the same rules as of every generator.
    soft_start : tuple of int, length n
        As in `planner.service.choice.Choice`.
    draw : ndarray of float, shape (D, R, n)
        As `House.draw`; of a machine with 120 V alone both legs count on the first.
    """

    portable: Portable
    transfer: ManualTransfer
    house: House
    supply: Supply
    soft_start: tuple[int, ...]
    draw: Floats

    @cached_property
    def power(self) -> Power:
        """Its limits, with the soft starters."""
        return self.supply.power(self.house, self.soft_start)

    @property
    def runs(self) -> Bools:
        """Which loads it can feed at all, shape (n,): what needs 240 V it must have.

        A load that the family leaves off standby power stays off.
        """
        return np.array([
            bool(load.allowed - {"off"}) and load.volts <= self.portable.volts
            for load in self.house.home.loads], dtype=np.bool_)

    def with_soft_start(self, soft_start: tuple[int, ...]) -> Machine:
        """Give the same with other soft starters."""
        return replace(self, soft_start=soft_start)

    def fits(self, day: int, on: Bools) -> bool:
        """Whether all these loads may be on at once on a day: nobody sheds any of them.

        Parameters
        ----------
        day : int
            Place of the design day.
        on : ndarray of bool, shape (n,)
            With what they need.

        Notes
        -----
        The checks of the service rule: kW, each leg and each panel within their limits; each motor
        starts within its dip beside all the others; what starts together with what it needs stays
        within the dip of a start that nobody announced; nothing is on with what excludes it.
        """
        power, loads = self.power, np.flatnonzero(on)
        if not loads.size:
            return True
        drawn = self.draw[day][:, loads]
        sums = drawn.sum(axis=1)
        own = drawn[KW_ROW]
        if (sums > power.caps + LIMIT).any() or not power.dip_ok[loads].all():
            return False
        if (sums[KW_ROW] - own > power.room_kw[loads] + LIMIT).any():
            return False
        house = self.house
        together = power.start_kva[loads] + house.closure[loads] @ power.start_kva
        starts = power.start_kva[loads] > 0.0
        if (together[starts] > power.pick_kva + LIMIT).any():
            return False
        return not house.exclusive[np.ix_(loads, loads)].any()


def machine_of(
    house: House, book: PriceBook, portable: Portable, transfer: ManualTransfer
) -> Machine:
    """Derate a portable generator for a home and table every start on it, without soft starters.

    It is reckoned as any generator, with its rating on gasoline in place of the one on the fuel of
    the home. Amperes per leg are the least of its own, its receptacle and the inlet.
    """
    own_a = 1000.0 * portable.kva / portable.volts
    rating = Rating(
        portable.kw, portable.kva, min(own_a, portable.receptacle_a, transfer.inlet_a),
        FuelUse(*(GASOLINE_BTU_PER_GAL * one for one in portable.gal_h)))
    generator = Generator(
        portable.id, portable.label, "air", {house.home.fuel: rating},
        reactance=portable.reactance, short_time=1.0, derating=portable.derating,
        price=portable.price, installation=0.0, inertia_s=portable.inertia_s,
        governor_s=portable.governor_s, noise_db=portable.noise_db, unstated=portable.unstated)
    draw = house.draw
    if portable.volts < LINE_VOLTS:
        draw = draw.copy()
        draw[:, L1_ROW] += draw[:, L2_ROW]
        draw[:, L2_ROW] = 0.0
    return Machine(portable, transfer, house, supply_of(house, generator, book),
                   (0,) * house.count, draw)


def needed(house: House, loads: Iterable[int]) -> Bools:
    """Mark loads and all that they need, shape (n,)."""
    on = np.zeros(house.count, dtype=np.bool_)
    for i in loads:
        on[i] = True
        on |= house.closure[i]
    return on
