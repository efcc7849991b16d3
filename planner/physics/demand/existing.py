"""An existing dwelling to which loads are added (220.83; one method for all in 120.83 of 2026)."""

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
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine, Role
from planner.physics.demand.tables import EXISTING_FIRST_STEP_VA, REST_SHARE, clause

MANY_UNITS = 4
"""NEC 220.83(B) (2017 to 2023): fewer separately controlled heating units count at 100 % (from
memory)."""

ADDED_SHARE_2026 = {"vehicle": 0.80, "heating": 0.80, "supplemental-heat": 0.80}
ADDED_SHARE_OTHERS_2026 = 0.50
"""Proposal for NEC Table 120.83 (2026), as NREL ResStock tests it (`tests/test_nec_revision.py`);
the table as adopted was not seen."""


def existing_lines(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    """List the calculation of an existing dwelling [VA].

    Parameters
    ----------
    basis : DemandBasis
        Edition, area, circuits; whether heating or cooling is new.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA]; which of them are added.

    References
    ----------
    NEC 220.83(A) (2017 to 2023), no new heating or cooling: the larger of them inside the steps of
    8 kVA and 40 %, which the text leaves open and NREL ResStock does likewise
    (`postprocess_panel_existing_load_nec_v2.py`); 220.83(B), new heating or cooling: the larger at
    100 % beside the steps. In 2026 the larger of these and the proposal for Table 120.83.
    """
    lines = _beside(basis, entries) if basis.climate_added else _inside(basis, entries)
    if basis.edition != "2026":
        return lines
    proposed = _proposed(basis, entries)
    return max(lines, proposed, key=_demand_va)


def _demand_va(lines: Sequence[DemandLine]) -> float:
    return total_va(line for line in lines if line.role == "demand")


def _plain(basis: DemandBasis, entries: Sequence[DemandEntry], number: str) -> list[DemandLine]:
    return [*general_lines(basis, entries),
            *(nameplate_line(entry, number) for entry in entries
              if entry.category not in CLIMATE | COVERED)]


def _inside(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    number = clause(basis.edition, "220.83(A)")
    connected = _plain(basis, entries, number)
    summer, winter = summer_va(entries), winter_va(entries, 1.0, 1.0)
    if summer or winter:
        connected.append(_larger(summer, winter, number, "connected"))
    steps = stepped_lines(total_va(connected), EXISTING_FIRST_STEP_VA, REST_SHARE, number)
    return (*connected, *steps)


def _beside(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    number = clause(basis.edition, "220.83(B)")
    connected = _plain(basis, entries, number)
    beside = list(entries)
    if heating_units(entries) >= MANY_UNITS:
        connected += [nameplate_line(entry, number) for entry in of(entries, "heating")]
        beside = [entry for entry in entries if entry.category != "heating"]
    summer, winter = summer_va(beside), winter_va(beside, 1.0, 1.0)
    steps = stepped_lines(total_va(connected), EXISTING_FIRST_STEP_VA, REST_SHARE, number)
    climate = [_larger(summer, winter, number, "demand")] if summer or winter else []
    return (*connected, *steps, *climate)


def _proposed(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    number = "Table 120.83 (proposal)"
    kept = [entry for entry in entries if not entry.added or entry.category in COVERED]
    added = [entry for entry in entries if entry.added and entry.category not in COVERED]
    connected = _plain(basis, kept, number)
    summer, winter = summer_va(kept), winter_va(kept, 1.0, 1.0)
    if summer or winter:
        connected.append(_larger(summer, winter, number, "connected"))
    lines = [*connected,
             *stepped_lines(total_va(connected), EXISTING_FIRST_STEP_VA, REST_SHARE, number)]
    for entry in added:
        share = ADDED_SHARE_2026.get(entry.category, ADDED_SHARE_OTHERS_2026)
        text = f"{entry.name}, added, at {100.0 * share:g} %"
        lines.append(DemandLine(text, number, share * entry.va))
    return tuple(lines)


def _larger(summer: float, winter: float, number: str, role: Role) -> DemandLine:
    name = "Cooling" if summer >= winter else "Electric heating"
    return DemandLine(
        f"{name}, the larger of cooling {summer:,.0f} VA and heating {winter:,.0f} VA",
        number, max(summer, winter), role)


def existing_share(
    basis: DemandBasis, entries: Sequence[DemandEntry], entry: DemandEntry, connected_va: float
) -> float:
    """Give the share of a nameplate that the calculation of an existing dwelling counts [1].

    Parameters
    ----------
    basis : DemandBasis
        Where it has an area, general loads are in it and count 0 by themselves.
    entries : sequence of DemandEntry, shape (n,)
        All loads [VA].
    entry : DemandEntry
        One of them.
    connected_va : float
        All that is in the steps [VA]; 0 only where nothing but new climate loads is connected.

    References
    ----------
    As `existing_lines` up to 2023, whatever the edition; within the steps every load counts with
    their mean share (derived).
    """
    if entry.category in COVERED and basis.area_ft2 is not None:
        return 0.0
    apart = basis.climate_added and heating_units(entries) >= MANY_UNITS
    if entry.category not in CLIMATE or (apart and entry.category == "heating"):
        return mean_share(connected_va, EXISTING_FIRST_STEP_VA, REST_SHARE)
    beside = [one for one in entries if one.category != "heating"] if apart else entries
    cools = summer_va(beside) >= winter_va(beside, 1.0, 1.0)
    both = entry.category in ("heat-pump", "air-handler")
    if not both and (entry.category == "cooling") != cools:
        return 0.0
    if basis.climate_added:
        return 1.0
    return mean_share(connected_va, EXISTING_FIRST_STEP_VA, REST_SHARE)
