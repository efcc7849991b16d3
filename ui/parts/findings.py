"""Findings beside what they concern: severity in a word and a shape, what to do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from textwrap import shorten
from types import MappingProxyType

import streamlit as st

from planner.errors import Finding, PlannerError, Severity
from ui.parts.said import plain

MOST_OF_A_REMEDY = 240
MARKS = {Severity.ERROR: "✖ error", Severity.WARNING: "▲ warning", Severity.NOTE: "● note"}


def show_findings(findings: Iterable[Finding], *, places: bool = True) -> None:
    """Write findings, each with its place unless it stands beside it."""
    for one in findings:
        place = f"{plain(_place(one))}: " if places else ""
        text = f"**{MARKS[one.severity]}** {place}{plain(f'{one.sentence} {_short(one.remedy)}')}"
        match one.severity:
            case Severity.ERROR:
                st.error(text)
            case Severity.WARNING:
                st.warning(text)
            case _:
                st.info(text)


def show_problem(problem: PlannerError) -> None:
    """Write why there is no answer, and everything that was found."""
    st.error(f"**✖** {plain(problem.message)}")
    show_findings(problem.findings)


def called(
    findings: Iterable[Finding], loads: Mapping[str, str],
    comforts: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Finding, ...]:
    """Let findings speak of loads and comforts by their labels instead of their ids."""
    known = {f"load {one}": label for one, label in loads.items()}
    known |= {f"comfort {one}": label for one, label in comforts.items()}
    return tuple(replace(one, where=": ".join(
        known.get(part, part) for part in one.where.split(": "))) for one in findings)


def about(findings: Iterable[Finding], *words: str) -> tuple[Finding, ...]:
    """Keep the findings whose place begins with these words, after the name of the file."""
    return tuple(one for one in findings
                 if tuple(one.where.split(": ")[1:])[: len(words)] == words)


def _short(remedy: str) -> str:
    """A remedy that lists very much, cut after a word: the page offers the choice itself."""
    return shorten(remedy, MOST_OF_A_REMEDY, placeholder=" and more.")


def _place(finding: Finding) -> str:
    """The place without the name of the file, which the page stands for."""
    head, _, rest = finding.where.partition(": ")
    return rest or head
