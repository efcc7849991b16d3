"""What an outage leaves behind, as arrays that the loop fills."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.arrays import FloatRows, Floats, Ints, OctetRows, Octets, Singles

WAITS_CAPACITY = 4000
STARTS_CAPACITY = 8000
FALLS_CAPACITY = 1000
DROPS_CAPACITY = 1000

# columns of `Tally.waits`
WHO, SINCE, LENGTH, ENDED_SERVED = range(4)

# columns of `Tally.starts`
START_WHO, START_SECOND, START_KVA, START_DIP, START_HZ = range(5)

# columns of `Tally.falls`; codes in `planner.simulation.falls`
FALL_SECOND, FALL_WHAT, FALL_CAUSE, FALL_VALUE = range(4)

# columns of `Tally.drops`; the load (-1: none) that began last before it, and when
(DROP_SECOND, DROP_WHO, DROP_BEGAN, DROP_CAUSE, DROP_LOWEST, DROP_LEVEL, DROP_LEVEL_TICKS,
 DROP_TICKS) = range(8)

# places of `Tally.counts`
(OVERLOAD_S, BREAKER_TRIPS, ENGINE_TRIPS, STALLS, DARK_S, CARRYING_S, LIGHT_DIPS,
 COMPUTER_DROPS) = range(8)

# places of `Tally.sums`
ENGINE_KWH, START_KWH, FUEL_BTU, UTILITY_KWH, LOWEST_FREQUENCY, DEEPEST_DIP, TOP_KW = range(7)


class Tally(NamedTuple):
    """Results of one run over n loads and M minutes.

    Attributes
    ----------
    kwh, run_s : ndarray of float, shape (n,)
        Energy and seconds of running.
    waits : ndarray of float, shape (capacity, 4); waits_count : ndarray of int, shape (1,)
        Calls of module loads that had to wait.
    starts : ndarray of float, shape (capacity, 5); starts_count : ndarray of int, shape (1,)
        Starts of motors on the generator; those that start in one second share dip and frequency.
    falls : ndarray of float, shape (capacity, 4); falls_count : ndarray of int, shape (1,)
        Stalls, trips and dips beyond the limit, each with its cause.
    drops : ndarray of float, shape (capacity, 8); drops_count : ndarray of int, shape (1,)
        Each time the frequency fell below the controller's fast level: when, after which start, how
        low (per unit), and the hundredths of a second below that level and below the frequency of
        the engine's protection.
    counts : ndarray of int, shape (8,); sums : ndarray of float, shape (7,)
    run_minute, wait_minute : ndarray of uint8, shape (n, M)
        Seconds of each minute in which a load ran, and in which it waited.
    mean_kw, top_kw, lowest_frequency, deepest_dip : ndarray of float32, shape (M,)
        Of the generator, minute by minute; frequency per unit, 0 while it stands.
    states : ndarray of uint8, shape (M,)
        State of the transfer at the end of each minute.
    """

    kwh: Floats
    run_s: Floats
    waits: FloatRows
    waits_count: Ints
    starts: FloatRows
    starts_count: Ints
    falls: FloatRows
    falls_count: Ints
    drops: FloatRows
    drops_count: Ints
    counts: Ints
    sums: Floats
    run_minute: OctetRows
    wait_minute: OctetRows
    mean_kw: Singles
    top_kw: Singles
    lowest_frequency: Singles
    deepest_dip: Singles
    states: Octets


def empty_tally(n: int, seconds: int) -> Tally:
    """Make a tally of n loads without entries."""
    minutes = -(-seconds // 60)
    sums = np.zeros(7)
    sums[LOWEST_FREQUENCY] = 2.0
    return Tally(
        kwh=np.zeros(n), run_s=np.zeros(n),
        waits=np.zeros((WAITS_CAPACITY, 4)), waits_count=np.zeros(1, np.int64),
        starts=np.zeros((STARTS_CAPACITY, 5)), starts_count=np.zeros(1, np.int64),
        falls=np.zeros((FALLS_CAPACITY, 4)), falls_count=np.zeros(1, np.int64),
        drops=np.zeros((DROPS_CAPACITY, 8)), drops_count=np.zeros(1, np.int64),
        counts=np.zeros(8, np.int64), sums=sums,
        run_minute=np.zeros((n, minutes), np.uint8), wait_minute=np.zeros((n, minutes), np.uint8),
        mean_kw=np.zeros(minutes, np.float32), top_kw=np.zeros(minutes, np.float32),
        lowest_frequency=np.zeros(minutes, np.float32), deepest_dip=np.zeros(minutes, np.float32),
        states=np.zeros(minutes, np.uint8),
    )
