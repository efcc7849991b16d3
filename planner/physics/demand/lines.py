"""Amperes line by line: what each ungrounded conductor of the service carries."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from planner.facts.home import Leg
from planner.physics.demand.sheet import whole_amperes
from planner.physics.demand.tables import LARGEST_MOTOR_SHARE


@dataclass(frozen=True, slots=True)
class LineLoad:
    """A load by its nameplate current [A], the leg it is on, and whether it is a motor."""

    amperes: float
    leg: Leg
    motor: bool = False


def line_amperes(both_a: float, loads: Iterable[LineLoad]) -> tuple[int, int]:
    """Add up the current of lines L1 and L2 in whole amperes [A].

    Parameters
    ----------
    both_a : float
        What both lines carry already, such as a calculated load at 240 V; not negative [A].
    loads : iterable of LineLoad
        Further loads [A]; 25 % of the largest motor of each line is added to it.

    Notes
    -----
    Amperes are added arithmetically, not as phasors, and every item is rounded to whole amperes.

    References
    ----------
    NEC Annex D, D1(b) (2005).
    """
    items = list(loads)
    return _one_line(both_a, items, "L1"), _one_line(both_a, items, "L2")


def _one_line(both_a: float, loads: list[LineLoad], leg: Leg) -> int:
    here = [load for load in loads if load.leg in (leg, "both")]
    largest_a = max((load.amperes for load in here if load.motor), default=0.0)
    return (whole_amperes(both_a) + sum(whole_amperes(load.amperes) for load in here)
            + whole_amperes(LARGEST_MOTOR_SHARE * largest_a))
