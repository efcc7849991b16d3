"""What a year of hourly weather says of a place."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class ChosenDay:
    """A design day that was chosen from a year.

    Attributes
    ----------
    id, label : str
        As of a design day.
    season : str
        Which of the year's days it stands for.
    days : int
        How many these are: its weight [d].
    low_degf, high_degf : float
        Its lowest and its highest temperature [degF].
    dates : str
        Where it comes from: ``Jan 28 to 30``.
    """

    id: str
    label: str
    season: Literal["summer", "winter", "mild"]
    days: int
    low_degf: float
    high_degf: float
    dates: str


@dataclass(frozen=True, slots=True)
class Weather:
    """What a weather file says.

    Attributes
    ----------
    file : str
        Its name.
    place : str
        What it calls the place.
    latitude_deg, longitude_deg : float or None
        Degrees north and east [deg]; None if the file does not say.
    altitude_ft : float or None
        Above sea level [ft]; None if the file does not say.
    hours : int
        Hours with a temperature.
    summer_degf, winter_degf : float
        Design temperatures: 1 % of the hours are warmer, 1 % are colder [degF].
    highest_degf, lowest_degf : float
        Of all hours [degF].
    many_years_degf : tuple of float or None
        Design temperatures of many years, summer (1 %) and winter (99 %), that stand in its header
        [degF]; None where they are not there or cannot be told.
    days : tuple of ChosenDay
        Those that a home takes from it.
    """

    file: str
    place: str
    latitude_deg: float | None
    longitude_deg: float | None
    altitude_ft: float | None
    hours: int
    summer_degf: float
    winter_degf: float
    highest_degf: float
    lowest_degf: float
    many_years_degf: tuple[float, float] | None
    days: tuple[ChosenDay, ...]

    def dates_of(self, day_id: str) -> str:
        """Give the dates of a day that was taken from the file; empty for any other day."""
        return next((one.dates for one in self.days if one.id == day_id), "")
