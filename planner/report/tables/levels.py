"""A planned design day of what keeps a level: how far each comfort is from what is usual.

Everything comes from the replay that the plan holds; nothing is played again.
"""

from __future__ import annotations

import numpy as np
import pandas as pd

from planner.facts.comfort import Comfort, ComfortKind
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay, Home
from planner.plan.plan import Plan
from planner.report.words import number
from planner.service.house import House
from planner.service.nature import HUGE
from planner.service.stores import Store
from planner.service.unlimited import levels_of
from planner.tolerances import ceiled

COLUMNS = ("comfort", "comfort_id", "hour", "behind", "reads", "limit")
SAID: dict[ComfortKind, str] = {
    "room": "{} promised", "hot water": "lukewarm from {}", "car": "{} wanted",
    "food": "{}: food at risk", "running water": "taps dry", "pit": "full",
}
"""What the limit of each kind is; its reading in the braces."""
MINDED = "{}: you would mind"  # of a room without a promise
NEXT_TO_NOTHING = 1e-9
SOME_WAY = 0.5  # of the way to the limit, to be worth a strip; a choice


def level_frame(plan: Plan, day: DesignDay) -> pd.DataFrame:
    """Show how far every room, tank, car and box is behind in every slot of a judged day.

    Parameters
    ----------
    plan : Plan
        The plan with its replay.
    day : DesignDay
        One of the days of the plan's home; the last of its spell is shown.

    Returns
    -------
    pandas.DataFrame, shape (96 * comforts, 6)
        ``comfort`` (label), ``comfort_id``, ``hour`` (start of the slot, 0-24), ``behind`` (share
        of the way from as usual, 0, to the limit, 1; more is beyond it), ``reads`` (the level in
        its unit) and ``limit`` (what the limit is), both in words. Only comforts that keep a
        level and are in use on that day; rooms first.

    Raises
    ------
    ValueError
        If the day is none of the home's.
    """
    house = plan.menu.house
    d = house.home.days.index(day)
    first = house.judged(d * SLOTS_PER_DAY)
    levels = levels_of(house.works, house.cares, house.spell, plan.service.state)
    rows: list[tuple[str, str, float, float, str, str]] = []
    for c, comfort in enumerate(house.home.comforts):
        store = house.nature.levels[c][d]
        if not store.loads or _needs_nothing(house, comfort, c, d):
            continue
        bound = float(house.cares.bound[c, d])
        limit = _limit(comfort, store, bound)
        minded = comfort.kind == "room" and bound >= HUGE
        said = (MINDED if minded else SAID[comfort.kind]).format(_bound(comfort, store, limit))
        rows += [(comfort.label, comfort.id, place * SLOT_H,
                  float(level) / max(limit, NEXT_TO_NOTHING),
                  _reads(comfort, store, float(level)), said)
                 for place, level in enumerate(levels[c, first:first + SLOTS_PER_DAY])]
    return pd.DataFrame(rows, columns=list(COLUMNS))


def telling(frame: pd.DataFrame, home: Home) -> pd.DataFrame:
    """Keep the rooms, which a family asks for first, and what comes some way to its limit."""
    rooms = {one.id for one in home.comforts if one.kind == "room"}
    furthest = frame.groupby("comfort_id")["behind"].max()
    told = rooms | set(furthest[furthest >= SOME_WAY].index)
    return frame[frame["comfort_id"].isin(told)]


def _limit(comfort: Comfort, store: Store, bound: float) -> float:
    """Deviation that is too much: of a room its promise, of all else where loss begins."""
    if comfort.kind == "room" and bound < HUGE:
        return bound
    return float(np.min(store.low))


def _needs_nothing(house: House, comfort: Comfort, c: int, d: int) -> bool:
    """Whether a car goes through the whole spell without a charge."""
    return comfort.kind == "car" and float(house.nature.losable_by_day[c, d]) <= 0.0


def _bound(comfort: Comfort, store: Store, limit: float) -> str:
    """Say a limit as it is read; miles that are wanted never less than they are."""
    if comfort.kind == "car":
        return f"{number(ceiled(store.full - limit, 1.0), 0)} miles"
    return _reads(comfort, store, limit)


def _reads(comfort: Comfort, store: Store, level: float) -> str:
    """Say a deviation as its comfort is read: degrees, miles, how full."""
    match comfort.kind:
        case "room":
            degf = store.set_degf + level if store.cooling else store.set_degf - level
            return f"{number(degf, 0)} degF"
        case "food":
            return f"{number(store.set_degf + level, 0)} degF"
        case "car":
            return f"{number(store.full - level, 0)} miles"
        case "pit":
            return f"{number(100.0 * level / store.full, 0)} % full"
        case _:
            return f"{number(100.0 * (1.0 - level / store.full), 0)} % left"
