"""An existing dwelling whose demand was measured (220.87)."""

from __future__ import annotations

from collections.abc import Sequence

from planner.physics.demand.parts import nameplate_line
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine, Measurement
from planner.physics.demand.tables import clause

MEASURED_MULTIPLE = 1.25
"""NEC 220.87 (2017 to 2023): what is counted of the measured maximum demand."""


def measured_lines(
    basis: DemandBasis, entries: Sequence[DemandEntry], measured: Measurement
) -> tuple[DemandLine, ...]:
    """List 125 % of the measured maximum demand and every added load at its nameplate [VA].

    Parameters
    ----------
    basis : DemandBasis
        Its edition.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA]; those that are added count.
    measured : Measurement
        Highest average demand [kVA].

    References
    ----------
    NEC 220.87 (2017 to 2023; 120.87 in 2026). Conditions on the data: `measured_findings`.
    """
    number = clause(basis.edition, "220.87")
    peak_va = 1000.0 * measured.peak_kva
    return (
        DemandLine("Measured maximum demand", number, peak_va, "connected"),
        DemandLine("Measured maximum demand at 125 %", number, MEASURED_MULTIPLE * peak_va),
        *(nameplate_line(entry, number, "demand") for entry in entries if entry.added),
    )
