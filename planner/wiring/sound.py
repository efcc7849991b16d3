"""A home that can be planned: its file says a home, and its wiring does not contradict itself."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from planner.case.home import Home
from planner.case.read import read_home, read_home_text
from planner.errors import CaseError, Finding, Severity
from planner.wiring.checks import check_wiring


def read_sound(path: Path | str) -> tuple[Home, tuple[Finding, ...]]:
    """Read a home that can be planned, with the warnings and notes that stand beside it.

    Raises
    ------
    CaseError
        The file is not a home, or its wiring contradicts itself; carries every finding.
    """
    home, of_file = read_home(path)
    return home, _joined(home, of_file, Path(path).name)


def read_sound_text(text: str, name: str) -> tuple[Home, tuple[Finding, ...]]:
    """Read a home that can be planned from the text of its file; see `read_sound`."""
    home, of_file = read_home_text(text, name)
    return home, _joined(home, of_file, name)


def _joined(home: Home, of_file: tuple[Finding, ...], name: str) -> tuple[Finding, ...]:
    of_wiring = [replace(one, where=f"{name}: {one.where}") for one in check_wiring(home)]
    findings = tuple(sorted([*of_file, *of_wiring],
                            key=lambda one: list(Severity).index(one.severity)))
    errors = sum(one.severity is Severity.ERROR for one in findings)
    if errors:
        count = "1 error" if errors == 1 else f"{errors} errors"
        raise CaseError(f"{name} contradicts itself: {count}.", findings)
    return findings
