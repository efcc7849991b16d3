"""What a standby rating permits on average over a day."""

from __future__ import annotations

PERMITTED_AVERAGE = 0.70
"""ISO 8528-1 (2005), as commonly quoted, from memory: average over 24 h of an emergency standby
power rating, share of it, unless the maker agrees to more."""
