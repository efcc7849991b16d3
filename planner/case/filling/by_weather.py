"""What an air conditioner or a heat pump draws on each design day: capacity over efficiency.

The nameplate stays where it belongs: the calculated load, conductors, what switches the unit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.library import Kind
from planner.facts.home import DesignDay, Use
from planner.physics.heat_pump import cooling_kw, eer_at_95, heating_kw

PLATE_OVER_DRAW = 1.375
"""A nameplate is 30 to 45 % above what a unit draws at 95 degF (from memory): the middle."""
PLATE_SPREAD = 0.15  # of the draw that a nameplate tells; common practice, no source
GIVEN_SPREAD = 0.05  # of a draw by an efficiency that is given; common practice, no source


@dataclass(frozen=True, slots=True)
class Weather:
    """The design days, and the summer design temperature where none of them is hot [degF]."""

    days: tuple[DesignDay, ...]
    summer_degf: float


@dataclass(frozen=True, slots=True)
class DayDraws:
    """Draw on each day of use [kW], the largest of them, and capacity [ton]."""

    largest_kw: float
    by_day: Mapping[str, float]
    tons: float


def draws_by_weather(
    entry: LoadEntry, kind: Kind, tons: float, uses: Mapping[str, Use], weather: Weather,
    ledger: Ledger, plate_kw: float | None,
) -> DayDraws:
    """Find what a unit draws on every day on which it is used.

    Cooling counts at the day's high, heating at the worst of its temperatures below the balance.

    Parameters
    ----------
    entry, kind
        The load and its kind.
    tons : float
        Rated capacity [ton].
    uses : mapping
        Its use by day, season or ``every``.
    weather : Weather
        Of the home.
    ledger : Ledger
        Takes the assumption.
    plate_kw : float or None
        What the nameplate lets it draw at most, if the file has one [kW].
    """
    low, eer, high = eer_at_95(entry.year, kind.since)
    spread = (high - low) / (high + low)
    age = f"made in {entry.year}" if entry.year is not None else f"any age since {kind.since}"
    if entry.eer is not None:
        eer, spread, age = entry.eer, GIVEN_SPREAD, "given"
        if entry.year is not None:
            ledger.doubt("year", "it is not read: eer is given and says more.",
                         "Leave one of the two out.")
    by_day = dict(_days(kind, tons, eer, uses, weather))
    top = max(by_day, key=lambda day: by_day[day], default="")
    largest_kw = by_day[top] if top else cooling_kw(tons, eer, weather.summer_degf)
    source = (f"capacity / EER at the day's temperature, EER {eer:.3g} at 95 degF ({age}); "
              "see heat pumps in the physics, from memory")
    if plate_kw is not None and largest_kw > plate_kw:
        by_day = {day: min(kw, plate_kw) for day, kw in by_day.items()}
        largest_kw, source = plate_kw, "the nameplate, which capacity / EER would pass"
    ledger.assume("running", f"{largest_kw:.3g} kW", source, spread)
    return DayDraws(largest_kw, by_day, tons)


def _days(
    kind: Kind, tons: float, eer: float, uses: Mapping[str, Use], weather: Weather
) -> Iterator[tuple[str, float]]:
    for day in weather.days:
        use = next((uses[key] for key in (day.id, day.season, "every") if key in uses), None)
        if use is None or use.kind == "never":
            continue
        heats = use.kind == "heating" or (use.kind != "cooling" and day.season == "winter"
                                          and kind.category == "heat-pump")
        if not heats:
            yield day.id, cooling_kw(tons, eer, day.high_degf)
            continue
        warmest_degf = min(day.high_degf, use.balance_degf)
        if day.low_degf <= warmest_degf:
            yield day.id, max(heating_kw(tons, degf, inverter=kind.inverter)
                              for degf in (day.low_degf, warmest_degf))
