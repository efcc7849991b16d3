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


def _hours(value: object) -> tuple[float, float]:
    """Read ``["6:00", "22:00"]``, in quarters of an hour."""
    found = [_HOUR.fullmatch(one) if isinstance(one, str) else None for one in value] if (
        isinstance(value, list)) else []
    hours = [int(one[1]) + int(one[2]) / 60.0 for one in found if one is not None]
    if (len(hours) != 2 or len(found) != 2 or not 0.0 <= hours[0] < hours[1] <= 24.0
            or any(one % SLOT_H for one in hours)):
        raise Refused(f"{quoted(value)} are no hours of a day.",
                      'Write the first and the last in quarters of an hour: ["6:00", "22:00"].')
    return hours[0], hours[1]


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
