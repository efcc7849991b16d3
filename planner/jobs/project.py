"""A project file: a job as one text, with its files, choices, history and quotes inside."""

from __future__ import annotations

import json
from dataclasses import dataclass

from pydantic import TypeAdapter, ValidationError

from planner.case.bounds import LONGEST_TEXT
from planner.case.messages import error, place
from planner.errors import CaseError, Finding
from planner.jobs.content import Content, Job, Quote
from planner.quoting import harmless_json, quoted, shortened

SCHEMA = 1
ENDING = ".project.json"
MOST_CHARACTERS = 20_000_000
"""Far more than a home, a price book and fifty steps back take: 2 MB for the largest home."""
MOST_FINDINGS = 10


@dataclass(frozen=True, slots=True)
class _Project:
    """The shape of a project file."""

    project: int
    label: str
    customer: str
    changed_s: float
    content: Content
    quotes: tuple[Quote, ...] = ()


_SHAPE = TypeAdapter(_Project)


def project_text(job: Job) -> str:
    """Write a job as a project file."""
    whole = _Project(SCHEMA, job.label, job.customer, job.changed_s, job.content, job.quotes)
    return harmless_json(json.dumps(_SHAPE.dump_python(whole, mode="json"), ensure_ascii=False,
                                    indent=1)) + "\n"


def is_project(text: str) -> bool:
    """Whether a text is meant as a project file and not as a home: JSON with that key."""
    head = text.lstrip("\ufeff \t\r\n")[:200]
    return head.startswith("{") and '"project"' in head


def project_of(text: str, name: str) -> Job:
    """Read a project file; it has no id and no revision yet.

    Raises
    ------
    CaseError
        It is none, or of a newer planner; its findings say what is wrong.
    """
    if len(text) > MOST_CHARACTERS:
        raise _refused(name, [error(name, f"{len(text):,} characters, {MOST_CHARACTERS:,} at most.",
                                    "Export the job again.")])
    try:
        data = json.loads(text.lstrip("\ufeff"))
    except (ValueError, RecursionError):
        raise _refused(name, [error(name, "it is cut off, or was changed by hand.",
                                    "Export the job again.")]) from None
    number = data.get("project") if isinstance(data, dict) else None
    if isinstance(number, int) and number > SCHEMA:
        raise _refused(name, [error(name, f"it is of version {number}; this planner knows "
                                    f"{SCHEMA}.", "Install the newer planner.")])
    try:
        found = _SHAPE.validate_python(data)
    except (ValidationError, ValueError) as problem:
        raise _refused(name, _wrong(name, problem)) from None
    return Job("", shortened(found.label, LONGEST_TEXT), shortened(found.customer, LONGEST_TEXT),
               0, found.changed_s, found.content, found.quotes)


def _wrong(name: str, problem: ValueError) -> list[Finding]:
    if not isinstance(problem, ValidationError):
        return [error(name, f"{problem}.", "Export the job again.")]
    return [error(place(name, ".".join(map(str, one["loc"]))),
                  f"{quoted(shortened(str(one['input'])))}: {one['msg']}.", "Export the job again.")
            for one in problem.errors()[:MOST_FINDINGS]]


def _refused(name: str, findings: list[Finding]) -> CaseError:
    return CaseError(f"{name} cannot be read as a project.", findings)
