"""What a comfort is like in an outage, in its unit and in plain words: the one home of these.

A figure is rounded to the side that is safe to promise: rooms outwards, miles down, cold showers
and hours without power up.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from planner.facts.comfort import Comfort
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, Home
from planner.physics.comfort import COMFORT_DEGF
from planner.report.words import number, span
from planner.service.house import House
from planner.service.kept import Kept, in_unit
from planner.service.loops.inputs import BY_CLOCK, BY_TASK
from planner.tolerances import ceiled, floored, reaches

NOTICED_SHOWERS = 0.05  # under a gallon of cold water in a day is not said (a choice)
LUKEWARM = 0.5  # of a shower's heat: up to here it is called lukewarm, then cold (a choice)
NO_USE = "not needed"
AS_UTILITY = ", as with the utility"
NOTHING_LOST = {
    "hot water": "always hot", "meals": "never cut", "task": "all done", "food": "food safe",
    "running water": "always runs", "pit": "never overflows", "clock": "as always",
}
"""What is said where nothing is missed."""


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


def day_phrase(kept: Kept, house: House, day: int) -> str:
    """Say what a comfort is like on one design day, without its name."""
    if not is_used(kept, house, day):
        return NO_USE
    said = _phrase(kept, house, day)
    return f"{said}{AS_UTILITY}" if _blameless(kept, house, day) else said


def hardest_day(kept: Kept, house: House) -> int:
    """Place of the day on which least of a comfort is kept; of equals where it is worst in degrees.

    A day on which it is not used comes last.
    """
    def hard(day: int) -> tuple[bool, float, float]:
        return (is_used(kept, house, day), -float(kept.by_day[day]), float(kept.measured[day]))

    return max(range(len(house.weights)), key=hard)


def shown_days(kept: Kept, house: House) -> tuple[int, ...]:
    """Days worth telling: the hardest; of a room that is heated and cooled the hardest of both."""
    first = hardest_day(kept, house)
    if kept.comfort.kind != "room":
        return (first,)
    levels = house.nature.levels[_place(kept, house)]
    other = [day for day in range(len(levels)) if is_used(kept, house, day)
             and levels[day].cooling != levels[first].cooling]
    if not is_used(kept, house, first) or not other:
        return (first,)
    return (first, max(other, key=lambda day: (-float(kept.by_day[day]),
                                               float(kept.measured[day]))))


def is_used(kept: Kept, house: House, day: int) -> bool:
    """Whether a comfort is wanted on a day at all."""
    c, store = _place(kept, house), house.nature.levels[_place(kept, house)][day]
    if house.cares.kind[c] == BY_TASK:
        return _tasks(house, c, day) > 0
    if house.cares.kind[c] == BY_CLOCK:
        return _wanted_h(house, c, day) > 0.0
    return bool(store.loads) and not np.isnan(kept.worst[day])


def is_as_usual(kept: Kept) -> bool:
    """Whether a comfort is kept in full on every day, as with the utility."""
    return all(reaches(float(one), 1.0) for one in kept.by_day)


def promise_words(comfort: Comfort) -> str:
    """Say what is promised of a comfort: ``60 to 82 degF``, ``40 miles by 7:00``; empty if nothing.
    """
    asked = comfort.promise
    if asked is None:
        return ""
    match comfort.kind:
        case "room":
            return _room_promise(asked.coldest_degf, asked.warmest_degf)
        case "hot water" if asked.cold_showers is not None:
            return ("no cold shower" if asked.cold_showers == 0.0
                    else f"at most {_showers(asked.cold_showers)} cold")
        case "car" if asked.miles is not None:
            by = "" if asked.by_h is None else f" by {hour(asked.by_h)}"
            return f"{ceiled(asked.miles, 1.0):.0f} miles{by}"
        case "meals" if asked.uncut:
            return "never cut"
        case "task" if asked.uncut:
            return "all done"
        case "food" | "running water" | "pit" if asked.safe:
            return NOTHING_LOST[comfort.kind]
    return ""


def beyond_promise_sentences(house: House) -> tuple[str, ...]:
    """Say which promises not even unlimited power keeps, and what it is with the utility."""
    return tuple(said for c in range(len(house.home.comforts))
                 for d in range(len(house.weights)) if (said := _beyond(house, c, d)))


def importance_words(home: Home, comfort: Comfort) -> str:
    """Say how much a comfort matters: ``must-have``, or its importance of 5."""
    if comfort.must_run or any(home.load(one).must_run for one in comfort.loads):
        return "must-have"
    return str(comfort.importance)


def hour(hour_of_day: float) -> str:
    """Write an hour of the day: ``7:00``."""
    minutes = round(60.0 * hour_of_day)
    return f"{minutes // 60 % 24}:{minutes % 60:02d}"


def _phrase(kept: Kept, house: House, day: int) -> str:
    worst = float(kept.worst[day])
    match kept.comfort.kind:
        case "room":
            cooling = house.nature.levels[_place(kept, house)][day].cooling
            return (f"no warmer than {ceiled(worst, 1.0):.0f} degF" if cooling else
                    f"no colder than {floored(worst, 1.0):.0f} degF")
        case "hot water":
            return _hot_water(worst, _showers_a_day(house, _place(kept, house), day))
        case "meals" | "task":
            return _done(kept, house, day, round(worst))
        case "car":
            return _miles(kept, house, day, worst)
        case "food":
            return "food spoils" if worst > 0.0 else NOTHING_LOST["food"]
        case "pit":
            return "overflows" if worst > 0.0 else NOTHING_LOST["pit"]
        case "running water":
            return f"taps dry for {_time(worst)} a day" if worst > 0.0 else (
                NOTHING_LOST["running water"])
        case "clock":
            return _dark(kept, house, day, worst)


def _hot_water(cold: float, all_day: float) -> str:
    if cold <= NOTICED_SHOWERS:
        return NOTHING_LOST["hot water"]
    if cold >= all_day - NOTICED_SHOWERS:
        return "no hot water"
    if cold <= LUKEWARM:
        return "one shower lukewarm"
    return f"{_showers(ceiled(cold, 1.0))} cold"


def _showers(count: float) -> str:
    return "one shower" if count == 1.0 else f"{count:g} showers"


def _done(kept: Kept, house: House, day: int, lost: int) -> str:
    whole = _tasks(house, _place(kept, house), day)
    meals = kept.comfort.kind == "meals"
    if not lost:
        return NOTHING_LOST[kept.comfort.kind]
    if meals:
        return f"{lost} of {whole} {'meal' if whole == 1 else 'meals'} cut"
    return "not done" if whole == lost == 1 else f"{whole - min(lost, whole)} of {whole} done"


def _miles(kept: Kept, house: House, day: int, miles: float) -> str:
    c = _place(kept, house)
    store = house.nature.levels[c][day]
    wanted = ceiled(store.full - float(store.low.min()), 1.0)
    by = hour((int(np.argmax(store.weight)) + 1) * SLOT_H)
    if house.nature.losable_by_day[c, day] <= 0.0:
        return f"needs no charge within {house.spell} days"
    if miles >= store.full - float(store.low.min()) - 1e-6:
        return f"all {wanted:.0f} miles by {by}"
    return f"{max(0.0, floored(miles, 1.0)):.0f} of {wanted:.0f} miles by {by}"


def _dark(kept: Kept, house: House, day: int, dark_h: float) -> str:
    wanted_h = _wanted_h(house, _place(kept, house), day)
    if dark_h <= 0.0:
        return NOTHING_LOST["clock"]
    if dark_h >= wanted_h - 1e-9:
        return "without power"
    return f"without power for {_time(dark_h)} of {_time(wanted_h)}"


def _time(hours: float) -> str:
    return span(ceiled(60.0 * hours, 1.0) / 60.0)


def _blameless(kept: Kept, house: House, day: int) -> bool:
    """Whether something is missed on a day, and no more of it than with the utility."""
    c = _place(kept, house)
    beside = float(house.nature.unlimited[c, day])
    if kept.comfort.kind == "room":
        return kept.measured[day] > COMFORT_DEGF and kept.measured[day] - beside < LUKEWARM
    noticed = NOTICED_SHOWERS if kept.comfort.kind == "hot water" else 0.0
    if kept.comfort.kind in ("clock", "car"):
        return False
    return kept.measured[day] > noticed and kept.measured[day] <= beside + noticed + 1e-9


def _room_promise(coldest_degf: float | None, warmest_degf: float | None) -> str:
    if coldest_degf is None:
        return "" if warmest_degf is None else f"no warmer than {warmest_degf:g} degF"
    if warmest_degf is None:
        return f"no colder than {coldest_degf:g} degF"
    return f"{coldest_degf:g} to {warmest_degf:g} degF"


def _beyond(house: House, c: int, d: int) -> str:
    """Say of a room, miles, tasks or showers that the utility itself does not keep the promise."""
    comfort, day = house.home.comforts[c], house.home.days[d].label
    store, asked = house.nature.levels[c][d], comfort.promise
    reached = in_unit(house, c, d, float(house.nature.unlimited[c, d]))
    if asked is None or (comfort.kind in ("room", "car") and not store.loads):
        return ""
    if comfort.kind == "room":
        limit = asked.warmest_degf if store.cooling else asked.coldest_degf
        broken = limit is not None and (reached > limit if store.cooling else reached < limit)
        return (f"No generator keeps {comfort.label} at {limit:g} degF: on {day} it is "
                f"{number(reached, 0)} degF with the utility.") if broken else ""
    if comfort.kind == "car":
        return (f"No generator gives {comfort.label} {asked.miles:g} miles: on {day} there are "
                f"{floored(reached, 1.0):.0f} with the utility."
                ) if asked.miles is not None and reached < asked.miles - 1e-6 else ""
    limit = asked.cold_showers if comfort.kind == "hot water" else (
        0.0 if asked.uncut or asked.safe else None)
    return (f"No generator keeps what is promised of {comfort.label} on {day}: the utility does "
            "not.") if limit is not None and reached > limit + 1e-6 else ""


def _place(kept: Kept, house: House) -> int:
    return next(c for c, one in enumerate(house.home.comforts) if one.id == kept.comfort.id)


def _loads(house: House, c: int) -> Iterator[int]:
    first, last = house.cares.load_first[c:c + 2]
    return (int(i) for i in house.cares.load[first:last])


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


def _showers_a_day(house: House, c: int, day: int) -> float:
    return float(house.cares.amount[c, day * SLOTS_PER_DAY:(day + 1) * SLOTS_PER_DAY].sum())
