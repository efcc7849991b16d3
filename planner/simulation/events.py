"""The log of an outage: codes while it runs, sentences afterwards."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from planner.arrays import FloatRows, Floats, Ints

CAPACITY = 20000

(LOST, START_FAILED, ENGINE_UP, CARRIES, GAVE_UP, CLOSED, SHED_POWER, SHED_AMPERES, SHED_FREQUENCY,
 YIELDED, WAITS_POWER, WAITS_AMPERES, WAITS_START, WAITS_DIP, WAITS_REST, WAITS_EXCLUDED,
 TRIPPED_BREAKER, LOW_HZ_TRIP, STALLED_ENGINE, RETURNED, RETRANSFERRED, STOPPED,
 MISSED, LOW_VOLTS_TRIP, OPENED_ALL, PRESSED,
 WAITS_PICK_UP) = range(27)


class Log(NamedTuple):
    """Rows of second, code, load, other load, value; and how many were written.

    Attributes
    ----------
    rows : ndarray of float, shape (capacity, 5)
    written : ndarray of int, shape (1,)
        Goes on beyond the capacity, so that what is missing can be told.
    """

    rows: FloatRows
    written: Ints


def empty_log(capacity: int = CAPACITY) -> Log:
    """Make a log without entries."""
    return Log(np.zeros((capacity, 5)), np.zeros(1, dtype=np.int64))


SENTENCES = {
    LOST: "the utility is lost",
    START_FAILED: "the engine does not start, try {value:.0f}",
    ENGINE_UP: "the engine runs",
    CARRIES: "the generator carries the house, modules open",
    GAVE_UP: "the engine gives up: the house stays dark until the utility returns",
    CLOSED: "{load} is connected",
    SHED_POWER: "{load} is shed: {value:.2f} kW over the rating",
    SHED_AMPERES: "{load} is shed: {value:.1f} A over on a leg",
    SHED_FREQUENCY: "{load} is shed: frequency down to {value:.1f} Hz",
    YIELDED: "{load} makes room for {other}",
    WAITS_POWER: "{load} waits: {value:.2f} kW short{running}",
    WAITS_AMPERES: "{load} waits: {value:.1f} A short on a leg{running}",
    WAITS_START: "{load} waits: {value:.2f} kW short for its start{running}",
    WAITS_DIP: "{load} waits: its start is {value:.2f} kVA over what the generator starts",
    WAITS_PICK_UP: "{load} waits: {value:.2f} kW too much, should {other} start unannounced",
    WAITS_REST: "{load} waits: held off for {value:.0f} s after it stopped",
    WAITS_EXCLUDED: "{load} waits: never on together with {other}",
    TRIPPED_BREAKER: "the breaker of the generator trips on overcurrent",
    LOW_HZ_TRIP: "the generator's protection stops it: too long at {value:.1f} Hz",
    LOW_VOLTS_TRIP: "the generator's protection stops it: too long at {value:.0f} % of the voltage",
    OPENED_ALL: "all modules open: frequency down to {value:.1f} Hz",
    PRESSED: "{load} stands against its pressure until its protector opens",
    STALLED_ENGINE: "the engine stalls, frequency down to {value:.1f} Hz",
    RETURNED: "the utility is back",
    RETRANSFERRED: "the utility carries the house again",
    STOPPED: "the engine stops",
    MISSED: "{load} gives up after waiting {value:.0f} min",
}


def sentences(log: Log, labels: tuple[str, ...], start_h: float) -> tuple[str, ...]:
    """Write the log as lines with the time of day; the last line tells of missing entries.

    Parameters
    ----------
    log : Log
        As the simulation left it.
    labels : tuple of str
        Of the loads, in their order.
    start_h : float
        Hour of day at which the utility was lost.
    """
    count = int(log.written[0])
    lines = [_line(row, labels, start_h) for row in log.rows[:count]]
    if count > log.rows.shape[0]:
        lines.append(f"... and {count - log.rows.shape[0]} more entries")
    return tuple(lines)


def _line(row: Floats, labels: tuple[str, ...], start_h: float) -> str:
    second, code, load, other, value = row
    name = labels[int(load)] if load >= 0 else ""
    beside = labels[int(other)] if other >= 0 else ""
    running = f", {beside} runs" if beside else ""
    sentence = SENTENCES[int(code)].format(load=name, other=beside, value=value, running=running)
    return f"{clock_of(start_h * 3600.0 + second)} {sentence}"


def clock_of(since_midnight_s: float) -> str:
    """Write the time of day, with the day from the second on: ``day 2 07:15:00``."""
    day, rest = divmod(round(since_midnight_s), 86400)
    clock = f"{rest // 3600:02d}:{rest // 60 % 60:02d}:{rest % 60:02d}"
    return f"{f'day {day + 1} ' if day else ''}{clock}"
