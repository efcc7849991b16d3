"""Read a home and join the findings of its file with those of its wiring."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from planner.case.home import Home
from planner.case.read import read_home
from planner.errors import CaseError, Finding, Severity
from planner.report.words import count
from planner.wiring import check_wiring


def read(home_file: str) -> tuple[Home, tuple[Finding, ...]]:
    """Read a home that can be planned, with the warnings and notes that stand beside it.

    Raises
    ------
    CaseError
        The file is not a home, or its wiring contradicts itself; carries every finding.
    """
    path = Path(home_file)
    home, of_file = read_home(path)
    of_wiring = [replace(one, where=f"{path.name}: {one.where}") for one in check_wiring(home)]
    findings = tuple(sorted([*of_file, *of_wiring],
                            key=lambda one: list(Severity).index(one.severity)))
    errors = sum(one.severity is Severity.ERROR for one in findings)
    if errors:
        message = f"{path.name} contradicts itself: {count(errors, 'error')}."
        raise CaseError(message, findings)
    return home, findings
