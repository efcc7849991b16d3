"""What a measurement of the whole dwelling says of a part of it (220.87)."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from planner.errors import Finding, Severity
from planner.facts.home import Home
from planner.physics.demand.calculate import basis_of, entries_of
from planner.physics.demand.findings import edition_findings, measured_findings
from planner.physics.demand.measured import measured_lines, why_not_measured
from planner.physics.demand.parts import total_va
from planner.physics.demand.sheet import DemandSheet
from planner.physics.demand.tables import clause
from planner.physics.draw import LEG_VOLTS, amperes


def measured_part(
    home: Home, load_ids: Collection[str], calculated: DemandSheet
) -> DemandSheet | None:
    """Bound the load of a part of a dwelling by what was measured of all of it.

    Parameters
    ----------
    home : Home
        With a measurement, or without one.
    load_ids : collection of str
        The part.
    calculated : DemandSheet
        Its calculated load by the lesser permitted method.

    Returns
    -------
    DemandSheet or None
        125 % of the highest demand of the dwelling and every added load of the part [VA]; None
        where no measurement counts.

    Notes
    -----
    No part draws more than the whole: without generation every load takes from the meter. A meter
    tells nothing of single lines, so none of the measured load is spread evenly over them: a line
    carries at most all of it at 120 V, and no more than the calculation from the loads says. The
    neutral is that of the calculation, which asks for the nameplates.

    References
    ----------
    NEC 220.87 (2017 to 2023; 120.87 in 2026), whose words are of added loads on an existing
    service; that it bounds a part, and the amperes of a line, are derived.
    """
    basis = basis_of(home, load_ids)
    measured = basis.measured
    if measured is None or why_not_measured(measured):
        return None
    lines = measured_lines(basis, entries_of(home, load_ids), measured)
    sum_va = total_va(line for line in lines if line.role == "demand")
    whole_a = amperes(sum_va / 1000.0, LEG_VOLTS)
    first_a, second_a = calculated.lines_a
    number = clause(basis.edition, "220.87")
    reading = Finding(
        Severity.WARNING, "code.measured",
        f"{number} speaks of added loads on an existing service; that the measured demand of the "
        "whole dwelling bounds any part of it behind a generator is this planner's reading. It "
        "holds for what was there while it was measured.",
        "Name every later load in code.added, and ask the authority having jurisdiction.")
    return replace(
        calculated, lines=lines, total_va=sum_va, method="measured",
        findings=(*edition_findings(basis), *measured_findings(measured), reading),
        lines_a=(min(first_a, whole_a), min(second_a, whole_a)))
