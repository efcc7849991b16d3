"""Time limits of a contender."""

from __future__ import annotations

import time
from dataclasses import dataclass


@dataclass
class Clock:
    """Time that is left in all, and per solve [s]."""

    total_s: float
    solve_s: float
    begun: float = 0.0

    def start(self):
        """Begin to count."""
        self.begun = time.perf_counter()

    def left_s(self):
        """Seconds that the next solve may take; 0 or less when time is up."""
        return min(self.solve_s, self.total_s - (time.perf_counter() - self.begun))
