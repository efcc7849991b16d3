"""Hours a day that every load asks for, and gets in each of several plans."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from planner.facts.home import SLOT_H, SLOTS_PER_DAY, DesignDay
from planner.plan.plan import Plan
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import number

SAME_H = 1e-9
MOST_DIGITS = 4


@dataclass(frozen=True, slots=True)
class HoursRow:
    """One load: the hours a day it asks for, and gets in every plan by name [h]."""

    label: str
    called_h: float
    served_h: Mapping[str, float]


def hours_table(plans: Mapping[str, Plan], day: DesignDay | None = None) -> Table[HoursRow]:
    """Compare named plans of one home by the hours a day that each load gets.

    Hours are weighted over the design days, or those of one `day`. Loads that never call are left
    out; the rest stand in the order of the file. In frames the hours of a plan stand under
    ``served_NAME_h``.
    """
    first = next(iter(plans.values()), None)
    rows = [HoursRow(part.label, _called_h(first, i, day),
                     {name: _given_h(plan, i, day) for name, plan in plans.items()})
            for i, part in enumerate(first.loads)] if first else []
    columns: list[Column[HoursRow]] = [
        text("load", "Load", lambda row: row.label),
        figure("called_h", "Asks for, a day", lambda row: row.called_h, _hours),
    ]
    columns += [Column(f"served_{name}_h", name, _served_h(name), _cell(name), right=True)
                for name in plans]
    return Table("Hours a day", tuple(columns), [row for row in rows if row.called_h > 0.0])


def _called_h(plan: Plan, i: int, day: DesignDay | None) -> float:
    if day is None:
        return plan.loads[i].called_h
    house = plan.menu.house
    first = house.home.days.index(day) * SLOTS_PER_DAY
    return float(house.calls[i, first : first + SLOTS_PER_DAY].sum()) * SLOT_H


def _given_h(plan: Plan, i: int, day: DesignDay | None) -> float:
    if day is None:
        return plan.loads[i].served_h
    if plan.loads[i].connection == "off":
        return 0.0
    return float(plan.service.served[i, plan.menu.house.home.days.index(day)]) * SLOT_H


def fully_served(plans: Mapping[str, Plan], day: DesignDay | None = None) -> tuple[str, ...]:
    """Labels of the loads that get all they ask for in every plan."""
    return tuple(row.label for row in hours_table(plans, day).items if not _short(row))


def where_short(plans: Mapping[str, Plan], day: DesignDay | None = None) -> Table[HoursRow]:
    """Keep the rows of `hours_table` where some plan gives less than is asked for."""
    table = hours_table(plans, day)
    return replace(table, items=[row for row in table.items if _short(row)])


def hardest_day(plans: Iterable[Plan]) -> DesignDay:
    """The design day on which most is missing, counted in hours by importance over all plans.

    The first of the home where nothing is missing.

    Raises
    ------
    ValueError
        If there is no plan.
    """
    known = list(plans)
    if not known:
        msg = "There is no plan to find the hardest day of."
        raise ValueError(msg)

    def missing(day: DesignDay) -> float:
        return sum(part.importance * (_called_h(plan, i, day) - _given_h(plan, i, day))
                   for plan in known for i, part in enumerate(plan.loads))

    return max(known[0].menu.house.home.days, key=missing)


def _short(row: HoursRow) -> bool:
    return any(given_h < row.called_h - SAME_H for given_h in row.served_h.values())


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


def _hours(called_h: float) -> str:
    digits = next((d for d in range(1, MOST_DIGITS) if round(called_h, d) > 0.0), MOST_DIGITS)
    return f"{number(called_h, digits)} h"


def _served_h(name: str) -> Callable[[HoursRow], float]:
    return lambda row: row.served_h[name]


def _cell(name: str) -> Callable[[HoursRow], str]:
    return lambda row: of_hours(row.served_h[name], row.called_h)


__all__ = ["HoursRow", "fully_served", "hardest_day", "hours_table", "of_hours", "where_short"]
