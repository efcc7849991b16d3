"""What is aimed for where nobody says otherwise."""

from __future__ import annotations

USUAL_COVERAGE = 0.97
"""Least coverage of a recommended plan (0-1): nearly everything; common practice, no source."""
