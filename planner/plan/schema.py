"""Version of the shape of all answers as data; a plan of any version up to it can be read back."""

from __future__ import annotations

SCHEMA = 3
"""1 had no comforts; until 2 a load that is off had no module, since all were moved."""
