"""The table ``portable`` of a home file: when somebody is there to work a generator by hand."""

from __future__ import annotations

import re
from typing import Annotated

from planner.case import bounds
from planner.case.fields import Refused, checked, within
from planner.case.messages import Strict
from planner.facts.home import SLOT_H
from planner.facts.portable import USUAL_ATTENDANCE, Attendance
from planner.quoting import quoted
from planner.units import magnitude

_HOUR = re.compile(r"([01]?\d|2[0-4]):([0-5]\d)")
HOW = 'Write the first hour and the last in 24-hour clock: attended = ["6:00", "22:00"].'
ALL_DAY = 'With somebody up day and night: attended = ["0:00", "24:00"].'


def _hours(value: object) -> tuple[float, float]:
    """Read ``["6:00", "22:00"]``, in quarters of an hour of one day."""
    if not isinstance(value, list) or len(value) != 2:
        said = f"{len(value)} of them" if isinstance(value, list) else quoted(value)
        raise Refused(f"two hours of a day are expected, not {said}.", HOW)
    begin_h, end_h = map(_hour, value)
    written = f"from {quoted(value[0])} to {quoted(value[1])}"
    if begin_h == end_h:
        raise Refused(f"{written} is no time at all.", f"{HOW} {ALL_DAY}")
    if begin_h > end_h:
        raise Refused(f"{written} goes over midnight, which is not possible: the hours are those "
                      "of one day, the first before the last.", f"{HOW} {ALL_DAY}")
    return begin_h, end_h


def _hour(value: object) -> float:
    """Read an hour of the 24-hour clock."""
    found = _HOUR.fullmatch(value) if isinstance(value, str) else None
    hours = int(found[1]) + int(found[2]) / 60.0 if found else 25.0
    if hours > 24.0:
        raise Refused(f"{quoted(value)} is no hour of the 24-hour clock.", HOW)
    if hours % SLOT_H:
        raise Refused(f"{quoted(value)} is no quarter of an hour.",
                      "Quarters are 6:00, 6:15, 6:30, 6:45.")
    return hours


def _every(value: object) -> float:
    hours = magnitude(within(value, bounds.SWITCHING), "h")
    if abs(hours / SLOT_H - round(hours / SLOT_H)) > 1e-9:
        raise Refused(f"{quoted(value)} is no whole number of quarters of an hour.",
                      'Write for example "2 h" or "30 min".')
    return round(hours / SLOT_H) * SLOT_H


class AttendanceSection(Strict):
    """When somebody is at home and awake, and how often they switch at most."""

    attended: Annotated[tuple[float, float], checked(_hours)] | None = None
    every: Annotated[float, checked(_every)] | None = None


def attendance_of(section: AttendanceSection | None) -> Attendance:
    """Give what the file says, else what is usual."""
    usual = USUAL_ATTENDANCE
    if section is None:
        return usual
    begin_h, end_h = section.attended or (usual.begin_h, usual.end_h)
    return Attendance(begin_h, end_h, section.every or usual.every_h,
                      stated=section.attended is not None and section.every is not None)
