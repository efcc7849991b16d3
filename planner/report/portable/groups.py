"""Which breakers are on and off from hour to hour, for who works a portable generator by hand."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools
from planner.facts.home import SLOT_H
from planner.facts.portable import USUAL_ATTENDANCE
from planner.report.smaller_words import listed
from planner.report.words import hour
from planner.study.portable.option import ByHand

NOTHING = "nothing more"


@dataclass(frozen=True, slots=True)
class Change:
    """What is turned off and on at an hour of a design day, by place; and whether it is refuelled.

    `on` and `off` are those of all that change on that day.
    """

    period: int
    turned_off: tuple[int, ...]
    turned_on: tuple[int, ...]
    on: tuple[int, ...]
    off: tuple[int, ...]
    refuelled: bool


def changes_of(option: ByHand, day: int) -> tuple[Change, ...]:
    """Give the hours of a design day at which the group changes or the tank is filled."""
    closed = option.closed[day]
    changing = closed.any(axis=0) & ~closed.all(axis=0)
    found = []
    for period, group in enumerate(closed):
        before = closed[period - 1]  # around the clock
        refuelled = period in option.refuellings[day]
        if (group == before).all() and not refuelled:
            continue
        found.append(Change(
            period, _places(before & ~group), _places(group & ~before), _places(group & changing),
            _places(changing & ~group), refuelled))
    return tuple(found)


def always_sentence(option: ByHand, day: int) -> str:
    """Name what is on all day; empty if there is nothing."""
    on = _places(option.closed[day].all(axis=0))
    return f"On all day on {_day(option, day)}: {named(option, on)}." if on else ""


def never_sentence(option: ByHand, day: int) -> str:
    """Name what stays off all day; empty if there is nothing."""
    off = _places(~option.closed[day].any(axis=0))
    return f"OFF all day on {_day(option, day)}: {named(option, off)}." if off else ""


def change_sentences(option: ByHand, day: int) -> tuple[str, ...]:
    """Say hour by hour what is turned off and what is turned on then."""
    return tuple(_change(option, one) for one in changes_of(option, day))


def _change(option: ByHand, one: Change) -> str:
    first = " (refuel first, with everything off)" if one.refuelled else ""
    if not one.turned_off and not one.turned_on:
        return (f"At {hour(option.periods.hour(one.period))} refuel, with everything off; then "
                "turn ON the same again.")
    turned = [f"turn {word} {named(option, places)}" for word, places in (
        ("OFF", one.turned_off), ("ON", one.turned_on)) if places]
    return f"At {hour(option.periods.hour(one.period))}{first} {'; then '.join(turned)}."


def groups_of(option: ByHand, day: int) -> list[tuple[str, str, str]]:
    """From which hour on what is on besides, and what is off; empty if nothing changes."""
    return [(hour(option.periods.hour(one.period)), named(option, one.on) or NOTHING,
             named(option, one.off) or "nothing") for one in changes_of(option, day)
            if one.turned_off or one.turned_on]


def hours_of(option: ByHand, day: int) -> str:
    """Say at which hours of a design day the tank is filled."""
    return ", ".join(hour(option.periods.hour(p)) for p in option.refuellings[day]) or "none"


def night_words(option: ByHand, day: int) -> str:
    """Say what the engine does at night."""
    if not option.periods.has_night:
        first, last = (round(one / SLOT_H) for one in (
            USUAL_ATTENDANCE.begin_h, USUAL_ATTENDANCE.end_h))
        at_night = np.r_[option.periods.of_slot[last:], option.periods.of_slot[:first]]
        runs = option.schedule.groups[day].any(axis=1)[at_night]
        return f"{'runs' if runs.all() else 'runs at times' if runs.any() else 'stands'}, watched"
    ends_h = option.night_ends_h(day)
    return "runs" if ends_h is None else f"stands from {hour(ends_h)}"


def named(option: ByHand, places: tuple[int, ...]) -> str:
    """Join the labels of loads; empty without any."""
    return listed([option.house.home.loads[i].label for i in places])


def _day(option: ByHand, day: int) -> str:
    return option.house.home.days[day].label


def _places(marked: Bools) -> tuple[int, ...]:
    return tuple(map(int, np.flatnonzero(marked)))
