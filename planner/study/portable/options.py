"""Every portable generator of a book at a home, each with what connects it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools
from planner.facts.home import Home
from planner.facts.portable import Portable
from planner.facts.price_book import PriceBook
from planner.progress import OnProgress, part_of, unheard
from planner.service.house import House, house_of
from planner.study.portable.cooling import CoolingStart, cooling_starts, soft_start_of
from planner.study.portable.machine import Machine, machine_of, needed
from planner.study.portable.option import ByHand
from planner.study.portable.periods import Periods, periods_of
from planner.study.portable.playing import Schedule, played
from planner.study.portable.refuelling import with_refuelling
from planner.study.portable.search import Groups, first_groups, improved
from planner.study.portable.unattended import Unattended, unattended

ALIKE = 0.01
"""Keeping less by so much is no reason to pay more (a choice)."""
WORTH_IT = 0.005  # a soft starter that keeps less than this more is left out (a choice)


@dataclass(frozen=True)
class ByHandAnswer:
    """What a book offers to be worked by hand at a home.

    Attributes
    ----------
    house : House
    unattended : tuple of Unattended
        What must not hang on it; with any of it none is recommended.
    options : tuple of ByHand
        Cheapest first.
    """

    house: House
    unattended: tuple[Unattended, ...]
    options: tuple[ByHand, ...]

    @property
    def shown(self) -> ByHand | None:
        """The one to show in full: fewest broken promises, most kept, of alike ones the cheapest.

        None without any.
        """
        if not self.options:
            return None
        least = min(len(one.broken) for one in self.options)
        honest = [one for one in self.options if len(one.broken) == least]
        most = max(one.kept for one in honest)
        return next(one for one in honest if one.kept >= most - ALIKE)


def by_hand(
    home: Home, book: PriceBook, on_progress: OnProgress | None = None
) -> ByHandAnswer:
    """Work out every portable generator of a book at a home.

    Parameters
    ----------
    home : Home
    book : PriceBook
        Without portable generators there is no option.
    on_progress : callable, optional
    """
    house, tick = house_of(home), on_progress or unheard
    periods = periods_of(home.attendance)
    found: list[ByHand] = []
    portables = book.by_hand.portables
    for place, portable in enumerate(portables):
        mine = part_of(tick, place / len(portables), (place + 1) / len(portables))
        found += _of_portable(house, book, periods, portable, mine)
    tick(1.0)
    return ByHandAnswer(house, unattended(house), tuple(
        sorted(found, key=lambda one: (one.usd, one.portable.id, one.transfer.id))))


def _of_portable(
    house: House, book: PriceBook, periods: Periods, portable: Portable, tick: OnProgress
) -> list[ByHand]:
    """Give the cheapest interlock and every switch that takes its receptacle."""
    fitting = sorted((one for one in book.by_hand.transfers
                      if (one.volts, one.inlet_a) == (portable.volts, portable.receptacle_a)),
                     key=lambda one: (one.price + one.installation + one.cord, one.id))
    if not fitting:
        return []
    plain = machine_of(house, book, portable, fitting[0])
    starts = cooling_starts(plain, book)
    soft = soft_start_of(plain, book, starts)
    machines = [plain] if not any(soft) else [plain, plain.with_soft_start(soft)]
    results = [_best(Groups(one, periods, one.runs), tick=part_of(
        tick, place / len(machines), (place + 1) / len(machines)))
        for place, one in enumerate(machines)]
    offered: list[ByHand] = []
    interlocks = [one for one in fitting if one.kind == "interlock"][:1]
    for transfer in (*interlocks, *(one for one in fitting if one.kind == "switch")):
        of_one = []
        for one, schedule in zip(machines, results, strict=True):
            machine = Machine(portable, transfer, house, one.supply, one.soft_start, one.draw)
            taken = (_on_positions(machine, periods, schedule) if transfer.kind == "switch"
                     else schedule)
            of_one.append(_option(machine, periods, taken, book, starts))
        offered.append(of_one[0])
        offered += [one for one in of_one[1:] if one.kept > of_one[0].kept + WORTH_IT
                    or len(one.broken) < len(of_one[0].broken)]
    return offered


def _best(
    groups: Groups, begin: Bools | None = None, tick: OnProgress | None = None
) -> Schedule:
    """Search without refuellings, put them in, and search once more around them."""
    machine, periods = groups.machine, groups.periods
    first = first_groups(groups) if begin is None else groups.all_lit(begin)
    off = np.zeros((len(first), len(periods.of_slot)), dtype=np.bool_)
    schedule = improved(groups, Schedule(first, off), tick)
    schedule = improved(groups, with_refuelling(machine, periods, schedule))
    return with_refuelling(machine, periods, schedule)


def _on_positions(machine: Machine, periods: Periods, schedule: Schedule) -> Schedule:
    """Leave out the circuit that is missed least, until the rest stands on the positions.

    Light that somebody wants in the dark is left out only after the chores that matter less. What
    is still free then takes what matters most of all that was left out and fits.
    """
    house = machine.house
    groups, kept = Groups(machine, periods, machine.runs), schedule
    chosen: Bools = np.asarray(schedule.groups.any(axis=(0, 1)))
    lights: Bools = np.asarray(groups.dark.any(axis=(0, 1)))
    while _poles(house, chosen) > machine.transfer.positions:
        trials = []
        for i in np.flatnonzero(chosen):
            without = groups.without(chosen, int(i))
            trial = played(machine, periods, kept.with_groups(kept.groups & without))
            left_out = chosen & ~without
            is_forced = bool(house.must_run[left_out].any())
            is_light = bool((groups.below[left_out & lights] & without).any())
            trials.append((is_forced, is_light, -float(trial.score.sum()), int(i), without))
        *_, chosen = min(trials, key=lambda one: one[:4])
        kept = kept.with_groups(kept.groups & chosen)
    for load in groups.order:
        more = chosen | needed(house, [load])
        if _poles(house, more) <= machine.transfer.positions:
            chosen = more
    return _best(Groups(machine, periods, machine.runs & chosen), kept.groups)


def _poles(house: House, chosen: Bools) -> int:
    return sum(house.home.loads[i].poles for i in np.flatnonzero(chosen))


def _option(
    machine: Machine, periods: Periods, schedule: Schedule, book: PriceBook,
    starts: tuple[CoolingStart, ...],
) -> ByHand:
    used = np.flatnonzero(schedule.groups.any(axis=(0, 1)))
    return ByHand(machine, periods, schedule, book,
                  tuple(machine.house.home.loads[i] for i in used), starts)
