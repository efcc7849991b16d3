"""Tables of a simulated outage: what each load got, what the equipment went through."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import number, share, span
from planner.simulation.generator import NOMINAL_HZ
from planner.simulation.outage import Outage
from planner.simulation.results import LoadResult, Mean, Results
from planner.simulation.rooms import RoomResult


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of the equipment: what it is, its value, and the text of it."""

    key: str
    heading: str
    value: float
    shown: str


def outage_table(results: Results) -> Table[LoadResult]:
    """One row per load that wanted power or is connected, in the order of the file."""
    wanted = [one for one in results.loads() if one.wanted_kwh > 0.0]
    return Table("Loads in the simulated outage", LOAD_COLUMNS, wanted)


def room_table(results: Results) -> Table[RoomResult]:
    """One row per room and design day on which it is heated or cooled."""
    return Table("Rooms in the simulated outage", ROOM_COLUMNS, results.rooms())


def equipment_table(results: Results) -> Table[Line]:
    """What the generator went through, per day of outage or worst of all."""
    fuel = results.plan.menu.house.home.fuel
    therms = results.per_day(lambda one: one.fuel_btu / 1e5)
    lines = (
        _daily("engine_kwh", "Energy, per day", "kWh", results.per_day(lambda one: one.engine_kwh)),
        _daily("fuel_therm", f"Fuel ({fuel}), per day", "therm", therms, 2),
        _daily("starts", "Motor starts, per day", "", results.per_day(lambda one: one.starts)),
        _daily("rough_starts", "Starts beyond the generator's class, per day", "",
               results.per_day(lambda one: one.rough_starts), 2),
        _daily("overload_s", "Seconds above a rating, per day", "s",
               results.per_day(lambda one: one.overload_s)),
        _daily("dark_s", "Seconds dark, per day", "s", results.per_day(lambda one: one.dark_s)),
        _daily("trips", "Trips, per day", "", results.per_day(lambda one: one.trips), 2),
        _daily("stalls", "Stalls, per day", "", results.per_day(lambda one: one.stalls), 2),
        _daily("light_dips", "Dips seen in the lights, per day", "",
               results.per_day(lambda one: one.light_dips)),
        _daily("computer_drops", "Dips that computers do not ride through, per day", "",
               results.per_day(lambda one: one.computer_drops), 2),
        _worst("load_factor", "Highest average over 24 h of running",
               100.0 * results.worst(lambda one: one.load_factor), "% of the rating"),
        _worst("top_kw", "Highest load, starts included",
               results.worst(lambda one: one.top_kw), "kW"),
        _worst("deepest_dip", "Deepest voltage dip",
               100.0 * results.worst(lambda one: one.deepest_dip), "%"),
        _worst("lowest_hz", "Lowest frequency",
               results.worst(lambda one: one.lowest_hz, largest=False), "Hz"),
    )
    return Table("Generator in the simulated outage", LINE_COLUMNS, lines)


def timeline_frame(outage: Outage) -> pd.DataFrame:
    """Minute by minute, for a chart.

    Returns
    -------
    pandas.DataFrame, shape (minutes, 6 + 2 n)
        Hours from the loss, mean and highest kW, lowest Hz (NaN while the engine does not carry),
        deepest dip, state of the transfer; per load ``<id>_run_s`` and ``<id>_wait_s``.
    """
    found = outage.tally
    carried = found.lowest_frequency > 0.0
    columns: dict[str, object] = {
        "hour": np.arange(len(found.states)) / 60.0,
        "mean_kw": found.mean_kw,
        "top_kw": found.top_kw,
        "lowest_hz": np.where(carried, found.lowest_frequency * NOMINAL_HZ, np.nan),
        "deepest_dip": found.deepest_dip,
        "state": found.states,
    }
    for i, load_id in enumerate(outage.ids):
        columns[f"{load_id}_run_s"] = found.run_minute[i]
        columns[f"{load_id}_wait_s"] = found.wait_minute[i]
    return pd.DataFrame(columns)


def interval(mean: Mean) -> str:
    """Write a share with its interval: ``97.1 % ± 0.4 %``."""
    return share(mean.value) + ("" if mean.half is None else f" ± {100.0 * mean.half:.1f} %")


def _daily(key: str, heading: str, unit: str, mean: Mean, digits: int = 1) -> Line:
    wide = "" if mean.half is None else f" ± {number(mean.half, digits)}"
    return Line(key, heading, mean.value, f"{number(mean.value, digits)}{wide} {unit}".rstrip())


def _worst(key: str, heading: str, value: float, unit: str) -> Line:
    return Line(key, f"{heading} of all", value, f"{number(value)} {unit}")


def _comfort(one: LoadResult) -> str:
    said = [
        f"{one.missed:.2f} missed" if one.missed >= 0.005 else "",
        f"food {one.degree_h:.1f} degF·h too warm" if one.degree_h >= 0.05 else "",
        f"coldest shower {one.coldest_draw_degf:.0f} degF"
        if one.coldest_draw_degf is not None else "",
        f"warmest food {one.warmest_food_degf:.0f} degF"
        if one.warmest_food_degf is not None else "",
    ]
    return ", ".join(part for part in said if part)


def _worst_room(one: RoomResult) -> str:
    return f"{'warmest' if one.cooled else 'coldest'} {one.worst_degf:.0f} degF"


def _wait(one: LoadResult) -> str:
    if one.longest_wait_h == 0.0:
        return ""
    return f"{number(one.waits)}, at most {span(one.longest_wait_h)}"


LOAD_COLUMNS: tuple[Column[LoadResult], ...] = (
    text("load", "Load", lambda one: one.label),
    figure("planned", "Planned", lambda one: one.planned, share),
    Column("service", "Simulated", lambda one: one.service.value,
           lambda one: interval(one.service), right=True),
    Column("kwh", "kWh/day", lambda one: one.kwh, lambda one: number(one.kwh), right=True),
    figure("wanted_kwh", "Wanted", lambda one: one.wanted_kwh, number),
    Column("longest_wait_h", "Waits, per day", lambda one: one.longest_wait_h, _wait),
    text("comfort", "Comfort, per day", _comfort),
)

ROOM_COLUMNS: tuple[Column[RoomResult], ...] = (
    text("room", "Room", lambda one: one.label),
    text("day", "Design day", lambda one: one.day_label),
    Column("set_degf", "Held at", lambda one: one.set_degf,
           lambda one: f"{one.set_degf:.0f} degF", right=True),
    Column("worst_degf", "Worst", lambda one: one.worst_degf, _worst_room, right=True),
    Column("with_utility_degf", "With the utility", lambda one: one.utility_degf,
           lambda one: f"{one.utility_degf:.0f} degF", right=True),
    Column("degree_h", "degF·h off, per day", lambda one: one.degree_h,
           lambda one: f"{one.degree_h:.1f}", right=True),
    Column("unlivable_h", "Unlivable, per day", lambda one: one.unlivable_h,
           lambda one: span(one.unlivable_h) if one.unlivable_h > 0.0 else "", right=True),
)

LINE_COLUMNS: tuple[Column[Line], ...] = (
    text("key", "Figure", lambda line: line.heading),
    Column("value", "Value", lambda line: line.value, lambda line: line.shown, right=True),
)
