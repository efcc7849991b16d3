"""What owning a plan is counted over: years, and hours without the utility."""

from __future__ import annotations

import math
from dataclasses import dataclass

HOURS_OF_A_YEAR_H = 8784.0  # the longest year


@dataclass(frozen=True, slots=True)
class Basis:
    """How long a plan is owned and how long the utility is away; the defaults have no source.

    Attributes
    ----------
    years : float
        Time that the equipment is owned [years]; 10 is an assumption, no source.
    outage_h_per_year : float
        Expected hours without the utility [h/year]; 24 is an assumption, no source.

    Raises
    ------
    ValueError
        If no time is owned, or a year holds fewer hours than none or more than it has.
    """

    years: float = 10.0
    outage_h_per_year: float = 24.0

    def __post_init__(self) -> None:
        """Refuse what is no length of time."""
        if not 0.0 < self.years < math.inf:
            msg = f"The years owned must be above 0, not {self.years:g}."
            raise ValueError(msg)
        if not 0.0 <= self.outage_h_per_year <= HOURS_OF_A_YEAR_H:
            msg = (f"The outage hours of a year lie between 0 and {HOURS_OF_A_YEAR_H:g}, not at "
                   f"{self.outage_h_per_year:g}.")
            raise ValueError(msg)

    @property
    def outage_h(self) -> float:
        """Hours without the utility over all years [h]."""
        return self.years * self.outage_h_per_year
