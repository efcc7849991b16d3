"""The calculated load of the direct loads in a linear form that is never above the true sheet.

The code's own steps are not all linear: the first kVA of the general load count in full and the
rest in part (concave), the largest of heating and cooling counts (convex), four appliances earn a
factor. The form below keeps what is linear, and takes the lower of two values where it is not, so a
bound that stands on it is valid; the sheet itself decides afterwards (`planner.plan.code`). Where
two methods are permitted the lesser counts, so a set of loads is out only where both forms are
above the rating; a form that is below both serves where one is needed. Where a measured demand
bounds what counts (220.87), that form is shrunk until it never passes the bound.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Floats
from planner.facts.home import CodeEntry, Home
from planner.physics.demand import area_beyond_ft2, why_not_measured, why_not_optional
from planner.physics.demand.calculate import basis_of
from planner.physics.demand.measured import MEASURED_MULTIPLE, quarter_hour_kva

LAUNDRY_VA = SMALL_APPLIANCE_VA = 1500.0  # NEC 220.52(A) and (B), 2005-2023
COVERED = ("general", "small-appliance", "laundry")


@dataclass(frozen=True)
class DemandForm:
    """demand ≥ constant_va + Σ general_va·direct + max over groups of Σ group_va·direct.

    Attributes
    ----------
    constant_va : float
        What counts whatever is connected [VA].
    general_va : ndarray of float, shape (n,)
        What each direct load adds [VA].
    groups : tuple of ndarray of float, shape (n,) each
        Alternatives of which the largest counts: cooling, heating, a heat pump with its
        back-up heat [VA].
    """

    constant_va: float
    general_va: Floats
    groups: tuple[Floats, ...]

    def lower_va(self, direct: Floats) -> float:
        """Value of the form for a 0/1 vector of direct loads, shape (n,) [VA]."""
        most = max((float(group @ direct) for group in self.groups), default=0.0)
        return self.constant_va + float(self.general_va @ direct) + max(0.0, most)

    def within(self, bound_va: float) -> DemandForm:
        """Shrink the form until it passes a bound for no set of loads: the chord of the lesser."""
        share = min(1.0, bound_va / max(self.lower_va(np.ones(len(self.general_va))), 1.0))
        return DemandForm(share * self.constant_va, share * self.general_va,
                          tuple(share * group for group in self.groups))


def demand_forms(home: Home, whole_house: bool) -> tuple[DemandForm, ...]:
    """Build the linear form of each method that is permitted for what is always connected.

    Parameters
    ----------
    home : Home
        Its `code` names the edition.
    whole_house : bool
        Whether the feeder serves the whole dwelling, floor area and all; a part of it goes by
        Part III alone.
    """
    entries = [load.code for load in home.loads]
    standard = _standard(home, entries, whole_house)
    if why_not_optional(home.code.edition, home.service_a, entire=whole_house):
        return (standard,)
    return standard, _optional(home, entries)


def demand_form(home: Home, whole_house: bool) -> DemandForm:
    """Build one linear form that is above none of `demand_forms`.

    Parameters
    ----------
    home, whole_house
        As there.
    """
    forms = demand_forms(home, whole_house)
    least = DemandForm(
        min(form.constant_va for form in forms),
        np.min([form.general_va for form in forms], axis=0),
        tuple(np.min(alike, axis=0)
              for alike in zip(*(form.groups for form in forms), strict=True)))
    measured = basis_of(home).measured
    if measured is None or why_not_measured(measured):
        return least
    return least.within(1000.0 * MEASURED_MULTIPLE * quarter_hour_kva(measured))


def _per_ft2(home: Home) -> float:
    return 2.0 if home.code.edition == "2026" else 3.0


def _area_va(home: Home) -> float:
    return (home.floor_area_ft2 + area_beyond_ft2(home)) * _per_ft2(home)


def _circuits_va(home: Home) -> float:
    return (SMALL_APPLIANCE_VA * max(2, home.code.small_appliance_circuits)
            + LAUNDRY_VA * max(1, home.code.laundry_circuits))


def _own_va(entry: CodeEntry) -> float:
    """VA counted with the general load by nameplate."""
    climate = ("cooling", "heat-pump", "supplemental-heat", "heating", "air-handler")
    return 0.0 if entry.category in (*climate, *COVERED) else entry.va


def _optional(home: Home, entries: list[CodeEntry]) -> DemandForm:
    """NEC 220.82 (first 10 kVA); 2026: first 8 kVA."""
    first_va = 8000.0 if home.code.edition == "2026" else 10000.0
    own = np.array([_own_va(entry) for entry in entries])
    fixed = _area_va(home) + _circuits_va(home)
    constant, slope = _tier_chord(first_va, fixed, fixed + float(own.sum()))
    units = sum(entry.units for entry in entries if entry.category == "heating")
    heat_share = 0.40 if units >= 4 else 0.65
    cooling = _share(entries, {"cooling": 1.0, "air-handler": 1.0})
    heating = _share(entries, {"heating": heat_share, "air-handler": 1.0})
    pump = _share(entries, {"heat-pump": 1.0, "supplemental-heat": 0.65, "air-handler": 1.0})
    if any(not entry.with_supplemental for entry in entries if entry.category == "heat-pump"):
        pump = _share(entries, {"supplemental-heat": 0.65, "air-handler": 1.0})
    return DemandForm(constant, slope * own, (cooling, heating, pump))


def _share(entries: list[CodeEntry], shares: dict[str, float]) -> Floats:
    return np.array([shares.get(entry.category, 0.0) * entry.va for entry in entries])


def _tier_chord(first_va: float, low_va: float, high_va: float) -> tuple[float, float]:
    """Constant and slope of the line under "first VA in full, the rest at 40 %" on [low, high].

    Exact where the fixed part already fills the first tier; else the chord of the concave curve,
    which lies below it.
    """
    def tiered(va: float) -> float:
        return min(va, first_va) + 0.4 * max(0.0, va - first_va)

    if low_va >= first_va or high_va <= low_va:
        return tiered(low_va), 0.4 if low_va >= first_va else 0.0
    slope = (tiered(high_va) - tiered(low_va)) / (high_va - low_va)
    return tiered(low_va), slope


def _standard(home: Home, entries: list[CodeEntry], whole_house: bool) -> DemandForm:
    """NEC 220 Part III, every factor at its lowest: appliances at 75 %, heat against cooling."""
    general = _area_va(home) + _circuits_va(home) if whole_house else 0.0
    constant = min(general, 3000.0) + 0.35 * max(0.0, min(general, 120000.0) - 3000.0)
    own = np.zeros(len(entries))
    cooking = [i for i, entry in enumerate(entries) if entry.category == "cooking"]
    dryers = sum(entry.units for entry in entries if entry.category == "dryer")
    for i, entry in enumerate(entries):
        if entry.category in ("appliance", "motor"):
            own[i] = 0.75 * entry.va
        elif entry.category == "fuel-heating":
            own[i] = entry.va
        elif entry.category == "dryer" and dryers <= 4:
            own[i] = max(5000.0 * entry.units, entry.va)
        elif entry.category == "vehicle":
            own[i] = entry.va
        elif entry.category in COVERED and not whole_house:
            own[i] = 0.25 * entry.va
    if len(cooking) == 1 and entries[cooking[0]].units == 1:
        own[cooking[0]] = min(8000.0, 0.55 * entries[cooking[0]].va)
    heating = _share(entries, {"heating": 1.0, "supplemental-heat": 1.0, "air-handler": 1.0})
    cooling = _share(entries, {"cooling": 1.0, "air-handler": 1.0})
    return DemandForm(constant, own, (cooling, heating, heating))
