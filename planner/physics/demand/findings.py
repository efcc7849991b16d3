"""What the reader of a calculated load must know: parts of the code that are open or unmet."""

from __future__ import annotations

from collections.abc import Sequence

from planner.errors import Finding, Severity
from planner.physics.demand.measured import (
    LEAST_DAYS,
    LONGEST_USEFUL_MIN,
    QUARTER_MIN,
    is_a_year,
    quarter_hour_factor,
)
from planner.physics.demand.parts import CLIMATE, of
from planner.physics.demand.sheet import (
    DemandBasis,
    DemandEntry,
    DemandSheet,
    Measurement,
    least_rating_a,
)
from planner.physics.demand.tables import (
    LEAST_LAUNDRY_CIRCUITS,
    LEAST_SMALL_APPLIANCE_CIRCUITS,
    LIGHTING_CLAUSE,
    OPTIONAL_LEAST_A,
    clause,
)

EDITION_2026 = Finding(
    Severity.WARNING, "code.edition",
    "Article 120 of the 2026 edition is known here only in part (2 VA/ft², first 8 kVA in "
    "120.82(B), vehicle supply equipment at 100 %); every other factor is that of 2023.",
    "Check the sheet with the adopted book.")

EXISTING_2026 = Finding(
    Severity.WARNING, "code.method",
    "The factors for added loads of Table 120.83 (80 % for vehicles and resistance heat, 50 % for "
    "others) are those of the proposal; the sheet takes the larger of these and the method of "
    "220.83 up to 2023.",
    "Check the sheet with the adopted book.")

EXISTING_CLIMATE = Finding(
    Severity.WARNING, "code.method",
    "220.83(A) does not say where existing heating and cooling go; the larger of them is counted "
    "inside the 8 kVA and 40 % steps.",
    "Ask the authority having jurisdiction.")

SMALL_SERVICE = Finding(
    Severity.WARNING, "code.method",
    "The optional method applies to a service or feeder of 100 A or more (220.82(A)); this one is "
    "smaller.",
    "Use method = \"standard\".")

TWO_HEATINGS = Finding(
    Severity.NOTE, "code.method",
    "A heat pump and separate electric heating are both counted in winter, since both may run; "
    "220.82(C) may be read as taking the larger.",
    "Ask the authority having jurisdiction if this decides the size.")

MEASURED_PART = Finding(
    Severity.NOTE, "code.method",
    "Measured demand speaks of the entire dwelling (220.87); these loads are a part of it and are "
    "calculated by the optional method.")

MEASURED_MISSING = Finding(
    Severity.ERROR, "code.measured.peak",
    "The measured method needs a measured peak, and there is none; the sheet is by the optional "
    "method.",
    "Give code.measured.peak, or use another method.")


def area_findings(basis: DemandBasis) -> tuple[Finding, ...]:
    """Say where more is lit than the floor of the dwelling.

    Parameters
    ----------
    basis : DemandBasis
        Floor area and what is lit beyond it [ft²].

    References
    ----------
    NEC 220.12 (2017), 220.14(J) (2020), 220.41 (2023): the floor area of the dwelling by its
    outside dimensions, without open porches, garages and unused space not adaptable for use.
    """
    if basis.area_ft2 is None or not basis.beyond_ft2:
        return ()
    return (Finding(
        Severity.NOTE, "home.floor_area",
        f"Lighting is given for {basis.beyond_ft2:,.0f} ft² more than the floor area of "
        f"{basis.area_ft2:,.0f} ft². A yard or an outbuilding is no part of that area "
        f"({LIGHTING_CLAUSE[basis.edition]}); its lighting is counted at the rate of a dwelling, "
        "on the safe side.",
        "If it lights the house itself, mend floor_area or the sizes."),)


def circuit_findings(basis: DemandBasis) -> tuple[Finding, ...]:
    """Say where the sheet counts more circuits than the home has, as the code asks.

    Parameters
    ----------
    basis : DemandBasis
        Circuits as the home gives them, the floor area and the edition.

    References
    ----------
    NEC 210.11(C)(1) and (2), 220.52(A) and (B) (2017 to 2023).
    """
    if basis.area_ft2 is None:
        return ()
    return tuple(Finding(
        Severity.NOTE, f"code.{name}_circuits",
        f"{given} given, {least} counted: a dwelling has at least {least} "
        f"({clause(basis.edition, number)}).")
        for name, number, given, least in (
            ("small_appliance", "220.52(A)", basis.small_appliance_circuits,
             LEAST_SMALL_APPLIANCE_CIRCUITS),
            ("laundry", "220.52(B)", basis.laundry_circuits, LEAST_LAUNDRY_CIRCUITS))
        if given < least)


def edition_findings(basis: DemandBasis) -> tuple[Finding, ...]:
    """Say what is not known of the edition.

    Parameters
    ----------
    basis : DemandBasis
        Its edition; of the NEC of 2026 only parts were seen.
    """
    return (EDITION_2026,) if basis.edition == "2026" else ()


def optional_findings(
    basis: DemandBasis, entries: Sequence[DemandEntry]
) -> tuple[Finding, ...]:
    """Say what is open in the optional method.

    Parameters
    ----------
    basis : DemandBasis
        Its service [A].
    entries : sequence of DemandEntry, shape (n,)
        The loads.

    References
    ----------
    NEC 220.82(A) and (C) (2017 to 2023).
    """
    found = []
    if basis.service_a is not None and basis.service_a < OPTIONAL_LEAST_A:
        found.append(SMALL_SERVICE)
    if of(entries, "heating") and of(entries, "heat-pump", "supplemental-heat"):
        found.append(TWO_HEATINGS)
    return tuple(found)


def existing_findings(
    basis: DemandBasis, entries: Sequence[DemandEntry]
) -> tuple[Finding, ...]:
    """Say what is open in the method for existing dwellings.

    Parameters
    ----------
    basis : DemandBasis
        Its edition; whether heating or cooling is new.
    entries : sequence of DemandEntry, shape (n,)
        The loads.

    References
    ----------
    NEC 220.83 (2017 to 2023); 120.83 (2026).
    """
    if basis.edition == "2026":
        return (EXISTING_2026,)
    if not basis.climate_added and any(entry.category in CLIMATE for entry in entries):
        return (EXISTING_CLIMATE,)
    return ()


def measured_findings(measured: Measurement) -> tuple[Finding, ...]:
    """Say where a measurement does not meet the conditions of the code.

    Parameters
    ----------
    measured : Measurement
        Days, interval [min], and whether there was generation.

    References
    ----------
    NEC 220.87 and its exception (2017 to 2023).
    """
    found = []
    year = is_a_year(measured)
    if measured.days < LEAST_DAYS:
        found.append(Finding(
            Severity.ERROR, "code.measured.days",
            f"Measured over {measured.days:g} days; 220.87 asks for a year, its exception for at "
            "least 30 days.",
            "Measure longer, or use another method."))
    elif not year:
        found.append(Finding(
            Severity.WARNING, "code.measured.days",
            f"Measured over {measured.days:g} days: the exception of 220.87 asks that the dwelling "
            "was occupied and that the larger of heating or cooling and what runs now and then is "
            "included, measured or calculated; heating or cooling is added by calculation.",
            "Confirm both, or measure a year."))
    if measured.with_generation:
        found.append(Finding(
            Severity.WARNING if year else Severity.ERROR, "code.measured.with_generation",
            "Generation or peak-load shaving hides demand from the meter; the exception of 220.87 "
            "is not allowed with it.",
            "Use another method, or data of the load itself."))
    if measured.interval_min > QUARTER_MIN:
        useful = year and measured.interval_min <= LONGEST_USEFUL_MIN
        factor = quarter_hour_factor(measured.interval_min)
        found.append(Finding(
            Severity.WARNING if useful else Severity.ERROR, "code.measured.interval",
            f"Averages over {measured.interval_min:g} min understate the highest 15-min demand; "
            f"they count {factor:.2f} times, a rule of this planner (derived).",
            "Get 15-min data."))
    return tuple(found)


def uneven_findings(sheet: DemandSheet) -> tuple[Finding, ...]:
    """Say where the heavier line needs a larger standard rating than the load at 240 V.

    Parameters
    ----------
    sheet : DemandSheet
        With the amperes of both lines [A].

    References
    ----------
    NEC Annex D, D1(b) (2005): the heavier line decides; 240.6(A).
    """
    balanced_a = least_rating_a(sheet.amperes_a, sheet.entire)
    least_a = sheet.minimum_service_a
    if least_a == balanced_a:
        return ()
    heavy, light = ("L1", "L2") if sheet.lines_a[0] > sheet.lines_a[1] else ("L2", "L1")
    asked = "no standard rating carries that" if least_a is None else f"that asks for {least_a} A"
    return (Finding(
        Severity.WARNING, "loads",
        f"The 120 V loads are uneven: {heavy} carries {max(sheet.lines_a):.1f} A and {light} "
        f"{min(sheet.lines_a):.1f} A; {asked}, where {balanced_a} A carries them evenly spread "
        f"(NEC Annex D, D1(b)).",
        f"Move 120 V loads from {heavy} to {light}"
        + ("." if least_a is None else f", or take {least_a} A.")),)


def service_findings(sheet: DemandSheet, service_a: float | None) -> tuple[Finding, ...]:
    """Say where the whole dwelling asks for more than its service.

    Parameters
    ----------
    sheet : DemandSheet
        With the amperes of both lines [A].
    service_a : float or None
        Rating of the service [A], if it is known.

    References
    ----------
    NEC 230.79 (2017 to 2023), from memory: a service is rated for the calculated load.
    """
    if not sheet.entire or service_a is None or sheet.heavier_line_a <= service_a:
        return ()
    return (Finding(
        Severity.WARNING, "home.service",
        f"The calculated load of {sheet.heavier_line_a:.1f} A is more than the service of "
        f"{service_a:g} A carries (NEC 230.79).",
        "Check floor area, nameplates and the service, or take a method that the code allows "
        "beside this one."),)
