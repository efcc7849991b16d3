"""The hours in which somebody can switch, and the day in periods between them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.home import SLOT_H, SLOTS_PER_DAY
from planner.facts.portable import Attendance
from planner.service.house import House
from planner.service.loops.inputs import State

GAP_SLOTS = 2
"""The engine stands so long for a refuelling, to cool, be filled and take up the loads one by one
(common practice, no source) [slot]."""


@dataclass(frozen=True)
class Periods:
    """A day in P periods, each from an hour in which somebody can switch to the next.

    The last one is the night, from the last hour of the attendance to its first; without a night
    the last period of the day is the last.

    Attributes
    ----------
    begins : tuple of int
        First slot of each.
    of_slot : ndarray of int, shape (96,)
    has_night : bool
    """

    begins: tuple[int, ...]
    of_slot: Ints
    has_night: bool

    @property
    def count(self) -> int:
        """Number of periods, P."""
        return len(self.begins)

    @property
    def attended(self) -> Bools:
        """Slots in which somebody is there, shape (96,)."""
        return np.asarray(self.of_slot < self.count - self.has_night)

    def hour(self, period: int) -> float:
        """Hour of the day at which a period begins."""
        return self.begins[period] * SLOT_H

    def burnt(self, gal: Floats, spell: int) -> Floats:
        """Fuel of every period, the most of any day of the spell, shape (D, P) [gal].

        Parameters
        ----------
        gal : ndarray of float, shape (N,)
            What each slot of the spells burns.
        spell : int

        Notes
        -----
        A night goes on over midnight: the hours after it are those of the next day.
        """
        days = gal.reshape(-1, spell, SLOTS_PER_DAY)
        found = np.zeros((len(days), self.count))
        for p in range(self.count):
            here = self.of_slot == p
            if self.has_night and p == self.count - 1:
                early = here & (np.arange(SLOTS_PER_DAY) < self.begins[0])
                before, after = days[..., here & ~early].sum(-1), days[..., early].sum(-1)
                following = np.concatenate([after[:, 1:], after[:, -1:]], axis=1)
                found[:, p] = (before + following).max(axis=1)
            else:
                found[:, p] = days[..., here].sum(-1).max(axis=1)
        return found


def periods_of(attendance: Attendance) -> Periods:
    """Divide a day: a period begins with the attendance, and again after every switching time."""
    begin, end = round(attendance.begin_h / SLOT_H), round(attendance.end_h / SLOT_H)
    step = round(attendance.every_h / SLOT_H)
    begins = list(range(begin, end, step))
    of_slot = np.zeros(SLOTS_PER_DAY, dtype=np.int64)
    for p, first in enumerate(begins):
        of_slot[first:] = p
    has_night = end - begin < SLOTS_PER_DAY
    if has_night:
        of_slot[end:] = of_slot[:begin] = len(begins)
        begins.append(end % SLOTS_PER_DAY)
    return Periods(tuple(begins), of_slot, has_night)


def gap(periods: Periods, period: int) -> Ints:
    """Slots of the day in which the engine stands if a period begins with a refuelling."""
    return np.arange(periods.begins[period], periods.begins[period] + GAP_SLOTS) % SLOTS_PER_DAY


def active(house: House, periods: Periods) -> Bools:
    """Which loads can be on in each period of each design day, shape (D, P, n)."""
    can = house.works.can.reshape(house.count, -1, SLOTS_PER_DAY)
    return np.stack([can[:, :, periods.of_slot == p].any(axis=2).T
                     for p in range(periods.count)], axis=1)


def running_gal(state: State, kw: float, gal_h: tuple[float, float, float], on: Bools) -> Floats:
    """Fuel that each slot burns, shape (N,) [gal].

    Parameters
    ----------
    state : State
    kw : float
        Rating to which the full-load figure belongs [kW].
    gal_h : tuple of float
        At no, half and full load [gal/h].
    on : ndarray of bool, shape (N,)
        Slots in which the engine runs.

    Notes
    -----
    Straight lines between the three, as `planner.physics.fuel.fuel_btu_h` has them.
    """
    burnt = np.interp(state.mean_kw, [0.0, 0.5 * kw, kw], gal_h)
    return np.asarray(np.where(on, burnt * SLOT_H, 0.0))
