"""A calculated load as plain data."""

from __future__ import annotations

from planner.physics.demand import DemandLine, DemandSheet
from planner.report.findings import finding_data


def demand_data(sheet: DemandSheet) -> dict[str, object]:
    """Give every line of the sum, the totals [VA, A], the amperes of each line and the findings."""
    return {
        "edition": sheet.edition,
        "method": sheet.method,
        "lines": [_line(line) for line in sheet.lines],
        "total_va": sheet.total_va,
        "amperes": sheet.amperes_a,
        "line_amperes": {"L1": sheet.lines_a[0], "L2": sheet.lines_a[1]},
        "minimum_service_a": sheet.minimum_service_a,
        "neutral_lines": [_line(line) for line in sheet.neutral_lines],
        "neutral_va": sheet.neutral_va,
        "neutral_a": sheet.neutral_a,
        "findings": finding_data(sheet.findings),
    }


def _line(line: DemandLine) -> dict[str, object]:
    return {"text": line.text, "clause": line.clause, "va": line.va, "role": line.role}
