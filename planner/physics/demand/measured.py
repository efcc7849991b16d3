"""An existing dwelling whose demand was measured (220.87)."""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt

from planner.physics.demand.parts import nameplate_line, of, summer_va, total_va, winter_va
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine, Measurement
from planner.physics.demand.tables import clause

MEASURED_MULTIPLE = 1.25
"""NEC 220.87 (2017 to 2023): what is counted of the measured maximum demand."""

QUARTER_MIN = 15.0
"""NEC 220.87, exception (2017 to 2023): the demand is an average over 15 minutes [min]."""

LONGEST_USEFUL_MIN = 60.0
"""Averages over longer intervals say nothing of a quarter of an hour (common practice, no source:
the adjustment below was looked at up to an hour) [min]."""

ONE_YEAR_DAYS, LEAST_DAYS = 360.0, 30.0
"""NEC 220.87 (2017 to 2023): a year of data, taken as twelve billing periods of thirty days (common
practice, no source); its exception: 30 days [d]."""


def quarter_hour_factor(interval_min: float) -> float:
    """Give what the highest average over an interval is multiplied by to stand for 15 minutes.

    Parameters
    ----------
    interval_min : float
        Above 0 [min]; up to 15 the factor is 1.

    Notes
    -----
    √(interval / 15 min): 1.41 for half an hour, 2 for an hour. The factor itself has no source.
    Averages of independent pieces spread around their mean by the square root of how many there
    are; here the whole average is multiplied, not only its spread, which is the safe side. The
    bound that nothing can pass is interval / 15 min: all of an hour within one quarter. On two
    meters of half hours the highest half hour of a year is 1.06 and 1.31 times the highest hour
    (`tests.importing`).

    References
    ----------
    Derived; no source for the factor itself.
    """
    return sqrt(max(1.0, interval_min / QUARTER_MIN))


def quarter_hour_kva(measured: Measurement) -> float:
    """Give the measured maximum demand as an average over 15 minutes [kVA].

    Parameters
    ----------
    measured : Measurement
        Highest average over its interval [kVA].

    References
    ----------
    `quarter_hour_factor`: derived.
    """
    return measured.peak_kva * quarter_hour_factor(measured.interval_min)


def is_a_year(measured: Measurement) -> bool:
    """Whether a measurement covers a year [d].

    Parameters
    ----------
    measured : Measurement
        With its days.

    References
    ----------
    NEC 220.87(1) (2017 to 2023).
    """
    return measured.days >= ONE_YEAR_DAYS


def why_not_measured(measured: Measurement | None) -> str:
    """Say why a measurement may not count for what a generator always carries; empty if it may.

    Parameters
    ----------
    measured : Measurement or None
        Of the whole dwelling.

    Notes
    -----
    Generation behind the meter hides demand from it. The code forbids it in the exception only;
    here it never counts, which is the safe side.

    References
    ----------
    NEC 220.87 and its exception (2017 to 2023).
    """
    if measured is None:
        return "no demand was measured"
    if measured.with_generation:
        return "generation behind the meter, or peak-load shaving, hides demand from it"
    if measured.days < LEAST_DAYS:
        return f"{measured.days:g} days are measured, and {LEAST_DAYS:g} are the least"
    if measured.interval_min > LONGEST_USEFUL_MIN:
        return (f"averages over {measured.interval_min:g} min say nothing of the highest average "
                f"over {QUARTER_MIN:g} min")
    if not is_a_year(measured) and measured.interval_min > QUARTER_MIN:
        return (f"{measured.days:g} days are less than a year, and then averages over "
                f"{QUARTER_MIN:g} min are asked for, not over {measured.interval_min:g} min")
    return ""


def measured_lines(
    basis: DemandBasis, entries: Sequence[DemandEntry], measured: Measurement
) -> tuple[DemandLine, ...]:
    """List 125 % of the measured maximum demand and every added load at its nameplate [VA].

    Parameters
    ----------
    basis : DemandBasis
        Its edition.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA]; those that are added count. Of less than a year the larger of heating and
        cooling counts besides, since the season may not be in the data.
    measured : Measurement
        Highest average demand [kVA]; the kW of a meter are taken as kVA.

    References
    ----------
    NEC 220.87 and its exception (2017 to 2023; 120.87 in 2026). Conditions: `measured_findings`.
    """
    number = clause(basis.edition, "220.87")
    peak_va = 1000.0 * quarter_hour_kva(measured)
    factor = quarter_hour_factor(measured.interval_min)
    over = "Measured maximum demand"
    if factor > 1.0:
        over = (f"{over}, {1000.0 * measured.peak_kva:,.0f} VA over {measured.interval_min:g} min "
                f"taken × {factor:.2f} for 15 min")
    season_va = 0.0 if is_a_year(measured) else _season_va(entries)
    season = [DemandLine("Larger of heating and cooling, by calculation", number, season_va)]
    return (
        DemandLine(over, number, peak_va, "connected"),
        DemandLine("Measured maximum demand at 125 %", number, MEASURED_MULTIPLE * peak_va),
        *(season if season_va else []),
        *(nameplate_line(entry, number, "demand") for entry in entries if entry.added),
    )


def _season_va(entries: Sequence[DemandEntry]) -> float:
    """The larger season of what is not new [VA]; heating by a fuel counts with heating."""
    there = [entry for entry in entries if not entry.added]
    return max(summer_va(there), winter_va(there, 1.0, 1.0) + total_va(of(there, "fuel-heating")))
