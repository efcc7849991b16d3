"""Amperes line by line: what each ungrounded conductor of the service carries."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from planner.facts.home import CodeCategory, Leg
from planner.physics.demand.existing import existing_share
from planner.physics.demand.optional import optional_share
from planner.physics.demand.parts import circuit_va, total_va
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine
from planner.physics.demand.standard import largest_motor_va, motors_that_count, standard_share
from planner.physics.demand.tables import LARGEST_MOTOR_SHARE
from planner.physics.draw import LEG_VOLTS, LINE_VOLTS, amperes


@dataclass(frozen=True, slots=True)
class LineLoad:
    """A load by its current [A], the leg it is on, and the part of it that is a motor [A]."""

    amperes: float
    leg: Leg
    motor_a: float = 0.0


def line_amperes(both_a: float, loads: Iterable[LineLoad]) -> tuple[float, float]:
    """Add up the current of lines L1 and L2 [A].

    Parameters
    ----------
    both_a : float
        What both lines carry already, such as a calculated load at 240 V; not negative [A].
    loads : iterable of LineLoad
        Further loads [A]; 25 % of the largest motor of each line is added to it.

    Notes
    -----
    Amperes are added arithmetically, not as phasors, which never understates a line.

    References
    ----------
    NEC Annex D, D1(b) (2005); its items are rounded one by one, these are not.
    """
    items = list(loads)
    return _one_line(both_a, items, "L1"), _one_line(both_a, items, "L2")


def sheet_amperes(
    basis: DemandBasis, entries: Sequence[DemandEntry], lines: Sequence[DemandLine]
) -> tuple[float, float]:
    """Give what lines L1 and L2 carry of a calculated load [A].

    A 120 V load counts on its own leg with what the method counts of it, everything else, and what
    the area and the branch circuits stand for, on both. The lines' mean is the calculated load at
    240 V, but for the largest motor of the standard method, which is another one on each line.

    Parameters
    ----------
    basis : DemandBasis
        Edition and method.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA], each with its leg.
    lines : sequence of DemandLine
        The calculation by that method [VA].

    References
    ----------
    NEC Annex D, D1(b) (2005) for the standard method; derived for the others, where a load counts
    with the mean share that the steps leave of all that is in them.
    """
    rest_va = total_va(line for line in lines if line.role == "demand")
    motors = motors_that_count(basis, entries) if basis.method == "standard" else []
    rest_va -= LARGEST_MOTOR_SHARE * largest_motor_va(motors)
    loads = [LineLoad(0.0, "both", amperes(motor.motor_va / 1000.0, LINE_VOLTS))
             for motor in motors if motor.leg == "both"]
    alike = basis.method in ("optional", "existing")  # all of a category count the same share
    shares: dict[CodeCategory, float] = {}
    for entry in entries:
        if entry.leg != "both":
            share = shares.get(entry.category)
            if share is None or not alike:
                share = shares[entry.category] = _share(basis, entries, lines, entry)
            counted_va = circuit_va(basis, entry) * share
            motor_va = entry.motor_va if entry in motors else 0.0
            rest_va -= counted_va
            loads.append(LineLoad(amperes(counted_va / 1000.0, LEG_VOLTS), entry.leg,
                                  amperes(motor_va / 1000.0, LEG_VOLTS)))
    return line_amperes(amperes(rest_va / 1000.0, LINE_VOLTS), loads)


def _share(
    basis: DemandBasis, entries: Sequence[DemandEntry], lines: Sequence[DemandLine],
    entry: DemandEntry,
) -> float:
    if basis.method == "measured":
        return 1.0 if entry.added else 0.0
    if basis.method == "standard":
        return standard_share(basis, entries, entry)
    connected_va = total_va(line for line in lines if line.role == "connected")
    if basis.method == "existing":
        return existing_share(basis, entries, entry, connected_va)
    return optional_share(basis, entries, entry, connected_va)


def _one_line(both_a: float, loads: list[LineLoad], leg: Leg) -> float:
    here = [load for load in loads if load.leg in (leg, "both")]
    largest_a = max((load.motor_a for load in here), default=0.0)
    return both_a + sum(load.amperes for load in here) + LARGEST_MOTOR_SHARE * largest_a
