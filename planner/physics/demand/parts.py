"""Parts that several methods share: the general load, its steps, the seasons."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from planner.facts.home import CodeCategory
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine, Role
from planner.physics.demand.tables import (
    CIRCUIT_VA,
    LEAST_LAUNDRY_CIRCUITS,
    LEAST_SMALL_APPLIANCE_CIRCUITS,
    LIGHTING_CLAUSE,
    LIGHTING_STEPS,
    LIGHTING_TABLE,
    LIGHTING_VA_PER_FT2,
    clause,
)

COVERED: frozenset[CodeCategory] = frozenset({"general", "small-appliance", "laundry"})
CLIMATE: frozenset[CodeCategory] = frozenset(
    {"cooling", "heat-pump", "supplemental-heat", "heating", "air-handler"})
"""What electric heating and cooling are counted from. Heating by a fuel is not among it: of that
NEC 220.82(C) and 220.83(B) (2017 to 2023) say nothing, and its blower and burner are appliances."""


def of(entries: Iterable[DemandEntry], *categories: CodeCategory) -> list[DemandEntry]:
    """Pick the entries of some categories, in order.

    Parameters
    ----------
    entries : iterable of DemandEntry
        Any.
    *categories : CodeCategory
        Those that are wanted.
    """
    return [entry for entry in entries if entry.category in categories]


def total_va(parts: Iterable[DemandEntry | DemandLine]) -> float:
    """Add up entries or lines [VA]: a sum, by definition.

    Parameters
    ----------
    parts : iterable of DemandEntry or DemandLine
        Each with its VA; none of them: 0.
    """
    return sum(part.va for part in parts)


def nameplate_line(entry: DemandEntry, number: str, role: Role = "connected") -> DemandLine:
    """Show one load at its nameplate [VA].

    Parameters
    ----------
    entry : DemandEntry
        The load.
    number : str
        Clause that counts it.
    role : {"connected", "demand"}
        Whether a later line is worked out from it, or it adds to the total.
    """
    text = entry.name if entry.units == 1 else f"{entry.name} ({entry.units} units)"
    return DemandLine(f"{text}, nameplate", number, entry.va, role)


def general_lines(basis: DemandBasis, entries: Sequence[DemandEntry]) -> list[DemandLine]:
    """List general lighting, small-appliance and laundry load as connected load [VA].

    By area and by number of circuits; what is lit beyond the floor area counts as if it were part
    of it, which is on the safe side for a yard or an outbuilding (derived). For selected circuits
    by the loads themselves, small-appliance and laundry circuits at 1500 VA or more each.

    Parameters
    ----------
    basis : DemandBasis
        Edition, area [ft²], circuits: two and one at least.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA]; read only where the basis has no area.

    References
    ----------
    NEC 220.12 (2017), 220.14(J) (2020), 220.41 (2023), 120.41 (2026); 220.52(A) and (B) (2017 to
    2023).
    """
    if basis.area_ft2 is None:
        return [_circuit_line(basis, entry) for entry in entries if entry.category in COVERED]
    per_ft2 = LIGHTING_VA_PER_FT2[basis.edition]
    kitchen = max(LEAST_SMALL_APPLIANCE_CIRCUITS, basis.small_appliance_circuits)
    laundry = max(LEAST_LAUNDRY_CIRCUITS, basis.laundry_circuits)
    beyond = [DemandLine(
        f"Lighting beyond the floor area, {basis.beyond_ft2:,.0f} ft² at {per_ft2:g} VA/ft²",
        LIGHTING_CLAUSE[basis.edition], basis.beyond_ft2 * per_ft2, "connected")
    ] if basis.beyond_ft2 else []
    return [
        DemandLine(f"General lighting, {basis.area_ft2:,.0f} ft² at {per_ft2:g} VA/ft²",
                   LIGHTING_CLAUSE[basis.edition], basis.area_ft2 * per_ft2, "connected"),
        *beyond,
        DemandLine(f"Small-appliance circuits, {kitchen} at 1500 VA",
                   clause(basis.edition, "220.52(A)"), kitchen * CIRCUIT_VA, "connected"),
        DemandLine(f"Laundry circuits, {laundry} at 1500 VA",
                   clause(basis.edition, "220.52(B)"), laundry * CIRCUIT_VA, "connected"),
    ]


def circuit_va(basis: DemandBasis, entry: DemandEntry) -> float:
    """Give what a load counts where circuits count one by one [VA].

    Parameters
    ----------
    basis : DemandBasis
        Without an area, circuits count one by one.
    entry : DemandEntry
        The load.

    Returns
    -------
    float
        At least 1500 VA for a small-appliance or laundry circuit, else what the load has.

    References
    ----------
    NEC 220.52(A), (B) (2017 to 2023).
    """
    by_circuit = basis.area_ft2 is None and entry.category in ("small-appliance", "laundry")
    return max(CIRCUIT_VA, entry.va) if by_circuit else entry.va


def _circuit_line(basis: DemandBasis, entry: DemandEntry) -> DemandLine:
    if entry.category == "general":
        return nameplate_line(entry, LIGHTING_CLAUSE[basis.edition])
    number = "220.52(A)" if entry.category == "small-appliance" else "220.52(B)"
    return DemandLine(f"{entry.name}, 1500 VA or more", clause(basis.edition, number),
                      circuit_va(basis, entry), "connected")


def general_demand_lines(basis: DemandBasis, connected_va: float) -> list[DemandLine]:
    """Apply the demand factors of general lighting to a connected load [VA].

    Parameters
    ----------
    basis : DemandBasis
        Its edition.
    connected_va : float
        Lighting, small-appliance and laundry circuits together, not negative [VA].

    References
    ----------
    NEC Table 220.42 (2017, 2020), Table 220.45 (2023).
    """
    lines, below_va = [], 0.0
    for upper_va, share in LIGHTING_STEPS:
        part_va = min(connected_va, upper_va) - below_va
        if part_va <= 0.0:
            break
        lines.append(DemandLine(f"General load, {part_va:,.0f} VA at {100.0 * share:g} %",
                                LIGHTING_TABLE[basis.edition], part_va * share))
        below_va = upper_va
    return lines


def stepped_lines(
    connected_va: float, first_va: float, rest_share: float, number: str
) -> list[DemandLine]:
    """Count the first VA in full and a share of the rest [VA].

    Parameters
    ----------
    connected_va, first_va : float
        Connected load; how much of it counts in full [VA].
    rest_share : float
        What counts of the rest, 0 to 1.
    number : str
        Clause that says so.

    References
    ----------
    NEC 220.82(B), 220.83 (2017 to 2023).
    """
    lines = [DemandLine(f"First {first_va / 1000.0:g} kVA at 100 %", number,
                        min(connected_va, first_va))]
    if connected_va > first_va:
        rest_va = connected_va - first_va
        lines.append(DemandLine(f"Remaining {rest_va:,.0f} VA at {100.0 * rest_share:g} %", number,
                                rest_va * rest_share))
    return lines


def mean_share(connected_va: float, first_va: float, rest_share: float) -> float:
    """Give the share that the steps count of a connected load as a whole, 0 to 1.

    Parameters
    ----------
    connected_va, first_va, rest_share : float
        As in `stepped_lines`; the connected load is above 0 [VA].

    References
    ----------
    NEC 220.82(B), 220.83 (2017 to 2023).
    """
    return total_va(stepped_lines(connected_va, first_va, rest_share, "")) / connected_va


def winter_va(
    entries: Sequence[DemandEntry], supplemental_share: float, heating_share: float
) -> float:
    """Add up what heats at one time [VA]: heat pumps with their supplemental heat, other heat.

    Air handlers blow in both seasons and count in full. A compressor that cannot run with the
    supplemental heat counts instead of it where it is larger. A heat pump and separate electric
    heat add, since nothing keeps them apart.

    Parameters
    ----------
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA].
    supplemental_share, heating_share : float
        What counts of supplemental and of other electric heat, 0 to 1.

    References
    ----------
    NEC 220.82(C)(2) to (5), 220.60 (2017 to 2023); Annex D, D2(c).
    """
    pumps = of(entries, "heat-pump")
    together = total_va(pump for pump in pumps if pump.with_supplemental)
    locked = total_va(pump for pump in pumps if not pump.with_supplemental)
    supplemental = supplemental_share * total_va(of(entries, "supplemental-heat"))
    return (together + max(locked, supplemental) + total_va(of(entries, "air-handler"))
            + heating_share * total_va(of(entries, "heating")))


def summer_va(entries: Sequence[DemandEntry]) -> float:
    """Add up what cools at one time [VA]: air conditioners, heat pumps and air handlers.

    Parameters
    ----------
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA].

    References
    ----------
    NEC 220.82(C)(1) and (2), 220.60 (2017 to 2023).
    """
    return total_va(of(entries, "cooling", "heat-pump", "air-handler"))


def heating_units(entries: Sequence[DemandEntry]) -> int:
    """Count separately controlled units of electric space heating [1].

    Parameters
    ----------
    entries : sequence of DemandEntry, shape (n,)
        The loads, with their units.

    References
    ----------
    NEC 220.82(C)(4) and (5) (2017 to 2023).
    """
    return sum(entry.units for entry in of(entries, "heating"))
