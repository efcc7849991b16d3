"""One portable generator with one way to connect it: what it keeps, asks and costs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, Load
from planner.facts.portable import ManualTransfer, Portable
from planner.facts.price_book import PriceBook
from planner.plan.price import PriceLine
from planner.service.house import House
from planner.service.kept import Kept, Unkept, kept_of_all, promises_broken
from planner.service.loops.inputs import State
from planner.study.portable.cooling import CoolingStart
from planner.study.portable.flooding import Overflow, overflows
from planner.study.portable.machine import Machine, needed
from planner.study.portable.periods import GAP_SLOTS, Periods, active, running_gal
from planner.study.portable.playing import TANK_SHARE, Schedule, shares_of_all, state_of
from planner.tolerances import ceiled

SWITCHING_H = 1.0 / 6.0
DAILY_H = 0.25
"""To go to the panel and change a group; to bring it out, start it, check oil and cord each day
(common practice, no source) [h]."""


@dataclass(frozen=True)
class ByHand:
    """One way to get through an outage by hand.

    Attributes
    ----------
    machine, periods, schedule
    book : PriceBook
    circuits : tuple of Load
        Those on the positions of a switch; of an interlock all that are ever closed.
    starts : tuple of CoolingStart
    """

    machine: Machine
    periods: Periods
    schedule: Schedule
    book: PriceBook
    circuits: tuple[Load, ...]
    starts: tuple[CoolingStart, ...]

    @property
    def house(self) -> House:
        """The home as arrays."""
        return self.machine.house

    @property
    def portable(self) -> Portable:
        """The generator."""
        return self.machine.portable

    @property
    def transfer(self) -> ManualTransfer:
        """What connects it."""
        return self.machine.transfer

    @cached_property
    def _played(self) -> tuple[State, Bools]:
        return state_of(self.machine, self.periods, self.schedule)

    @cached_property
    def comforts(self) -> tuple[Kept, ...]:
        """How well every comfort is kept, as of every plan."""
        return kept_of_all(self.house, self._played[0])[0]

    @property
    def kept(self) -> float:
        """How much is kept of all comforts, by their importance [0-1]; see `kept_by_hand`."""
        return kept_of_everything(self.house, self.comforts)

    @cached_property
    def broken(self) -> tuple[Unkept, ...]:
        """Promises that it breaks."""
        return promises_broken(self.house, self.comforts)

    @cached_property
    def broken_asleep(self) -> tuple[Unkept, ...]:
        """Promises that it breaks besides where the utility leaves while nobody is up."""
        state, _ = state_of(self.machine, self.periods, self.schedule, asleep=True)
        known = {one.comfort for one in self.broken}
        found = promises_broken(self.house, kept_of_all(self.house, state)[0])
        return tuple(one for one in found if one.comfort not in known)

    @cached_property
    def missed(self) -> tuple[Load, ...]:
        """Loads that must run and are refused somewhere in a spell."""
        state = self._played[0]
        return tuple(self.house.home.loads[i] for i in np.flatnonzero(self.house.must_run)
                     if (state.called[i] & (state.share[i] <= 0.0)).any())

    @property
    def misses_standing(self) -> bool:
        """Whether what must run is refused nowhere but while the engine stands."""
        state, runs = self._played
        refused = (state.called & (state.share <= 0.0))[self.house.must_run].any(axis=0)
        return not (refused & runs).any()

    @cached_property
    def floods_asleep(self) -> tuple[str, ...]:
        """Labels of pits that overflow before anybody is up, where the utility leaves then."""
        played = state_of(self.machine, self.periods, self.schedule, asleep=True)
        first = self.periods.begins[0] * SLOT_H
        found = overflows(self.machine, self.periods, self.schedule, *played)
        return tuple(dict.fromkeys(
            one.comfort.label for one in found if any(hour < first for hour in one.hours)))

    @cached_property
    def overflows(self) -> tuple[Overflow, ...]:
        """Pits that overflow while somebody works it, with hours and cause."""
        return overflows(self.machine, self.periods, self.schedule, *self._played)

    @cached_property
    def gal(self) -> Floats:
        """Fuel of each day, the most of any day of the spell, shape (D,) [gal]."""
        days = self._gal.reshape(-1, self.house.spell, SLOTS_PER_DAY).sum(axis=2)
        return np.asarray(days.max(axis=1))

    @cached_property
    def _gal(self) -> Floats:
        state, runs = self._played
        return running_gal(state, self.portable.kw, self.portable.gal_h, runs)

    @property
    def stored_gal(self) -> float:
        """Fuel for the spell of the hardest day, in whole gallons [gal]."""
        return ceiled(float(self.gal.max()) * self.house.spell, 1.0)

    @cached_property
    def refuellings(self) -> tuple[tuple[int, ...], ...]:
        """Periods of each design day that begin with a refuelling."""
        first = np.array(self.periods.begins)
        off = self.schedule.off
        gaps = off[:, first] & off[:, (first + GAP_SLOTS - 1) % SLOTS_PER_DAY]
        return tuple(tuple(int(p) for p in np.flatnonzero(row)) for row in gaps)

    @cached_property
    def closed(self) -> Bools:
        """Groups, and what stays closed beside them because nobody wants it then, shape (D, P, n).

        Of that only what fits with all the rest: somebody may switch it on after all.
        """
        groups, can = self.schedule.groups, active(self.house, self.periods)
        found = groups.copy()
        for _ in range(2):  # around the clock
            for day in range(len(found)):
                for p in range(self.periods.count):
                    for i in np.flatnonzero(found[day, p - 1] & ~can[day, p] & ~found[day, p]):
                        more = found[day, p] | needed(self.house, [int(i)])
                        if self.machine.fits(day, more):
                            found[day, p] = more
        return found

    @property
    def switchings(self) -> tuple[int, ...]:
        """How often a group changes on each design day."""
        changes = (self.closed != np.roll(self.closed, 1, axis=1)).any(axis=2)
        return tuple(int(one) for one in changes.sum(axis=1))

    @property
    def attention_h(self) -> Floats:
        """Work of each design day: switching, refuelling, looking after it, shape (D,) [h]."""
        refuels = np.array([len(one) for one in self.refuellings])
        return (np.array(self.switchings) * SWITCHING_H + refuels * GAP_SLOTS * SLOT_H
                + np.where(self.gal > 0.0, DAILY_H, 0.0))

    @property
    def night_gal_h(self) -> Floats:
        """What the group of each night burns on average, shape (D,) [gal/h]; 0: it stands."""
        if not self.periods.has_night:
            return np.zeros(len(self.gal))
        night = self.periods.of_slot == self.periods.count - 1
        burnt = self.periods.burnt(self._gal, self.house.spell)[:, -1]
        return np.asarray(burnt / (float(night.sum()) * SLOT_H))

    @property
    def most_gal_h(self) -> float:
        """What the hungriest period burns on average on any day [gal/h]."""
        burnt = self.periods.burnt(self._gal, self.house.spell)
        return float((burnt / (np.bincount(self.periods.of_slot) * SLOT_H)).max())

    @property
    def runs_at_night(self) -> bool:
        """Whether the engine runs through some of any night; somebody is up where there is none."""
        return not self.periods.has_night or bool((self.night_gal_h > 0.0).any())

    def night_ends_h(self, day: int) -> float | None:
        """Hour at which the engine stops in the night of a day; None if it runs on."""
        if not self.periods.has_night:
            return None
        first = self.periods.begins[-1]
        if not self.schedule.groups[day, -1].any():
            return first * SLOT_H
        night = np.flatnonzero(self.periods.of_slot == self.periods.count - 1)
        dry = [s for s in night if self.schedule.off[day, s]
               and (s - first) % SLOTS_PER_DAY >= GAP_SLOTS]
        return min(dry, key=lambda s: (s - first) % SLOTS_PER_DAY) * SLOT_H if dry else None

    def tank_h(self, gal_h: float) -> float:
        """How long a tank lasts at a consumption, what is kept back taken off [h]."""
        return TANK_SHARE * self.portable.tank_gal / gal_h

    @cached_property
    def lines(self) -> tuple[PriceLine, ...]:
        """Price, line by line [USD]; the last is the gasoline of one spell."""
        portable, transfer, book = self.portable, self.transfer, self.book
        found = [
            PriceLine(portable.label, 1, portable.price),
            PriceLine(f"{transfer.label} and its inlet", 1, transfer.price),
            PriceLine("cord", 1, transfer.cord),
            PriceLine("work of the electrician", 1, transfer.installation)]
        for place, starter in enumerate(book.soft_starters, start=1):
            number = self.machine.soft_start.count(place)
            if number:
                found.append(PriceLine(f"{starter.label}, installed", number,
                                       number * starter.installed_usd))
        if book.permits:
            found.append(PriceLine("permits", 1, book.permits))
        fuel = self.stored_gal * (book.by_hand.gasoline_per_gal or 0.0)
        found.append(PriceLine(f"gasoline for {self.house.spell} days, {self.stored_gal:.0f} gal",
                               1, fuel))
        return tuple(found)

    @property
    def usd(self) -> float:
        """Sum of the lines [USD]."""
        return sum(line.usd for line in self.lines)


def kept_of_everything(house: House, comforts: tuple[Kept, ...]) -> float:
    """How much is kept of all comforts, by their importance [0-1].

    Unlike the coverage of a plan it counts light and whatever else an automatic plan never loses,
    so of a plan it is another figure than its coverage.
    """
    shares = shares_of_all(house)
    kept = np.array([one.kept for one in comforts])
    return float(shares @ kept) if shares.sum() > 0.0 else 1.0
