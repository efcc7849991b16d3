"""The rule by which design temperatures and design days are chosen from a year of hours.

Design temperatures. `summer_design` is the temperature that 1 % of the hours pass, `winter_design`
that which 1 % stay below: the annual 1 % cooling and 99 % heating dry bulb of ASHRAE Fundamentals,
chapter "Climatic Design Information" (2009 to 2021; from memory), counted in this one year.
They say how the house's equipment was sized.

Design days. An outage is played as a spell of n equal days (`home.spell`), so an extreme is sought
among all n days in a row, not among single days:

- the hottest day: of the n days with the highest mean of the daily highs, since at a day's high an
  air conditioner draws most and an engine gives least. Its high is the highest of the n, its low
  the mean of their lows;
- the coldest day: of the n days with the lowest mean over all hours, since heat is lost day and
  night and a tank gives vapour by the mean. Its low is the lowest of the n, its high the mean of
  their highs;
- the typical mild day: of the mild days the one whose low and high are closest (by the sum of
  squares) to the means of theirs.

So n equal days have the extreme of the real n and are never milder. The very hottest or coldest
hour of the year may fall into another spell; the reader says so.

Seasons. A day belongs to winter if its mean is below 50 degF, to summer above 65 degF, else to the
mild season: the two bases of degree days in ASHRAE Standard 169 (from memory). A day's weight is
the number of days in its season, as if an outage struck any day alike. A season that the year does
not have has no day. Of days that tie the first counts; a day that lacks an hour is not chosen.
"""

from __future__ import annotations

import numpy as np

from planner.arrays import Bools, FloatRows, Floats, Ints
from planner.facts.weather import ChosenDay
from planner.importing.weather.hours import DAYS, LEAP_DAY, date_of

RARE = 0.01
"""Share of the hours beyond a design temperature."""
WINTER_DEGF, SUMMER_DEGF = 50.0, 65.0
"""Mean of a day below and above which it is winter and summer: ASHRAE Standard 169, see above."""


def in_degf(degc: FloatRows) -> FloatRows:
    """Turn temperatures from degC into degF."""
    return degc * 1.8 + 32.0


def design_degf(degf: FloatRows) -> tuple[float, float]:
    """Give the summer and the winter design temperature of a year [degF].

    Parameters
    ----------
    degf : ndarray of float
        Every hour [degF]; nan is left out.

    Returns
    -------
    tuple of float
        The lowest temperature that at most 1 % of the hours pass, and the highest that at most 1 %
        stay below.
    """
    known = np.sort(degf[~np.isnan(degf)])
    beyond = int(RARE * len(known))
    return float(known[-1 - beyond]), float(known[beyond])


def chosen_days(degf: FloatRows, spell: int) -> tuple[ChosenDay, ...]:
    """Choose the design days of a year, by the rule above.

    Parameters
    ----------
    degf : ndarray of float, shape (366, 24)
        By day of a leap year and hour [degF].
    spell : int
        Equal days of an outage.
    """
    whole: Bools = np.isfinite(degf.sum(axis=1))
    kept: Ints = np.flatnonzero(whole | (np.arange(DAYS) != LEAP_DAY)).astype(np.int64)
    low, high, mean = (np.where(whole[kept], of(degf[kept], axis=1), np.nan)
                       for of in (np.min, np.max, np.mean))
    winter, summer = mean < WINTER_DEGF, mean > SUMMER_DEGF
    mild = ~np.isnan(mean) & ~winter & ~summer
    found: list[ChosenDay] = []
    if summer.any():
        days = _worst(high, spell)
        found.append(ChosenDay("hot", "Hottest summer day", "summer", int(summer.sum()),
                               _tenth(low[days].mean()), _tenth(high[days].max()),
                               _dates(kept[days])))
    if winter.any():
        days = _worst(-mean, spell)
        found.append(ChosenDay("cold", "Coldest winter day", "winter", int(winter.sum()),
                               _tenth(low[days].min()), _tenth(high[days].mean()),
                               _dates(kept[days])))
    if mild.any():
        day = _typical(low, high, mild)
        found.append(ChosenDay("between", "Typical mild day", "mild", int(mild.sum()),
                               _tenth(low[day]), _tenth(high[day]), _dates(kept[day:day + 1])))
    return tuple(found)


def _worst(value: Floats, spell: int) -> slice:
    """Find the whole days in a row with the highest mean; fewer where so many are never whole."""
    for length in range(spell, 0, -1):
        mean = np.convolve(value, np.full(length, 1.0 / length), "valid")
        if not np.isnan(mean).all():
            first = int(np.nanargmax(np.round(mean, 9)))
            return slice(first, first + length)
    return slice(0, 1)


def _typical(low: Floats, high: Floats, mild: Bools) -> int:
    off = (low - low[mild].mean()) ** 2 + (high - high[mild].mean()) ** 2
    return int(np.where(mild, off, np.inf).argmin())


def _tenth(value: float) -> float:
    return round(float(value), 1)


def _dates(days: Ints) -> str:
    first, last = date_of(int(days[0])), date_of(int(days[-1]))
    said = f"{first:%b} {first.day}"
    if first == last:
        return said
    month = "" if first.month == last.month else f"{last:%b} "
    return f"{said} to {month}{last.day}"
