"""Hours a day that every load asks for, and gets in each of several plans.

What keeps a level asks for more where it had to wait, so what is asked for belongs to a plan; of a
load that is off, or switched off by hand, it is not known.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay
from planner.plan.plan import Plan
from planner.report.tables.column import Column, Table, text
from planner.report.words import number
from planner.service.timeline import DROPPED, RUNNING, WAITING

SAME_H = 1e-9
MOST_DIGITS = 4
NOTHING = {"off": "off", "by hand": "you switch it off yourself"}


@dataclass(frozen=True, slots=True)
class HoursRow:
    """One load: hours a day that it asks for and gets in every plan by name [h].

    `without` has the plans in which it has no power, and how that is said.
    """

    label: str
    called_h: Mapping[str, float]
    served_h: Mapping[str, float]
    without: Mapping[str, str]


def hours_table(plans: Mapping[str, Plan], day: DesignDay | None = None) -> Table[HoursRow]:
    """Compare named plans of one home by the hours a day that each load gets.

    Hours are weighted over the design days, or those of one `day`, the last of its spell. Loads
    that never call are left out; the rest stand in the order of the file. In frames the hours of a
    plan stand under ``served_NAME_h``.
    """
    first = next(iter(plans.values()), None)
    rows = [HoursRow(
        part.label,
        {name: _hours(plan, i, day, (RUNNING, WAITING, DROPPED)) for name, plan in plans.items()},
        {name: _hours(plan, i, day, (RUNNING,)) for name, plan in plans.items()},
        {name: NOTHING[plan.loads[i].connection] for name, plan in plans.items()
         if plan.loads[i].connection in NOTHING and _may_call(plan, i, day)})
        for i, part in enumerate(first.loads)] if first else []
    columns: list[Column[HoursRow]] = [text("load", "Load", lambda row: row.label)]
    columns += [Column(f"served_{name}_h", name, _served_h(name), _cell(name), right=True)
                for name in plans]
    return Table("Hours a day", tuple(columns), [row for row in rows if _asks(row)])


def _hours(plan: Plan, i: int, day: DesignDay | None, marks: tuple[int, ...]) -> float:
    """Hours of a day with these marks, weighted over the design days where none is given."""
    house = plan.menu.house
    by_day = np.isin(plan.service.marks[i], marks).reshape(-1, SLOTS_PER_DAY).sum(axis=1) * SLOT_H
    return float(house.weights @ by_day if day is None else by_day[house.home.days.index(day)])


def _may_call(plan: Plan, i: int, day: DesignDay | None) -> bool:
    """Whether a load that has no power might want to run."""
    house = plan.menu.house
    by_day = house.works.can[i].reshape(-1, SLOTS_PER_DAY).any(axis=1)
    return bool(by_day.any() if day is None else by_day[house.home.days.index(day)])


def _asks(row: HoursRow) -> bool:
    """Whether it asks for something in a plan, as far as that is known."""
    return bool(row.without) or any(hours > 0.0 for hours in row.called_h.values())


def fully_served(plans: Mapping[str, Plan], day: DesignDay | None = None) -> tuple[str, ...]:
    """Labels of the loads that get all they ask for in every plan."""
    return tuple(row.label for row in hours_table(plans, day).items if not _short(row))


def where_short(plans: Mapping[str, Plan], day: DesignDay | None = None) -> Table[HoursRow]:
    """Keep the rows of `hours_table` where some plan gives less than is asked for."""
    table = hours_table(plans, day)
    return replace(table, items=[row for row in table.items if _short(row)])


def hardest_day(plans: Iterable[Plan]) -> DesignDay:
    """The design day on which least is kept, by importance over all plans.

    Where all is kept, that on which rooms are farthest behind in the first plan.

    Raises
    ------
    ValueError
        If there is no plan.
    """
    known = list(plans)
    if not known:
        msg = "There is no plan to find the hardest day of."
        raise ValueError(msg)

    days = known[0].menu.house.home.days

    def hard(d: int) -> tuple[float, float]:
        missed = sum(one.comfort.importance * (1.0 - float(one.by_day[d]))
                     for plan in known for one in plan.comforts)
        behind = sum(one.comfort.importance * float(one.measured[d]) for one in known[0].comforts
                     if one.comfort.kind == "room")
        return round(missed, MOST_DIGITS), behind

    return days[max(range(len(days)), key=hard)]


def _short(row: HoursRow) -> bool:
    return bool(row.without) or any(
        row.served_h[name] < called_h - SAME_H for name, called_h in row.called_h.items())


def of_hours(served_h: float, called_h: float) -> str:
    """Write what is got of what is asked for: ``3.2 of 3.4 h``.

    Both get as many digits as it takes to tell some from none and all from nearly all.
    """
    some, short = served_h > SAME_H, served_h < called_h - SAME_H
    for digits in range(1, MOST_DIGITS + 1):
        got, asked = number(served_h, digits), number(called_h, digits)
        if not (some and got == number(0.0, digits)) and not (short and got == asked):
            break
    return f"{got} of {asked} h"


def _served_h(name: str) -> Callable[[HoursRow], float]:
    return lambda row: row.served_h[name]


def _cell(name: str) -> Callable[[HoursRow], str]:
    return lambda row: row.without.get(name) or of_hours(row.served_h[name], row.called_h[name])


__all__ = ["HoursRow", "fully_served", "hardest_day", "hours_table", "of_hours", "where_short"]
