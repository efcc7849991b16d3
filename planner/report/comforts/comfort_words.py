"""What a comfort is like in an outage, in its unit and in plain words: the one home of these.

A figure is rounded to the side that is safe to promise: rooms outwards, miles down, cold showers
and hours without power up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from planner.facts.comfort import Comfort, ComfortKind
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, Home
from planner.physics.comfort import COMFORT_DEGF
from planner.report.comforts.promise_words import (
    NOTHING_LOST,
    beyond_promise_sentences,
    promise_words,
)
from planner.report.comforts.promise_words import showers as cold_showers
from planner.report.words import hour, span
from planner.service.house import House
from planner.service.kept import Kept
from planner.service.loops.inputs import BY_CLOCK, BY_TASK
from planner.tolerances import ceiled, floored, reaches

NOTICED_SHOWERS = 0.05  # under a gallon of cold water in a day is not said (a choice)
LUKEWARM = 0.5  # of a shower's heat: up to here it is called lukewarm, then cold (a choice)
NO_USE = "not needed"
AS_UTILITY = ", as with the utility"


def comfort_sentence(kept: Kept, house: House) -> str:
    """Say what a comfort is like on its hardest day: ``Upstairs: no warmer than 79 degF``.

    Parameters
    ----------
    kept : Kept
        How well it is kept, from a replay in this house.
    house : House
        The home as arrays.
    """
    return day_sentence(kept, house, hardest_day(kept, house))


def day_sentence(kept: Kept, house: House, day: int) -> str:
    """Say what a comfort is like on one design day, by its place among the days."""
    return f"{kept.comfort.label}: {day_phrase(kept, house, day)}"


def comfort_phrase(kept: Kept, house: House) -> str:
    """Say what a comfort is like on its hardest day, without its name."""
    return day_phrase(kept, house, hardest_day(kept, house))


def given_up_phrase(kept: Kept, house: House) -> str:
    """Say the same of a comfort that nothing is promised of any more: a room may go so far."""
    day = hardest_day(kept, house)
    if kept.comfort.kind != "room" or not is_used(kept, house, day):
        return comfort_phrase(kept, house)
    cooling = house.nature.levels[place_of(kept, house)][day].cooling
    return f"{'up' if cooling else 'down'} to {_worst_degf(kept, house, day):.0f} degF"


def day_phrase(kept: Kept, house: House, day: int) -> str:
    """Say what a comfort is like on one design day, without its name."""
    if not is_used(kept, house, day):
        return NO_USE
    said = PHRASES[kept.comfort.kind](kept, house, day)
    return f"{said}{AS_UTILITY}" if _blameless(kept, house, day) else said


def hardest_day(kept: Kept, house: House) -> int:
    """Place of the day on which least of a comfort is kept; of equals the worst in its unit.

    A day on which it is not used comes last.
    """
    def hard(day: int) -> tuple[bool, float, float]:
        return (is_used(kept, house, day), -float(kept.by_day[day]), float(kept.measured[day]))

    return max(range(len(house.weights)), key=hard)


def shown_days(kept: Kept, house: House) -> tuple[int, ...]:
    """Days worth telling: the hardest; of a room that is heated and cooled the hardest of both."""
    first = hardest_day(kept, house)
    if kept.comfort.kind != "room" or not is_used(kept, house, first):
        return (first,)
    levels = house.nature.levels[place_of(kept, house)]
    other = [day for day in range(len(levels)) if is_used(kept, house, day)
             and levels[day].cooling != levels[first].cooling]
    second = sorted(other, key=lambda day: (float(kept.by_day[day]), -float(kept.measured[day])))
    return (first, *second[:1])


def is_used(kept: Kept, house: House, day: int) -> bool:
    """Whether a comfort is wanted on a day at all."""
    c = place_of(kept, house)
    if house.cares.kind[c] == BY_TASK:
        return _tasks(house, c, day) > 0
    if house.cares.kind[c] == BY_CLOCK:
        return _wanted_h(house, c, day) > 0.0
    return bool(house.nature.levels[c][day].loads) and not np.isnan(kept.worst[day])


def is_as_usual(kept: Kept) -> bool:
    """Whether a comfort is kept in full on every day, as with the utility."""
    return all(reaches(float(one), 1.0) for one in kept.by_day)


def importance_words(home: Home, comfort: Comfort) -> str:
    """Say how much a comfort matters: ``must-have``, or its importance of 5."""
    if comfort.must_run or any(home.load(one).must_run for one in comfort.loads):
        return "must-have"
    return str(comfort.importance)


def place_of(kept: Kept, house: House) -> int:
    """Place of its comfort in a house."""
    return next(c for c, one in enumerate(house.home.comforts) if one.id == kept.comfort.id)


def _room(kept: Kept, house: House, day: int) -> str:
    cooling = house.nature.levels[place_of(kept, house)][day].cooling
    return f"no {'warmer' if cooling else 'colder'} than {_worst_degf(kept, house, day):.0f} degF"


def _worst_degf(kept: Kept, house: House, day: int) -> float:
    """Worst of a room on a day, rounded to the side that is surely not passed [degF]."""
    cooling = house.nature.levels[place_of(kept, house)][day].cooling
    return (ceiled if cooling else floored)(float(kept.worst[day]), 1.0)


def _hot_water(kept: Kept, house: House, day: int) -> str:
    cold, here = float(kept.worst[day]), slice(day * SLOTS_PER_DAY, (day + 1) * SLOTS_PER_DAY)
    all_day = float(house.cares.amount[place_of(kept, house), here].sum())
    if cold <= NOTICED_SHOWERS:
        return NOTHING_LOST["hot water"]
    if cold >= all_day - NOTICED_SHOWERS:
        return "no hot water"
    return "one shower lukewarm" if cold <= LUKEWARM else cold_showers(ceiled(cold, 1.0))


def _meals(kept: Kept, house: House, day: int) -> str:
    lost, whole = round(float(kept.worst[day])), _tasks(house, place_of(kept, house), day)
    if not lost:
        return NOTHING_LOST["meals"]
    return f"{lost} of {whole} {'meal' if whole == 1 else 'meals'} cut"


def _task(kept: Kept, house: House, day: int) -> str:
    lost, whole = round(float(kept.worst[day])), _tasks(house, place_of(kept, house), day)
    if not lost:
        return NOTHING_LOST["task"]
    return "not done" if whole <= lost else f"{whole - lost} of {whole} done"


def _car(kept: Kept, house: House, day: int) -> str:
    if house.nature.losable_by_day[place_of(kept, house), day] <= 0.0:
        return f"needs no charge within {house.spell} days"
    return miles_phrase(kept, house, day)


def miles_phrase(kept: Kept, house: House, day: int) -> str:
    """Say how many of the wanted miles a car has when it leaves."""
    store, miles = house.nature.levels[place_of(kept, house)][day], float(kept.worst[day])
    wanted = store.full - float(store.low.min())
    by = hour((int(np.argmax(store.weight)) + 1) * SLOT_H)
    if miles >= wanted - 1e-6:
        return f"all {ceiled(wanted, 1.0):.0f} miles by {by}"
    return f"{max(0.0, floored(miles, 1.0)):.0f} of {ceiled(wanted, 1.0):.0f} miles by {by}"


def _food(kept: Kept, _house: House, day: int) -> str:
    return "food spoils" if kept.worst[day] > 0.0 else NOTHING_LOST["food"]


def _pit(kept: Kept, _house: House, day: int) -> str:
    return "overflows" if kept.worst[day] > 0.0 else NOTHING_LOST["pit"]


def _running_water(kept: Kept, _house: House, day: int) -> str:
    dry_h = float(kept.worst[day])
    return f"taps dry for {_time(dry_h)} a day" if dry_h > 0.0 else NOTHING_LOST["running water"]


def _clock(kept: Kept, house: House, day: int) -> str:
    dark_h, wanted_h = float(kept.worst[day]), _wanted_h(house, place_of(kept, house), day)
    if dark_h <= 0.0:
        return NOTHING_LOST["clock"]
    if dark_h >= wanted_h - 1e-9:
        return "without power"
    return f"without power for {_time(dark_h)} of {_time(wanted_h)}"


PHRASES: dict[ComfortKind, Callable[[Kept, House, int], str]] = {
    "room": _room, "hot water": _hot_water, "meals": _meals, "task": _task, "car": _car,
    "food": _food, "pit": _pit, "running water": _running_water, "clock": _clock}


def _time(hours: float) -> str:
    return span(ceiled(60.0 * hours, 1.0) / 60.0)


def _blameless(kept: Kept, house: House, day: int) -> bool:
    """Whether something is missed on a day, and no more of it than with the utility."""
    measured = float(kept.measured[day])
    beside = float(house.nature.unlimited[place_of(kept, house), day])
    match kept.comfort.kind:
        case "room":
            return measured > COMFORT_DEGF and measured - beside < LUKEWARM
        case "clock" | "car":
            return False
        case kind:
            noticed = NOTICED_SHOWERS if kind == "hot water" else 0.0
            return noticed < measured <= beside + noticed + 1e-9


def _tasks(house: House, c: int, day: int) -> int:
    """Tasks of a comfort that begin on a day."""
    works = house.works
    return sum(int((works.task_day[works.task_first[i]:works.task_first[i + 1]] == day).sum())
               for i in _loads(house, c))


def _wanted_h(house: House, c: int, day: int) -> float:
    """Hours of a day in which something of a comfort of the clock is wanted."""
    here = slice(day * SLOTS_PER_DAY, (day + 1) * SLOTS_PER_DAY)
    wanted = [house.works.can[i, here] for i in _loads(house, c)]
    return float(np.any(wanted, axis=0).sum()) * SLOT_H if wanted else 0.0


def _loads(house: House, c: int) -> Iterator[int]:
    first, last = house.cares.load_first[c:c + 2]
    return (int(i) for i in house.cares.load[first:last])


__all__ = [
    "beyond_promise_sentences", "comfort_phrase", "comfort_sentence", "day_phrase", "day_sentence",
    "given_up_phrase", "hardest_day", "importance_words", "is_as_usual", "is_used", "place_of",
    "promise_words", "shown_days",
]
