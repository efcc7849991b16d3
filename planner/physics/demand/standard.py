"""The standard method: every kind of load with its own demand factor (Article 220, Part III)."""

from __future__ import annotations

from collections.abc import Sequence

from planner.facts.home import CodeEdition
from planner.physics.demand.cooking import cooking_demand_va
from planner.physics.demand.parts import (
    CLIMATE,
    COVERED,
    general_demand_lines,
    general_lines,
    nameplate_line,
    of,
    summer_va,
    total_va,
    winter_va,
)
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine
from planner.physics.demand.tables import (
    DRYER_LEAST_VA,
    FIXED_APPLIANCE_COUNT,
    FIXED_APPLIANCE_LEAST_VA,
    FIXED_APPLIANCE_SHARE,
    LARGEST_MOTOR_SHARE,
    VEHICLE_LEAST_VA,
    clause,
    dryer_share,
)


def standard_lines(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    """List the standard calculation [VA].

    Parameters
    ----------
    basis : DemandBasis
        Edition, area, circuits.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA].

    References
    ----------
    NEC Article 220, Part III (2017 to 2023), Article 120 (2026): general load, 220.53 fixed
    appliances, Table 220.54 dryers, Table 220.55 cooking, 220.57 vehicles (2023), 220.51 space
    heating, 220.14(A) the electric part of heating by a fuel (from memory), 220.60 noncoincident
    loads, 220.50 motors. Annex D, D1. NEC 120.57 (2026): vehicles at their nameplate (of that
    edition only secondary summaries were read).
    """
    general = general_lines(basis, entries)
    lines = [*general, *general_demand_lines(basis, total_va(general))]
    lines += _fixed_lines(basis.edition, of(entries, "appliance"))
    lines += _cooking_lines(basis.edition, of(entries, "cooking"))
    lines += _dryer_lines(basis.edition, of(entries, "dryer"))
    lines += _vehicle_lines(basis.edition, of(entries, "vehicle"))
    lines += [nameplate_line(entry, clause(basis.edition, "220.50"), "demand")
              for entry in of(entries, "motor")]
    lines += [nameplate_line(entry, clause(basis.edition, "220.14(A)"), "demand")
              for entry in of(entries, "fuel-heating")]
    lines += _climate_and_motor_lines(basis, entries)
    return tuple(lines)


def fixed_share(
    edition: CodeEdition, entry: DemandEntry, appliances: Sequence[DemandEntry]
) -> float:
    """Give the demand factor of one fixed appliance among others, 0.75 or 1.

    Parameters
    ----------
    edition : CodeEdition
        Of the code.
    entry : DemandEntry
        The appliance [VA].
    appliances : sequence of DemandEntry, shape (n,)
        All that are fastened in place, itself among them [VA].

    References
    ----------
    NEC 220.53 (2017 to 2023); from 2020 on appliances below 500 VA neither count nor are reduced
    (from memory). Cooking, dryers, space-heating and air-conditioning equipment are excluded by
    its text, whatever fuel heats: a furnace and an air handler have categories of their own.
    """
    least_va = FIXED_APPLIANCE_LEAST_VA[edition]
    count = sum(one.units for one in appliances if one.va >= least_va * one.units)
    counts = entry.va >= least_va * entry.units
    return FIXED_APPLIANCE_SHARE if counts and count >= FIXED_APPLIANCE_COUNT else 1.0


def cooking_units_kw(entries: Sequence[DemandEntry]) -> list[float]:
    """Spread cooking entries into single units [kW].

    Parameters
    ----------
    entries : sequence of DemandEntry, shape (n,)
        Cooking appliances, each with all its units [VA].

    References
    ----------
    NEC Table 220.55 (2017 to 2023) counts kVA as kW.
    """
    return [entry.va / entry.units / 1000.0 for entry in entries for _ in range(entry.units)]


def dryer_demand_va(dryers: Sequence[DemandEntry]) -> float:
    """Give the demand of clothes dryers, each at 5000 VA or its nameplate [VA].

    Parameters
    ----------
    dryers : sequence of DemandEntry, shape (n,)
        Each with all its units [VA]; none of them: 0.

    References
    ----------
    NEC 220.54 and its table (2017 to 2023).
    """
    count = sum(entry.units for entry in dryers)
    if not count:
        return 0.0
    each_va = sum(max(DRYER_LEAST_VA * entry.units, entry.va) for entry in dryers)
    return each_va * dryer_share(count)


def _fixed_lines(edition: CodeEdition, appliances: Sequence[DemandEntry]) -> list[DemandLine]:
    if not appliances:
        return []
    number = clause(edition, "220.53")
    shares = [fixed_share(edition, entry, appliances) for entry in appliances]
    reduced = [e for e, share in zip(appliances, shares, strict=True) if share < 1.0]
    full = [e for e, share in zip(appliances, shares, strict=True) if share == 1.0]
    lines = [nameplate_line(entry, number) for entry in appliances]
    if reduced:
        count = sum(entry.units for entry in reduced)
        lines.append(DemandLine(f"{count} fixed appliances at 75 %", number,
                                FIXED_APPLIANCE_SHARE * total_va(reduced)))
    if full:
        lines.append(DemandLine("Fixed appliances at 100 %", number, total_va(full)))
    return lines


def _cooking_lines(edition: CodeEdition, cooking: Sequence[DemandEntry]) -> list[DemandLine]:
    if not cooking:
        return []
    number = clause(edition, "Table 220.55")
    return [*(nameplate_line(entry, number) for entry in cooking),
            DemandLine("Cooking, maximum demand", number,
                       cooking_demand_va(cooking_units_kw(cooking)))]


def _dryer_lines(edition: CodeEdition, dryers: Sequence[DemandEntry]) -> list[DemandLine]:
    if not dryers:
        return []
    number = clause(edition, "220.54")
    return [*(nameplate_line(entry, number) for entry in dryers),
            DemandLine("Dryers, each 5000 VA or nameplate", number, dryer_demand_va(dryers))]


def vehicle_va(edition: CodeEdition, entry: DemandEntry) -> float:
    """Give the demand of vehicle supply equipment [VA].

    Parameters
    ----------
    edition : CodeEdition
        Of the code.
    entry : DemandEntry
        With all its units [VA].

    References
    ----------
    NEC 220.57 (2023): 7200 VA or the nameplate; 2017 and 2020 know no least value, 2026 neither.
    """
    if edition != "2023":
        return entry.va
    return max(VEHICLE_LEAST_VA * entry.units, entry.va)


def _vehicle_lines(edition: CodeEdition, vehicles: Sequence[DemandEntry]) -> list[DemandLine]:
    if edition in ("2017", "2020"):  # before 220.57: a load like any other, at its nameplate
        return [nameplate_line(entry, "220.14(A)", "demand") for entry in vehicles]
    number = clause(edition, "220.57")
    if edition == "2026":  # 120.57: the nameplate, without a least value
        return [nameplate_line(entry, number, "demand") for entry in vehicles]
    return [DemandLine(f"{entry.name}, 7200 VA or nameplate", number, vehicle_va(edition, entry))
            for entry in vehicles]


def _climate_and_motor_lines(
    basis: DemandBasis, entries: Sequence[DemandEntry]
) -> list[DemandLine]:
    """Take the season with the larger load, its largest motor counted at 125 %."""
    summer, winter = summer_va(entries), winter_va(entries, 1.0, 1.0)
    lines = []
    if summer or winter:
        cools = _cools(basis, entries)
        name = "Cooling" if cools else "Electric heating"
        lines.append(DemandLine(
            f"{name}, the larger of cooling {summer:,.0f} VA and heating {winter:,.0f} VA",
            clause(basis.edition, "220.51, 220.60"), summer if cools else winter))
    largest = largest_motor_va(motors_that_count(basis, entries))
    if largest:
        lines.append(DemandLine(f"25 % of the largest motor, {largest:,.0f} VA",
                                clause(basis.edition, "220.50"), LARGEST_MOTOR_SHARE * largest))
    return lines


def _cools(basis: DemandBasis, entries: Sequence[DemandEntry]) -> bool:
    """Whether cooling, with its largest motor, is more than heating."""
    cooling, heating = (LARGEST_MOTOR_SHARE * largest_motor_va(_motors(basis, entries, cools))
                        for cools in (True, False))
    return summer_va(entries) + cooling >= winter_va(entries, 1.0, 1.0) + heating


def motors_that_count(basis: DemandBasis, entries: Sequence[DemandEntry]) -> list[DemandEntry]:
    """Pick the entries among which the largest motor is looked for.

    Parameters
    ----------
    basis : DemandBasis
        Its edition.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA].

    References
    ----------
    NEC 220.50, 430.24 (2017 to 2023). From 2020 on the largest motor counts even if it belongs to
    the season that does not count (220.60, from memory).
    """
    return _motors(basis, entries, _cools(basis, entries))


def _motors(
    basis: DemandBasis, entries: Sequence[DemandEntry], cools: bool
) -> list[DemandEntry]:
    summer = cools or basis.edition != "2017"
    return of(entries, "appliance", "motor", "fuel-heating", "air-handler", "heat-pump",
              *(("cooling",) if summer else ()))


def largest_motor_va(entries: Sequence[DemandEntry]) -> float:
    """Give the largest motor of some entries [VA]; 0 if there is none.

    Parameters
    ----------
    entries : sequence of DemandEntry, shape (n,)
        Each with the motor part of one unit [VA].

    References
    ----------
    NEC 220.50, 430.24 (2017 to 2023).
    """
    return max((entry.motor_va for entry in entries), default=0.0)


def standard_share(
    basis: DemandBasis, entries: Sequence[DemandEntry], entry: DemandEntry
) -> float:
    """Give the share of a nameplate that the standard calculation counts, without the 25 % [1].

    Parameters
    ----------
    basis : DemandBasis
        Edition; where it has an area, general loads are in it and count 0 by themselves.
    entries : sequence of DemandEntry, shape (n,)
        All loads [VA].
    entry : DemandEntry
        One of them, not of 0 VA.

    References
    ----------
    As `standard_lines`; of what several loads share, each has its part by nameplate (derived).
    """
    if entry.category in COVERED:
        general_va = total_va(general_lines(basis, entries))
        return 0.0 if basis.area_ft2 is not None else (
            total_va(general_demand_lines(basis, general_va)) / general_va)
    if entry.category in CLIMATE:
        cools = _cools(basis, entries)
        both = entry.category in ("heat-pump", "air-handler")
        return float(both or (entry.category == "cooling") == cools)
    alike = of(entries, entry.category)
    if entry.category == "appliance":
        return fixed_share(basis.edition, entry, alike)
    demand_va = total_va(alike)
    if entry.category == "cooking":
        demand_va = cooking_demand_va(cooking_units_kw(alike))
    if entry.category == "dryer":
        demand_va = dryer_demand_va(alike)
    if entry.category == "vehicle":
        alike = [entry]
        demand_va = total_va(_vehicle_lines(basis.edition, alike))
    return demand_va / total_va(alike)
