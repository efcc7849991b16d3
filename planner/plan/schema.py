"""Version of the shape of all answers as data; a plan of any version up to it can be read back."""

from __future__ import annotations

SCHEMA = 2
"""1 had no comforts."""
