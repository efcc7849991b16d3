"""Tables of a simulated outage: what each load got, what the equipment went through."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pandas as pd

from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import beyond, brief, half_width, number, share, span
from planner.simulation.generator import NOMINAL_HZ
from planner.simulation.outage import Outage
from planner.simulation.outcome.mean import Mean
from planner.simulation.outcome.results import LoadResult, Results
from planner.simulation.rooms import RoomResult


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of the equipment: what it is, how it was taken, its value and its unit."""

    key: str
    heading: str
    taken: str
    value: float
    shown: str
    unit: str


def outage_table(results: Results) -> Table[LoadResult]:
    """One row per load that wanted power or is connected, in the order of the file."""
    wanted = [one for one in results.loads() if one.wanted_kwh > 0.0]
    return Table("Loads in the simulated outage", LOAD_COLUMNS, wanted)


def comfort_table(results: Results) -> Table[LoadResult]:
    """One row per load that keeps food or water: the worst of all outages."""
    kept = [one for one in results.loads()
            if one.warmest_food_degf is not None or one.coldest_draw_degf is not None]
    return Table("Food and hot water in the simulated outage", COMFORT_COLUMNS, kept)


def weights_sentence(results: Results) -> str:
    """Say what a mean per day is a mean of, and with which weights the design days count."""
    home = results.plan.menu.house.home
    weights = results.plan.menu.house.weights
    days = ", ".join(f"{day.label} {100.0 * float(weight):.0f} %"
                     for day, weight in zip(home.days, weights, strict=True))
    return (f"Per day: a mean per 24 h of outage. Every design day is played equally often and "
            f"counts by its weight: {days}.")


def room_table(results: Results) -> Table[RoomResult]:
    """One row per room and design day on which it is heated or cooled."""
    return Table("Rooms in the simulated outage", ROOM_COLUMNS, results.rooms())


def equipment_table(results: Results) -> Table[Line]:
    """What the generator went through, per day of outage or worst of all."""
    fuel = results.plan.menu.house.home.fuel
    therms = results.per_day(lambda one: one.fuel_btu / 1e5)
    lines = (
        _daily("engine_kwh", "Energy", "kWh", results.per_day(lambda one: one.engine_kwh)),
        _daily("fuel_therm", f"Fuel ({fuel})", "therm", therms, 2),
        _daily("starts", "Motor starts", "starts", results.per_day(lambda one: one.starts)),
        _daily("rough_starts", "Starts beyond the generator's class", "starts",
               results.per_day(lambda one: one.rough_starts), 2),
        _daily("overload_s", "Time above a rating", "s",
               results.per_day(lambda one: one.overload_s)),
        _daily("dark_s", "House dark: before the generator takes over, and after a fall", "s",
               results.per_day(lambda one: one.dark_s)),
        _daily("trips", "Trips", "trips", results.per_day(lambda one: one.trips), 2),
        _daily("stalls", "Stalls", "stalls", results.per_day(lambda one: one.stalls), 2),
        _daily("light_dips", "Dips seen in the lights", "dips",
               results.per_day(lambda one: one.light_dips)),
        _daily("computer_drops", "Dips that computers do not ride through", "dips",
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
    return share(mean.value) + ("" if mean.half is None else f" ± {half_width(mean.half)}")


def _daily(key: str, heading: str, unit: str, mean: Mean, digits: int = 1) -> Line:
    wide = "" if mean.half is None else f" ± {number(mean.half, digits)}"
    return Line(key, heading, "mean per day", mean.value, f"{number(mean.value, digits)}{wide}",
                unit)


def _worst(key: str, heading: str, value: float, unit: str) -> Line:
    return Line(key, heading, "worst of all", value, number(value), unit)


def _worst_room(one: RoomResult) -> str:
    """Write the worst temperature, with a decimal where rounding would hide that it is too far."""
    shown = (beyond(one.worst_degf, one.limit_degf) if one.unlivable_h > 0.0
             else f"{one.worst_degf:.0f}")
    return f"{'warmest' if one.cooled else 'coldest'} {shown} degF"


def _unless(nothing: bool, shown: str) -> str:
    return "" if nothing else shown


LOAD_COLUMNS: tuple[Column[LoadResult], ...] = (
    text("load", "Load", lambda one: one.label),
    Column("service", "Energy it got", lambda one: one.service.value,
           lambda one: share(one.service.value), right=True),
    figure("service_half", "±", lambda one: one.service.half,
           half_width),
    Column("kwh", "kWh/day", lambda one: one.kwh, lambda one: number(one.kwh), right=True),
    figure("wanted_kwh", "Wanted kWh/day", lambda one: one.wanted_kwh, number),
    Column("waits", "Waits/day", lambda one: one.waits,
           lambda one: _unless(one.longest_wait_h == 0.0, number(one.waits)), right=True),
    Column("longest_wait_h", "Longest wait", lambda one: one.longest_wait_h,
           lambda one: _unless(one.longest_wait_h == 0.0, span(one.longest_wait_h)), right=True),
    Column("missed", "Given up/day", lambda one: one.missed,
           lambda one: _unless(one.missed < 0.005, f"{one.missed:.2f}"), right=True),
)

COMFORT_COLUMNS: tuple[Column[LoadResult], ...] = (
    text("load", "Load", lambda one: one.label),
    figure("warmest_food_degf", "Warmest food [degF]", lambda one: one.warmest_food_degf,
           lambda degf: number(degf, 0)),
    Column("degree_h", "Food too warm [degF·h/day]", lambda one: one.degree_h,
           lambda one: _unless(one.warmest_food_degf is None, number(one.degree_h)), right=True),
    figure("coldest_draw_degf", "Coldest shower [degF]", lambda one: one.coldest_draw_degf,
           lambda degf: number(degf, 0)),
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
           lambda one: brief(one.unlivable_h) if one.unlivable_h > 0.0 else "", right=True),
)

LINE_COLUMNS: tuple[Column[Line], ...] = (
    text("key", "Figure", lambda line: line.heading),
    text("taken", "Taken as", lambda line: line.taken),
    Column("value", "Value", lambda line: line.value, lambda line: line.shown, right=True),
    text("unit", "Unit", lambda line: line.unit),
)
