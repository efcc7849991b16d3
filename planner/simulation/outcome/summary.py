"""One outage in a few numbers per load, small enough to keep for hundreds of seeds."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Floats, Ints
from planner.physics.engine import load_factor
from planner.simulation import events, tally
from planner.simulation.columns import BOX, DISCOMFORT, MISSED, TANK, WORST
from planner.simulation.generator import NOMINAL_HZ, TRANSIENT_DIP, TRANSIENT_FREQUENCY
from planner.simulation.outage import Outage
from planner.simulation.outcome.drops import Drop, drops_in
from planner.simulation.outcome.losses import ComfortOutage, comforts_in
from planner.simulation.rooms import RoomOutage, rooms_in
from planner.simulation.transfer import CARRYING

DAY_H, HOUR_MIN = 24, 60


@dataclass(frozen=True)
class Summary:
    """What is kept of one outage; arrays have one place per load.

    Attributes
    ----------
    day : str
        Id of the design day.
    hours : float
        Played, with retransfer [h].
    kwh, wanted_kwh, run_h, wanted_h : ndarray of float
        Energy and hours of running; wanted: of the same machines with unlimited power.
    waits_h : tuple of ndarray of float
        Length of every wait of each load [h].
    missed : ndarray of int
        Uses given up, cold draws, dry taps, overflows, cars that left uncharged, above those with
        the utility.
    sheds : ndarray of int
        How often each load was shed or made room.
    degree_h : ndarray of float
        Refrigerators: too warm, above what it would be with the utility [degF·h]. Else 0.
    coldest_draw_degf, warmest_food_degf : ndarray of float
        Of tanks and of boxes; NaN for other loads.
    comforts : tuple of ComfortOutage
        What each comfort of the home came to.
    rooms : tuple of RoomOutage
        What each room that is heated or cooled on the day came to.
    starts, rough_starts : int
        Of motors on the generator; those whose dip or frequency leaves the limits of its
        performance class (ISO 8528-5).
    deepest_dip, lowest_hz, top_kw : float
        Per unit, Hz, kW.
    overload_s, dark_s : int
        Seconds above a rating; seconds without any source.
    trips, stalls : int
    light_dips, computer_drops : int
        Starts that are seen in the lights; dips that computers do not ride through.
    load_factor : float
        Highest average of the generator over 24 h of running, by ISO 8528-1, of its rating.
    drops : tuple of Drop
        Each time the frequency fell below the controller's fast level, in order of time.
    falls : tuple of (int, int)
        What went wrong and why (`planner.simulation.falls`), in order of time.
    fuel_btu, engine_kwh : float
    """

    day: str
    seed: int
    hours: float
    kwh: Floats
    wanted_kwh: Floats
    run_h: Floats
    wanted_h: Floats
    waits_h: tuple[Floats, ...]
    missed: Ints
    sheds: Ints
    degree_h: Floats
    coldest_draw_degf: Floats
    warmest_food_degf: Floats
    comforts: tuple[ComfortOutage, ...]
    rooms: tuple[RoomOutage, ...]
    starts: int
    rough_starts: int
    deepest_dip: float
    lowest_hz: float
    top_kw: float
    overload_s: int
    dark_s: int
    trips: int
    stalls: int
    light_dips: int
    computer_drops: int
    load_factor: float
    drops: tuple[Drop, ...]
    falls: tuple[tuple[int, int], ...]
    fuel_btu: float
    engine_kwh: float


def summary_of(outage: Outage) -> Summary:
    """Reduce an outage to what is kept of it."""
    found, state, kind = outage.tally, outage.state, outage.machines.kind
    n = len(kind)
    waits = found.waits[: int(found.waits_count[0])]
    rows = outage.log.rows[: int(outage.log.written[0])]
    shed = np.isin(rows[:, 1], (events.SHED_POWER, events.SHED_AMPERES, events.SHED_FREQUENCY,
                                events.YIELDED))
    sums, counts = found.sums, found.counts
    return Summary(
        day=outage.day.id, seed=outage.seed, hours=outage.seconds / 3600.0,
        kwh=found.kwh, wanted_kwh=outage.wanted_kwh,
        run_h=found.run_s / 3600.0, wanted_h=outage.wanted_s / 3600.0,
        waits_h=tuple(waits[waits[:, tally.WHO] == i, tally.LENGTH] / 3600.0 for i in range(n)),
        missed=np.maximum(0.0, state[:, MISSED] - outage.with_utility[:, MISSED]).astype(np.int64),
        sheds=np.bincount(rows[shed, 2].astype(np.int64), minlength=n),
        degree_h=np.where(kind == BOX, np.maximum(
            0.0, state[:, DISCOMFORT] - outage.with_utility[:, DISCOMFORT]), 0.0),
        coldest_draw_degf=np.where(kind == TANK, state[:, WORST], np.nan),
        warmest_food_degf=np.where(kind == BOX, state[:, WORST], np.nan),
        comforts=comforts_in(outage), rooms=rooms_in(outage),
        starts=int(found.starts_count[0]), rough_starts=_rough(outage),
        deepest_dip=float(sums[tally.DEEPEST_DIP]),
        lowest_hz=float(sums[tally.LOWEST_FREQUENCY]) * NOMINAL_HZ
        if counts[tally.CARRYING_S] else 0.0,
        top_kw=float(sums[tally.TOP_KW]),
        overload_s=int(counts[tally.OVERLOAD_S]), dark_s=int(counts[tally.DARK_S]),
        trips=int(counts[tally.BREAKER_TRIPS] + counts[tally.ENGINE_TRIPS]),
        stalls=int(counts[tally.STALLS]), light_dips=int(counts[tally.LIGHT_DIPS]),
        computer_drops=int(counts[tally.COMPUTER_DROPS]), load_factor=_load_factor(outage),
        drops=drops_in(outage),
        falls=tuple((int(one[tally.FALL_WHAT]), int(one[tally.FALL_CAUSE]))
                    for one in found.falls[: int(found.falls_count[0])]),
        fuel_btu=float(sums[tally.FUEL_BTU]), engine_kwh=float(sums[tally.ENGINE_KWH]),
    )


def _load_factor(outage: Outage) -> float:
    """Highest average over a day of running; over all of it where it runs for less than a day."""
    running = outage.tally.mean_kw[outage.tally.states == CARRYING].astype(np.float64)
    if not running.size:
        return 0.0
    hours = running[: running.size // HOUR_MIN * HOUR_MIN].reshape(-1, HOUR_MIN).mean(axis=1)
    if hours.size <= DAY_H:
        return load_factor(running.tolist(), outage.rating_kw)
    return max(load_factor(hours[first:first + DAY_H].tolist(), outage.rating_kw)
               for first in range(hours.size - DAY_H + 1))


def _rough(outage: Outage) -> int:
    starts = outage.tally.starts[: int(outage.tally.starts_count[0])]
    low_hz = NOMINAL_HZ * (1.0 - TRANSIENT_FREQUENCY[outage.performance_class])
    return int(((starts[:, tally.START_DIP] > TRANSIENT_DIP[outage.performance_class] + 1e-9)
                | (starts[:, tally.START_HZ] < low_hz)).sum())
