"""From readings to what a planner asks: the highest demand, how long, how whole, the usual day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from planner.arrays import Floats, Ints
from planner.importing.content import refusal
from planner.importing.meter.record import Record

QUARTER_S = 900
"""NEC 220.87, exception (2017 to 2023): demand is an average over 15 minutes [s]."""
DAY_S = 86400


@dataclass(frozen=True)
class Measured:
    """What the readings of a meter come to.

    Attributes
    ----------
    peak_kw : float
        Highest average over an interval [kW].
    peak_at : str
        When it began, in local time as far as the file says it: ``2011-08-26 16:00``.
    interval_min : float
        What it is an average over [min].
    days : float
        Days that the readings cover; gaps do not count [d].
    readings : int
        Intervals with a reading, each counted once.
    missing : int
        Intervals between the first and the last that have none.
    repeated, contradicting : int
        Readings of an interval that was read before; those of them that say something else. The
        largest counts, which is the safe side.
    kwh : float
        Energy taken in all [kWh].
    gives_back : bool
        Whether energy ever flowed towards the utility: generation behind the meter.
    hours : tuple of float
        The usual day: for each hour its mean demand as a share of that of the highest hour.
    notes : tuple of str
        What was left out of the file, and what had to be taken as read.
    """

    peak_kw: float
    peak_at: str
    interval_min: float
    days: float
    readings: int
    missing: int
    repeated: int
    contradicting: int
    kwh: float
    gives_back: bool
    hours: tuple[float, ...]
    notes: tuple[str, ...]


def measured_of(record: Record, name: str) -> Measured:
    """Work out what readings come to; their order does not matter, and none counts twice.

    Parameters
    ----------
    record : Record
        As the file gives them.
    name : str
        Of the file, for the refusal.

    Raises
    ------
    CaseError
        No reading is of any length, or none is above 0.

    Notes
    -----
    The usual interval is that of most readings. A longer one says less than it and is left out; a
    shorter one counts. Intervals that divide 15 minutes are averaged over 15 minutes, wherever
    these begin; longer ones stay as they are (`planner.physics.demand.measured` says what follows).
    """
    notes = list(record.notes)
    start_s, length_s, kwh = _in_order(record)
    usual_s = _usual(length_s, start_s, name)
    length_s = np.where(length_s > 0, length_s, usual_s)
    long = length_s > usual_s
    if long.any():
        notes.append(f"{int(long.sum()):,} readings of more than {usual_s / 60:g} min are left out")
        start_s, length_s, kwh = start_s[~long], length_s[~long], kwh[~long]
    total = len(start_s)
    first = np.concatenate([[True], start_s[1:] != start_s[:-1]])  # the largest of each comes first
    contradicting = int((~first & (np.abs(kwh - kwh[np.maximum.accumulate(
        np.where(first, np.arange(total), 0))]) > 0.0)).sum())
    start_s, length_s, kwh = start_s[first], length_s[first], kwh[first]
    kw = kwh * 3600.0 / length_s
    window_kw, interval_s = _over_a_quarter(start_s, kw, usual_s)
    at = int(window_kw.argmax())
    if window_kw[at] <= 0.0:
        raise refusal(name, "no reading in it is above 0.", "Export the usage of the dwelling.")
    covered_s = int(length_s.sum())
    span_s = int(start_s[-1] + length_s[-1] - start_s[0])
    local_s = start_s + (record.offset_s or 0)
    return Measured(
        peak_kw=float(window_kw[at]), peak_at=_said(int(local_s[at])),
        interval_min=interval_s / 60.0, days=covered_s / DAY_S, readings=len(start_s),
        missing=max(0, round((span_s - covered_s) / usual_s)), repeated=total - len(start_s),
        contradicting=contradicting, kwh=float(kwh.sum()),
        gives_back=record.gives_back or bool((kwh < 0.0).any()),
        hours=_usual_day(local_s, kw), notes=tuple(notes))


def _in_order(record: Record) -> tuple[Ints, Ints, Floats]:
    """By start; of those that start together the largest demand first."""
    order = np.lexsort((-record.kwh, record.start_s))
    return record.start_s[order], record.length_s[order], record.kwh[order]


def _usual(length_s: Ints, start_s: Ints, name: str) -> int:
    """Length of most readings; where they have none, the usual step from one to the next [s]."""
    known = length_s[length_s > 0]
    if not known.size:
        known = np.diff(np.unique(start_s)).astype(np.int64)
    if not known.size:
        raise refusal(name, "nothing says how long an interval is.",
                      "Export intervals of a quarter of an hour or an hour.")
    values, counts = np.unique(known, return_counts=True)
    return int(values[counts.argmax()])


def _over_a_quarter(start_s: Ints, kw: Floats, usual_s: int) -> tuple[Floats, int]:
    """Average over 15 min from each start, where the intervals divide them; kW and length [s]."""
    pieces = QUARTER_S // usual_s
    if pieces < 2 or QUARTER_S % usual_s or len(kw) < pieces:
        return kw, usual_s
    whole = start_s[pieces - 1:] - start_s[:1 - pieces] == (pieces - 1) * usual_s
    if not whole.any():
        return kw, usual_s
    mean = np.convolve(kw, np.full(pieces, 1.0 / pieces), "valid")
    return np.where(whole, mean, 0.0), QUARTER_S


def _usual_day(local_s: Ints, kw: Floats) -> tuple[float, ...]:
    hour = local_s // 3600 % 24
    count = np.bincount(hour, minlength=24)
    mean = np.maximum(0.0, np.bincount(hour, kw, minlength=24) / np.maximum(count, 1))
    share = mean / mean.max() if mean.max() > 0.0 else mean
    return tuple(round(float(one), 3) for one in share)


def _said(local_s: int) -> str:
    return datetime.fromtimestamp(local_s, UTC).strftime("%Y-%m-%d %H:%M")
