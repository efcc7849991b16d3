"""What gasoline holds."""

from __future__ import annotations

GASOLINE_BTU_PER_GAL = 120214.0
"""Higher heating value of finished motor gasoline with some 10 % ethanol [Btu/gal]: US Energy
Information Administration, "Units and calculators explained" (from memory)."""
