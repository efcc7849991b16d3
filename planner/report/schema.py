"""Version of the shape of all answers as data."""

from __future__ import annotations

SCHEMA = 2
"""1 had no comforts."""
