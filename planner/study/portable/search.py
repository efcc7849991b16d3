"""Groups of loads for every period: a first schedule, and better ones as long as one is found."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.study.portable.light import chores_below, lights_in_the_dark
from planner.study.portable.machine import Machine, needed
from planner.study.portable.periods import Periods, active
from planner.study.portable.playing import Schedule, played

BETTER = 1e-9
MOST_ROUNDS = 8  # over all changes (a choice; most end after three)


@dataclass
class Groups:
    """Groups of loads that a machine can carry, for a search.

    Attributes
    ----------
    machine, periods
    may : ndarray of bool, shape (n,)
        Loads whose breakers can be closed, and all that they need.
    active : ndarray of bool, shape (D, P, n)
        Which can be on in each period.
    forced, order : tuple of int
        What must run; all, what matters most first, of equals the smallest first.
    dark : ndarray of bool, shape (D, P, n)
        Light that somebody wants in the dark of each period.
    below : ndarray of bool, shape (n, n)
        Chores that matter less than each load.
    """

    machine: Machine
    periods: Periods
    may: Bools
    active: Bools = field(init=False)
    forced: tuple[int, ...] = field(init=False)
    order: tuple[int, ...] = field(init=False)
    dark: Bools = field(init=False)
    below: Bools = field(init=False)
    _known: dict[tuple[int, bytes], bool] = field(default_factory=dict)
    _scores: dict[tuple[int, bytes, bytes], float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        house = self.machine.house
        needs_more = np.array([(house.closure[i] & ~self.may).any() for i in range(house.count)])
        self.may = self.may & ~needs_more
        self.active = active(house, self.periods)
        loads = house.home.loads
        self.order = tuple(sorted(map(int, np.flatnonzero(self.may)), key=lambda i: (
            -loads[i].rank, loads[i].running_kw, i)))
        self.forced = tuple(int(i) for i in np.flatnonzero(house.must_run & self.may))
        self.dark = lights_in_the_dark(house, self.periods) & self.may
        self.below = chores_below(house)

    def fits(self, day: int, group: Bools) -> bool:
        """Whether all of a group may be on at once on a day."""
        key = (day, group.tobytes())
        if key not in self._known:
            self._known[key] = self.machine.fits(day, group)
        return self._known[key]

    def scores(self, schedule: Schedule) -> Floats:
        """What each day of a schedule is worth, shape (D,); a day touches no other."""
        keys = [(day, schedule.groups[day].tobytes(), schedule.off[day].tobytes())
                for day in range(len(schedule.groups))]
        if any(key not in self._scores for key in keys):
            found = played(self.machine, self.periods, schedule).score
            self._scores.update(zip(keys, map(float, found), strict=True))
        return np.array([self._scores[key] for key in keys])

    def without(self, group: Bools, load: int) -> Bools:
        """Give a group without a load and without all that needs it."""
        left = group & ~self.machine.house.closure[:, load]
        left[load] = False
        return left

    def with_load(self, day: int, group: Bools, load: int, *, force: bool) -> Bools:
        """Give a group with a load and what it needs, the same group if there is no room.

        With `force` others are left out for it, what matters least first; never what must run.
        """
        house = self.machine.house
        wanted = group | needed(house, [load])
        kept = needed(house, [load, *self.forced])
        if self.fits(day, wanted):
            return wanted
        if not force:
            return group
        for other in reversed(self.order):
            if wanted[other] and not kept[other]:
                wanted = self.without(wanted, other)
                if self.fits(day, wanted):
                    return wanted
        return group

    def lit(self, day: int, period: int, group: Bools) -> Bools:
        """Give a group with the light of the dark, where it fits in place of chores below it.

        Of those chores what still fits beside the light stays; what must run stays in any case.
        """
        for light in self.order:
            lower = self.below[light] & group & ~needed(self.machine.house, self.forced)
            if not self.dark[day, period, light] or group[light] or not lower.any():
                continue
            wanted = group
            for chore in np.flatnonzero(lower):
                wanted = self.without(wanted, int(chore))
            wanted = wanted | needed(self.machine.house, [light])
            if self.fits(day, wanted):
                group = wanted
                for one in self.order:
                    if lower[one]:
                        group = self.with_load(day, group, one, force=False)
        return group

    def all_lit(self, found: Bools) -> Bools:
        """Give groups, (D, P, n), each with the light of the dark; see `lit`."""
        return np.array([[self.lit(day, period, group) for period, group in enumerate(of_day)]
                         for day, of_day in enumerate(found)])


def first_groups(groups: Groups) -> Bools:
    """Close what matters most in every period, then the next, as far as it fits, (D, P, n)."""
    found = np.zeros_like(groups.active)
    for i in groups.order:
        for day, period in np.argwhere(groups.active[:, :, i]):
            found[day, period] = groups.with_load(day, found[day, period], i, force=False)
    return found


def improved(
    groups: Groups, schedule: Schedule, tick: Callable[[float], None] | None = None
) -> Schedule:
    """Change a schedule as long as a change is better: a load more, or less, in some periods.

    Design days do not touch each other, so each takes a change that is better for it.

    Notes
    -----
    No proof that nothing is better; on small homes it is held against all schedules there are.
    """
    best = groups.scores(schedule)
    for turn in range(MOST_ROUNDS):
        before = best
        for place, i in enumerate(groups.order):
            if tick is not None:
                tick((turn + place / len(groups.order)) / MOST_ROUNDS)
            for where in _patterns(groups.periods.count):
                for added in (True, False):
                    schedule, best = _tried(groups, schedule, best, i, where, added=added)
        if not (best > before + BETTER).any():
            break
    return schedule


def _tried(
    groups: Groups, schedule: Schedule, best: Floats, load: int, where: Ints, *, added: bool
) -> tuple[Schedule, Floats]:
    changed = schedule.groups.copy()
    for day in range(len(changed)):
        for period in where:
            here = changed[day, period]
            if not groups.active[day, period, load] or here[load] == added:
                continue
            if added:
                changed[day, period] = groups.with_load(day, here, load, force=True)
            elif load not in groups.forced:
                changed[day, period] = groups.without(here, load)
            changed[day, period] = groups.lit(day, period, changed[day, period])
    if not (changed != schedule.groups).any():
        return schedule, best
    found = groups.scores(schedule.with_groups(changed))
    better = found > best + BETTER
    if not better.any():
        return schedule, best
    taken = np.where(better[:, None, None], changed, schedule.groups)
    return schedule.with_groups(taken), np.where(better, found, best)


def _patterns(count: int) -> Iterator[Ints]:
    """Periods in which a load is tried: all, all but the last, every second, runs of one or two."""
    every = np.arange(count)
    yield every
    if count > 2:
        yield every[:-1]
        yield every[::2]
        yield every[1::2]
    for length in (1, 2):
        for first in range(count - length + 1):
            if length < count:
                yield every[first:first + length]
