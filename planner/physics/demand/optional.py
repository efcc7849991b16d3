"""The optional method for a dwelling: one step for everything, the climate beside it (220.82)."""

from __future__ import annotations

from collections.abc import Sequence

from planner.physics.demand.parts import (
    CLIMATE,
    COVERED,
    general_lines,
    heating_units,
    mean_share,
    nameplate_line,
    of,
    stepped_lines,
    summer_va,
    total_va,
    winter_va,
)
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine
from planner.physics.demand.tables import FIRST_STEP_VA, REST_SHARE, clause

SUPPLEMENTAL_SHARE = 0.65
"""NEC 220.82(C)(3) (2017 to 2023): supplemental electric heat of a heat pump."""

FEW_UNITS_SHARE, MANY_UNITS_SHARE, MANY_UNITS = 0.65, 0.40, 4
"""NEC 220.82(C)(4) and (5) (2017): electric space heating with fewer than four, four or more
separately controlled units. (Annex D has (C)(6) beside the 40 %; it is item (5) of that text.)"""


def optional_lines(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    """List the optional calculation [VA].

    Parameters
    ----------
    basis : DemandBasis
        Edition, area, circuits.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA].

    References
    ----------
    NEC 220.82 (2017 to 2023): 10 kVA in full, 40 % of the rest, the largest of the climate loads;
    NEC 120.82(B) (2026): 8 kVA; 120.82(D) (2026): vehicle supply equipment at 100 % beside the
    steps (of NEC 2026 only secondary summaries were read). Annex D, D2.
    """
    number = clause(basis.edition, "220.82(B)")
    beside = of(entries, "vehicle") if basis.edition == "2026" else []
    connected = [*general_lines(basis, entries),
                 *(nameplate_line(entry, number) for entry in entries
                   if entry.category not in CLIMATE | COVERED and entry not in beside)]
    return (
        *connected,
        *stepped_lines(total_va(connected), FIRST_STEP_VA[basis.edition], REST_SHARE, number),
        *(nameplate_line(entry, "120.82(D)", "demand") for entry in beside),
        *climate_lines(basis, entries),
    )


def climate_lines(basis: DemandBasis, entries: Sequence[DemandEntry]) -> list[DemandLine]:
    """Take the larger of cooling and heating with the shares of 220.82(C) [VA].

    Parameters
    ----------
    basis : DemandBasis
        Its edition.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA]; without heating and cooling there is no line.

    References
    ----------
    NEC 220.82(C)(1) to (5) (2017 to 2023). An air handler is part of the equipment that it blows
    for and counts with it in full, the safe reading of "nameplate rating of the air conditioning".
    """
    summer = summer_va(entries)
    many, share = _heating_share(entries)
    winter = winter_va(entries, SUPPLEMENTAL_SHARE, share)
    if not summer and not winter:
        return []
    item = "(1)" if summer >= winter else "(2), (3)"
    if winter > summer and of(entries, "heating"):
        item = "(5)" if many else "(4)"
    name = "Cooling" if summer >= winter else "Electric heating"
    return [DemandLine(
        f"{name}, the larger of cooling {summer:,.0f} VA and heating {winter:,.0f} VA",
        clause(basis.edition, "220.82(C)") + item, max(summer, winter))]


def optional_share(
    basis: DemandBasis, entries: Sequence[DemandEntry], entry: DemandEntry, connected_va: float
) -> float:
    """Give the share of a nameplate that the optional calculation counts [1].

    Parameters
    ----------
    basis : DemandBasis
        Edition; where it has an area, general loads are in it and count 0 by themselves.
    entries : sequence of DemandEntry, shape (n,)
        All loads [VA].
    entry : DemandEntry
        One of them.
    connected_va : float
        All that is in the steps, not 0 [VA].

    References
    ----------
    As `optional_lines`; within the steps every load counts with their mean share (derived).
    """
    if entry.category in COVERED and basis.area_ft2 is not None:
        return 0.0
    if entry.category == "vehicle" and basis.edition == "2026":
        return 1.0
    if entry.category not in CLIMATE:
        return mean_share(connected_va, FIRST_STEP_VA[basis.edition], REST_SHARE)
    heating = _heating_share(entries)[1]
    shares = {"heat-pump": 1.0, "supplemental-heat": SUPPLEMENTAL_SHARE, "heating": heating,
              "air-handler": 1.0}
    if summer_va(entries) >= winter_va(entries, SUPPLEMENTAL_SHARE, heating):
        shares = {"cooling": 1.0, "heat-pump": 1.0, "air-handler": 1.0}
    return shares.get(entry.category, 0.0)


def _heating_share(entries: Sequence[DemandEntry]) -> tuple[bool, float]:
    many = heating_units(entries) >= MANY_UNITS
    return many, MANY_UNITS_SHARE if many else FEW_UNITS_SHARE
