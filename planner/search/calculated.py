"""The calculated load of whatever a node can still become, in rows that are never above the sheet.

Given what is always connected and what may be, the code's steps become lines from the one to the
other: a concave step lies above its chord, the largest of the seasons is at least each of them, a
factor that more appliances would earn is taken as earned. So far as none is open the rows are the
sheet itself. Of the methods that are permitted one suffices.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import Home
from planner.physics.demand import why_not_measured, why_not_optional
from planner.physics.demand.calculate import basis_of, entries_of
from planner.physics.demand.cooking import cooking_demand_va
from planner.physics.demand.measured import MEASURED_MULTIPLE, is_a_year, quarter_hour_kva
from planner.physics.demand.optional import (
    FEW_UNITS_SHARE,
    MANY_UNITS,
    MANY_UNITS_SHARE,
    SUPPLEMENTAL_SHARE,
)
from planner.physics.demand.parts import (
    CLIMATE,
    COVERED,
    circuit_va,
    general_demand_lines,
    general_lines,
    stepped_lines,
    total_va,
)
from planner.physics.demand.sheet import DemandEntry
from planner.physics.demand.standard import cooking_units_kw, dryer_demand_va, vehicle_va
from planner.physics.demand.tables import (
    FIRST_STEP_VA,
    FIXED_APPLIANCE_COUNT,
    FIXED_APPLIANCE_LEAST_VA,
    FIXED_APPLIANCE_SHARE,
    LARGEST_MOTOR_SHARE,
    REST_SHARE,
)

DRYERS_IN_FULL = 4
"""NEC 220.54 (2017 to 2023): so many dryers count in full."""


@dataclass(frozen=True)
class Rows:
    """Rows of one method: what is always connected counts, and what each other load adds [VA].

    Attributes
    ----------
    constant_va : ndarray of float, shape (rows,)
    added_va : ndarray of float, shape (rows, n)
        Of each load that may be always connected; 0 for all others.
    """

    constant_va: Floats
    added_va: Floats


class Calculated:
    """The calculated load of a home behind one kind of transfer equipment, by each method.

    Parameters
    ----------
    home : Home
    whole_house : bool
        Whether the feeder serves the whole dwelling, floor area and all.
    """

    def __init__(self, home: Home, *, whole_house: bool) -> None:
        self.known: dict[bytes, list[Rows]] = {}
        self.basis = basis_of(home, whole_area=whole_house)
        self.entries = entries_of(home)
        self.optional = not why_not_optional(home.code.edition, home.service_a, entire=whole_house)
        self.area_va = total_va(general_lines(self.basis, ())) if whole_house else 0.0
        entries = self.entries
        self.covered = np.array([
            circuit_va(self.basis, one) if one.category in COVERED and not whole_house else 0.0
            for one in entries])
        self.fixed = self._where("appliance")
        self.units = np.array([one.units for one in entries])
        least_va = FIXED_APPLIANCE_LEAST_VA[self.basis.edition]
        self.reduced: Bools = (self.fixed > 0.0) & np.array(
            [one.va >= least_va * one.units for one in entries])
        self.alone = self._alone()
        self.motor = np.array([one.motor_va for one in entries])
        self.standard_seasons = self._seasons(1.0, 1.0)
        self.optional_seasons = self._seasons(SUPPLEMENTAL_SHARE, self._heating_share())
        self.own = np.array([one.va if one.category not in CLIMATE | COVERED else 0.0
                             for one in entries])
        self.beside = np.zeros(len(entries))
        if self.basis.edition == "2026":
            self.beside = self._where("vehicle")
            self.own -= self.beside
        measured = self.basis.measured
        counts = measured is not None and not why_not_measured(measured)
        self.peak_va = (1000.0 * MEASURED_MULTIPLE * quarter_hour_kva(measured)
                        if measured is not None and counts else 0.0)
        self.added = np.array([one.va if one.added else 0.0 for one in entries])
        self.measured_seasons = np.zeros((1, len(entries)))
        if measured is not None and not is_a_year(measured):
            self.measured_seasons = np.where(self.added > 0.0, 0.0, self.standard_seasons)
            self.measured_seasons[1:] += np.where(
                self.added > 0.0, 0.0, self._where("fuel-heating"))

    def methods(self, firm: Bools, may: Bools, *, entire: bool) -> list[Rows]:
        """Rows of each method that may be permitted.

        Parameters
        ----------
        firm, may : ndarray of bool, shape (n,)
            Always connected; those that may still be, and no others.
        entire : bool
            Whether the whole dwelling may still be behind the generator.
        """
        key = firm.tobytes() + may.tobytes()
        found = self.known.get(key)
        if found is None:
            found = self.known[key] = [
                self._standard(firm, may),
                *([self._optional(firm, may)] if self.optional else []),
                *([self._measured(firm, may)] if self.peak_va else [])]
        by_part = self.optional and not entire  # then all but the optional method
        return [found[0], *found[2:]] if by_part else found

    def _where(self, *categories: str) -> Floats:
        return np.array([one.va if one.category in categories else 0.0 for one in self.entries])

    def _alone(self) -> Floats:
        """What each load adds by Part III whatever else is connected, besides the above [VA]."""
        entries = self.entries
        cooking = [one for one in entries if one.category == "cooking"]
        dryers = sum(one.units for one in entries if one.category == "dryer")
        single = sum(one.units for one in cooking) == 1

        def va(one: DemandEntry) -> float:
            if one.category in ("motor", "fuel-heating"):
                return one.va
            if one.category == "vehicle":
                return vehicle_va(self.basis.edition, one)
            if one.category == "dryer" and dryers <= DRYERS_IN_FULL:
                return dryer_demand_va([one])
            if one.category == "cooking" and single:
                return cooking_demand_va(cooking_units_kw([one]))
            return 0.0

        return np.array([va(one) for one in entries])

    def _seasons(self, supplemental_share: float, heating_share: float) -> Floats:
        """Summer; winter with supplemental heat, and with pumps that exclude it; shape (3, n)."""
        shares = ({"cooling": 1.0, "heat-pump": 1.0, "air-handler": 1.0},
                  {"heat-pump": 1.0, "air-handler": 1.0, "heating": heating_share,
                   "supplemental-heat": supplemental_share},
                  {"heat-pump": 1.0, "air-handler": 1.0, "heating": heating_share})
        rows = np.array([[share.get(one.category, 0.0) * one.va for one in self.entries]
                         for share in shares])
        rows[1, [one.category == "heat-pump" and not one.with_supplemental
                 for one in self.entries]] = 0.0
        return rows

    def _heating_share(self) -> float:
        units = sum(one.units for one in self.entries if one.category == "heating")
        return MANY_UNITS_SHARE if units >= MANY_UNITS else FEW_UNITS_SHARE

    def _standard(self, firm: Bools, may: Bools) -> Rows:
        constant, added = self._chord(
            lambda va: total_va(general_demand_lines(self.basis, va)), self.area_va, self.covered,
            firm, may)
        share = self._fixed_shares(firm, may)
        each = self.alone + share * self.fixed
        constant += float(each[firm].sum())
        rows = self.standard_seasons
        seasons = rows[:, firm].sum(axis=1) + LARGEST_MOTOR_SHARE * np.array(
            [self._largest_motor(firm, cools) for cools in (True, False, False)])
        return Rows(constant + seasons, np.where(may, added + each + rows, 0.0))

    def _fixed_shares(self, firm: Bools, may: Bools) -> Floats:
        """The least share of each fixed appliance, however many of those that may be are."""
        counts = int(self.units[self.reduced & (firm | may)].sum()) >= FIXED_APPLIANCE_COUNT
        return np.where(self.reduced & counts, FIXED_APPLIANCE_SHARE, 1.0)

    def _largest_motor(self, firm: Bools, cools: bool) -> float:
        """Of motors that are always connected and count in a season, whatever else is."""
        cools = cools or self.basis.edition != "2017"
        count = [one.category in ("appliance", "motor", "fuel-heating", "air-handler", "heat-pump")
                 or (cools and one.category == "cooling") for one in self.entries]
        return float(self.motor[firm & np.array(count)].max(initial=0.0))

    def _optional(self, firm: Bools, may: Bools) -> Rows:
        first_va = FIRST_STEP_VA[self.basis.edition]
        constant, added = self._chord(
            lambda va: total_va(line for line in stepped_lines(va, first_va, REST_SHARE, "")),
            self.area_va, self.covered + self.own, firm, may)
        constant += float(self.beside[firm].sum())
        rows = self.optional_seasons
        return Rows(constant + rows[:, firm].sum(axis=1),
                    np.where(may, added + self.beside + rows, 0.0))

    def _measured(self, firm: Bools, may: Bools) -> Rows:
        rows = self.measured_seasons
        constant = self.peak_va + float(self.added[firm].sum()) + rows[:, firm].sum(axis=1)
        return Rows(constant, np.where(may, self.added + rows, 0.0))

    @staticmethod
    def _chord(
        stepped: Callable[[float], float], constant_va: float, each_va: Floats, firm: Bools,
        may: Bools,
    ) -> tuple[float, Floats]:
        """The chord of a concave step from what is connected to all that may be."""
        low = constant_va + float(each_va[firm].sum())
        more = float(each_va[may].sum())
        slope = (stepped(low + more) - stepped(low)) / more if more > 0.0 else 0.0
        return stepped(low), slope * each_va
