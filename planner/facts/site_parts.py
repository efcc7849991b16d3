"""What a price book offers for the site: wire, pipe, meters, regulators, tanks; US dollars."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.site import Material


@dataclass(frozen=True, slots=True)
class Wire:
    """A feeder of one size: two lines, neutral, grounding conductor and raceway, by the foot."""

    id: str
    label: str
    size: str  # AWG, from 250 on kcmil
    material: Material
    usd_per_ft: float


@dataclass(frozen=True, slots=True)
class Pipe:
    """Gas pipe of one nominal size [in], laid and tested, by the foot."""

    id: str
    label: str
    size: str
    usd_per_ft: float


@dataclass(frozen=True, slots=True)
class GasPart:
    """A gas meter or regulator: natural gas that passes [ft³/h], price, installation [USD].

    `inlet_psi` is the highest pressure that a regulator takes; None where its maker states none.
    """

    id: str
    label: str
    ft3_h: float
    price: float
    installation: float
    inlet_psi: float | None = None

    @property
    def installed_usd(self) -> float:
        """Price with installation [USD]."""
        return self.price + self.installation


@dataclass(frozen=True, slots=True)
class TankPart:
    """A propane tank: water capacity [gal], outside diameter and overall length [in]."""

    id: str
    label: str
    gal: float
    diameter_in: float
    length_in: float
    price: float
    installation: float

    @property
    def installed_usd(self) -> float:
        """Price with installation [USD]."""
        return self.price + self.installation


@dataclass(frozen=True, slots=True)
class SiteParts:
    """All that a book offers for the site; None or empty where it says nothing."""

    wires: tuple[Wire, ...] = ()
    pipes: tuple[Pipe, ...] = ()
    meters: tuple[GasPart, ...] = ()
    regulators: tuple[GasPart, ...] = ()
    tanks: tuple[TankPart, ...] = ()
    trench_usd_per_ft: float | None = None
    raised_pad_usd: float | None = None


NO_PARTS = SiteParts()
