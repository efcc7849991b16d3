"""Entry to the calculated load: from plain numbers, or from a home and some of its loads."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from planner.errors import Finding
from planner.facts.home import CodeCategory, CodeMethod, Home, Load
from planner.physics.demand.area import area_beyond_ft2
from planner.physics.demand.existing import existing_lines
from planner.physics.demand.findings import (
    MEASURED_MISSING,
    MEASURED_PART,
    area_findings,
    circuit_findings,
    edition_findings,
    existing_findings,
    measured_findings,
    optional_findings,
    service_findings,
    uneven_findings,
)
from planner.physics.demand.lines import sheet_amperes
from planner.physics.demand.measured import measured_lines
from planner.physics.demand.neutral import neutral_lines
from planner.physics.demand.optional import optional_lines
from planner.physics.demand.parts import CLIMATE, total_va
from planner.physics.demand.sheet import (
    DemandBasis,
    DemandEntry,
    DemandLine,
    DemandSheet,
    Measurement,
)
from planner.physics.demand.standard import standard_lines

_DRIVEN: frozenset[CodeCategory] = frozenset({"appliance", "air-handler", "fuel-heating"})
_MOTORS: frozenset[CodeCategory] = frozenset({"cooling", "heat-pump", "motor"})


def calculated_load(
    home: Home, load_ids: Collection[str] | None = None, *, whole_area: bool = True,
    method: CodeMethod | None = None,
) -> DemandSheet:
    """Calculate the load of a home, or of some of its loads, by its method and edition.

    Parameters
    ----------
    home : Home
        Validated home; its code names edition and method.
    load_ids : collection of str, optional
        The loads that count; if not given, all of them and the sheet is about the entire dwelling.
        Loads that are named are a part of it, even if they happen to be all: what a plan always
        connects must pass the calculation by itself.
    whole_area : bool
        Whether the general load of the whole floor area and the small-appliance and laundry
        circuits are connected; if not (selected circuits), the general, small-appliance and
        laundry loads count by themselves.
    method : CodeMethod, optional
        Instead of the home's own.

    Returns
    -------
    DemandSheet
        Every line, the total [VA] and what to know about it.

    Raises
    ------
    KeyError
        If a load id is not of this home.

    References
    ----------
    NEC Article 220 (2017 to 2023), Article 120 (2026); the clause stands beside every line.
    """
    basis = basis_of(home, load_ids, whole_area=whole_area, method=method)
    return dwelling_load(basis, entries_of(home, load_ids))


def basis_of(
    home: Home, load_ids: Collection[str] | None = None, *, whole_area: bool = True,
    method: CodeMethod | None = None,
) -> DemandBasis:
    """Give what the load of a home is calculated by, beside its loads.

    Parameters
    ----------
    home, load_ids, whole_area, method
        As for `calculated_load`.

    References
    ----------
    As `calculated_load`.
    """
    code = home.code
    measured = None
    if code.measured_peak_kva is not None:
        measured = Measurement(code.measured_peak_kva, code.measured_days or 0.0,
                               code.measured_interval_min or 60.0, code.measured_with_generation)
    added = frozenset(code.added)
    return DemandBasis(
        edition=code.edition,
        method=method or code.method,
        area_ft2=home.floor_area_ft2 if whole_area else None,
        small_appliance_circuits=code.small_appliance_circuits,
        laundry_circuits=code.laundry_circuits,
        service_a=home.service_a,
        climate_added=any(
            load.code.category in CLIMATE for load in home.loads if load.id in added),
        measured=measured,
        entire=whole_area and load_ids is None,
        beyond_ft2=area_beyond_ft2(home),
    )


def entries_of(home: Home, load_ids: Collection[str] | None = None) -> list[DemandEntry]:
    """Give the loads of a home, or some of them, as the calculation sees them, in their order.

    Parameters
    ----------
    home, load_ids
        As for `calculated_load`.

    References
    ----------
    As `calculated_load`.
    """
    added = frozenset(home.code.added)
    return [_entry(load, load.id in added) for load in _picked(home, load_ids)]


def dwelling_load(basis: DemandBasis, entries: Sequence[DemandEntry]) -> DemandSheet:
    """Calculate a load from plain numbers.

    Parameters
    ----------
    basis : DemandBasis
        Edition, method, floor area, circuits, measurement.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA]; general, small-appliance and laundry loads are covered by the area and the
        circuits where the basis has an area.

    Returns
    -------
    DemandSheet
        A method that does not apply (measured demand of a part, or without a measurement) is
        replaced by the optional method, and a finding says so.

    References
    ----------
    NEC Article 220 (2017 to 2023), Article 120 (2026): standard method in Part III, optional
    220.82, existing 220.83, measured 220.87.
    """
    basis, replaced = _applicable(basis)
    lines, findings = _lines(basis, entries)
    neutral = neutral_lines(basis, entries)
    sheet = DemandSheet(
        lines=lines,
        total_va=total_va(line for line in lines if line.role == "demand"),
        neutral_lines=neutral,
        neutral_va=total_va(neutral),
        findings=(*replaced, *edition_findings(basis), *area_findings(basis),
                  *circuit_findings(basis), *findings),
        edition=basis.edition,
        method=basis.method,
        entire=basis.entire,
        lines_a=sheet_amperes(basis, entries, lines),
    )
    return replace(sheet, findings=(*sheet.findings, *uneven_findings(sheet),
                                    *service_findings(sheet, basis.service_a)))


def _applicable(basis: DemandBasis) -> tuple[DemandBasis, tuple[Finding, ...]]:
    if basis.method != "measured" or (basis.entire and basis.measured is not None):
        return basis, ()
    reason = MEASURED_PART if not basis.entire else MEASURED_MISSING
    return replace(basis, method="optional"), (reason,)


def _lines(
    basis: DemandBasis, entries: Sequence[DemandEntry]
) -> tuple[tuple[DemandLine, ...], tuple[Finding, ...]]:
    if basis.method == "standard":
        return standard_lines(basis, entries), ()
    if basis.method == "existing":
        return existing_lines(basis, entries), existing_findings(basis, entries)
    if basis.method == "measured" and basis.measured is not None:
        return measured_lines(basis, entries, basis.measured), measured_findings(basis.measured)
    return optional_lines(basis, entries), optional_findings(basis, entries)


def _picked(home: Home, load_ids: Collection[str] | None) -> list[Load]:
    if load_ids is None:
        return list(home.loads)
    wanted = frozenset(load_ids)
    loads = [load for load in home.loads if load.id in wanted]
    if len(loads) < len(wanted):
        unknown = sorted(wanted - {load.id for load in loads})
        msg = f"{home.id} has no load {', '.join(unknown)}"
        raise KeyError(msg)
    return loads


def _entry(load: Load, added: bool) -> DemandEntry:
    code = load.code
    neutral_va = code.neutral_va
    if neutral_va is None and load.leg != "both":
        neutral_va = code.va
    motor = code.category in _MOTORS or (code.category in _DRIVEN and load.is_motor)
    return DemandEntry(
        name=load.label,
        category=code.category,
        va=code.va,
        units=code.units,
        with_supplemental=code.with_supplemental,
        neutral_va=neutral_va,
        motor_va=code.va / code.units if motor else 0.0,
        added=added,
        leg=load.leg,
    )
