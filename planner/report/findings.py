"""Findings as plain data."""

from __future__ import annotations

from collections.abc import Iterable

from planner.errors import Finding


def finding_data(findings: Iterable[Finding]) -> list[dict[str, object]]:
    """List findings with severity, where, sentence and remedy."""
    return [{"severity": str(one.severity), "where": one.where, "sentence": one.sentence,
             "remedy": one.remedy} for one in findings]
