"""What goes into a calculated load and what comes out of it: every line, printable."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor
from typing import Literal

from planner.errors import Finding
from planner.facts.home import CodeCategory, CodeEdition, CodeMethod, Leg
from planner.physics.draw import LINE_VOLTS, amperes
from planner.physics.wire.conductor import next_standard_size_a
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A

DWELLING_SERVICE_MINIMUM_A = 100
"""NEC 230.79(C) (2017 to 2023): a one-family dwelling has a service of at least 100 A (Annex D,
D1(a)) [A]."""

Role = Literal["connected", "demand"]


@dataclass(frozen=True, slots=True)
class DemandEntry:
    """One load as the code sees it.

    Attributes
    ----------
    name : str
        As the sheet shows it.
    category : CodeCategory
        Which rule of the code counts it.
    va : float
        Nameplate of all its units together [VA].
    units : int
        Appliances, cooking units, dryers or separately controlled heating units behind it.
    with_supplemental : bool
        Whether a heat-pump compressor can run together with supplemental heat.
    neutral_va : float or None
        Part that returns through the neutral [VA]. None: the 70 % rule for cooking and dryers,
        nothing for others. Cooking and dryers with 0 have no neutral at all.
    motor_va : float
        Motor part of one unit, for the 25 % of the largest motor [VA].
    added : bool
        New to an existing dwelling.
    leg : {"L1", "L2", "both"}
        Where it is connected.
    """

    name: str
    category: CodeCategory
    va: float
    units: int = 1
    with_supplemental: bool = True
    neutral_va: float | None = None
    motor_va: float = 0.0
    added: bool = False
    leg: Leg = "both"


@dataclass(frozen=True, slots=True)
class Measurement:
    """Measured demand of a whole dwelling: highest average over an interval [kVA]."""

    peak_kva: float
    days: float
    interval_min: float
    with_generation: bool = False


@dataclass(frozen=True, slots=True)
class DemandBasis:
    """Edition, method and what they need to know besides the loads.

    Attributes
    ----------
    edition, method
        Of the code.
    area_ft2 : float or None
        Floor area by outside dimensions [ft²]; None for selected circuits, which carry no general
        load by area and no circuits by number.
    beyond_ft2 : float
        Area that is lit beyond it, as of a barn or a yard [ft²]; read only with `area_ft2`.
    small_appliance_circuits, laundry_circuits : int
        Branch circuits; at least two and one are counted.
    service_a : float or None
        Rating of the service or feeder, where it is known [A].
    climate_added : bool
        Whether heating or cooling is new to an existing dwelling.
    measured : Measurement or None
        For the measured method.
    entire : bool
        Whether this is the entire dwelling, not some of its loads.
    """

    edition: CodeEdition
    method: CodeMethod
    area_ft2: float | None
    small_appliance_circuits: int = 2
    laundry_circuits: int = 1
    service_a: float | None = None
    climate_added: bool = False
    measured: Measurement | None = None
    entire: bool = True
    beyond_ft2: float = 0.0


@dataclass(frozen=True, slots=True)
class DemandLine:
    """One line of the calculation.

    `role` says whether the VA are connected load, from which a later line is worked out, or
    demand, which adds to the total.
    """

    text: str
    clause: str
    va: float
    role: Role = "demand"


@dataclass(frozen=True, slots=True)
class DemandSheet:
    """A calculated load with every line of its sum.

    Attributes
    ----------
    lines : tuple of DemandLine
        The demand lines add up to `total_va`.
    total_va : float
        Calculated load [VA].
    neutral_lines, neutral_va
        The same for the neutral (NEC 220.61) [VA].
    findings : tuple of Finding
        What the reader must know about this sheet.
    edition, method
        As calculated; the method may differ from the one asked for, then a finding says why.
    entire : bool
        Whether the sheet is about the entire dwelling.
    lines_a : (float, float)
        What lines L1 and L2 carry [A], the 120 V loads each on its own.
    """

    lines: tuple[DemandLine, ...]
    total_va: float
    neutral_lines: tuple[DemandLine, ...]
    neutral_va: float
    findings: tuple[Finding, ...]
    edition: CodeEdition
    method: CodeMethod
    entire: bool = True
    lines_a: tuple[float, float] = (0.0, 0.0)

    @property
    def connected_va(self) -> float:
        """Connected load from which demand lines are worked out [VA]."""
        return sum(line.va for line in self.lines if line.role == "connected")

    @property
    def amperes_a(self) -> float:
        """Calculated load at 240 V [A] (definition of apparent power)."""
        return amperes(self.total_va / 1000.0, LINE_VOLTS)

    @property
    def neutral_a(self) -> float:
        """Load of the neutral at 240 V between the legs [A] (NEC Annex D, D1(a))."""
        return amperes(self.neutral_va / 1000.0, LINE_VOLTS)

    @property
    def whole_amperes_a(self) -> int:
        """Calculated load in whole amperes [A]: fractions below 0.5 drop (NEC 220.5(B))."""
        return whole_amperes(self.amperes_a)

    @property
    def heavier_line_a(self) -> float:
        """What the heavier line carries, no less than the calculated load at 240 V [A]."""
        return max(*self.lines_a, self.amperes_a)

    @property
    def minimum_service_a(self) -> int | None:
        """Smallest standard rating that carries the heavier line [A]; None if none does.

        An entire dwelling needs at least 100 A.

        References
        ----------
        NEC 240.6(A), 230.79(C) (2017 to 2023); Annex D, D1(b) (2005): the heavier line decides.
        """
        return least_rating_a(self.heavier_line_a, self.entire)


def least_rating_a(exact_a: float, entire: bool) -> int | None:
    """Find the smallest standard rating that carries a calculated current; None if none does [A].

    Parameters
    ----------
    exact_a : float
        Not negative [A].
    entire : bool
        Whether it is that of an entire dwelling, which needs at least 100 A.

    References
    ----------
    NEC 240.6(A), 230.79(C), 220.5(B) (2017 to 2023).
    """
    least_a = max(whole_amperes(exact_a), DWELLING_SERVICE_MINIMUM_A if entire else 0)
    return next_standard_size_a(least_a) if least_a <= STANDARD_RATINGS_A[-1] else None


def whole_amperes(exact_a: float) -> int:
    """Round a calculated current to whole amperes [A]: below 0.5 is dropped, 0.5 counts as one.

    Parameters
    ----------
    exact_a : float
        Not negative [A].

    References
    ----------
    NEC 220.5(B) (from memory); Annex D, D1(a) (2005 and 2017): 77.5 A is 78 A.
    """
    return floor(exact_a + 0.5 + 1e-9)
