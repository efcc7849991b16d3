"""The tree of exceptions and the findings that they carry.

PlannerError
├── CaseError          exit 2   the file is not a home (or not a price book)
├── NoPlanError        exit 1   understood, but impossible: the conflict and the nearest remedy
│   └── NotFoundError  exit 1   none was found, and it is not known whether there is one
├── StoreError         exit 1   jobs cannot be kept or read: the place, the disk, the line
│   └── ChangedElsewhereError   a job was changed by another tab or program since it was read
├── SolverError        exit 3   the solver did not run, or said something that cannot be read
├── VerificationError  exit 4   the replay refuses a plan of our own: our mistake, not the user's
└── LoopsError         exit 4   the compiled loops are missing, or older than their sources
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    """How bad a finding is: an error stops the work, a warning stands beside the answer."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Finding:
    """The result of one check: severity, where, a sentence, the remedy."""

    severity: Severity
    where: str
    sentence: str
    remedy: str = ""

    def __str__(self) -> str:
        tail = f" {self.remedy}" if self.remedy else ""
        return f"{self.severity}: {self.where}: {self.sentence}{tail}"


class PlannerError(Exception):
    """Anything that the planner says to a user instead of a traceback."""

    exit_code = 1

    def __init__(self, message: str, findings: Iterable[Finding] = ()) -> None:
        super().__init__(message)
        self.message = message
        self.findings = tuple(findings)

    def __str__(self) -> str:
        return "\n".join([self.message, *(f"  {finding}" for finding in self.findings)])


class CaseError(PlannerError):
    """A file cannot be read as a home or a price book; carries every finding at once."""

    exit_code = 2


class NoPlanError(PlannerError):
    """The home is understood, but nothing in the price book can serve it."""

    exit_code = 1


class NotFoundError(NoPlanError):
    """No plan was found, but the search did not prove that there is none."""


class SolverError(PlannerError):
    """The solver did not run, or its answer cannot be trusted."""

    exit_code = 3


class VerificationError(PlannerError):
    """The replay refuses a plan that the planner itself made."""

    exit_code = 4


class LoopsError(PlannerError):
    """The compiled loops are missing, or are not those of the files beside them."""

    exit_code = 4


class StoreError(PlannerError):
    """Jobs cannot be kept or read; what was kept before is not lost."""


class ChangedElsewhereError(StoreError):
    """A job was changed by another tab or program since it was read, so a change is refused."""
