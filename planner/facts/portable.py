"""The cheapest way: portable generators, manual transfer equipment, and who works them by hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from planner.facts.engine import GOVERNOR_S, INERTIA_S, Usual

if TYPE_CHECKING:
    from planner.facts.price_book import Derating

ManualKind = Literal["interlock", "switch"]
Volts = Literal[120, 240]

REACTANCE = Usual(0.25, 0.15, 0.40)
"""X'd per unit of a portable generator whose maker does not state it (common practice, no
source)."""
RECEPTACLES_A = (15.0, 20.0, 30.0, 50.0)
"""Ratings of the receptacles and inlets that portable generators come with (NEC Table 210.21(B)(3),
from memory) [A]."""


@dataclass(frozen=True, slots=True)
class Portable:
    """A portable generator on gasoline.

    `volts` is 240 for one that gives 120/240 V, 120 for one that gives 120 V alone. `gal_h` is what
    it burns at no, half and full load, `tank_gal` what its tank holds. `neutral_bonded` says
    whether its neutral is bonded to its frame. `propane_kw` is what it gives on propane; None where
    it does not run on it or nobody says. `noise_db` is the sound level at 23 ft.
    """

    id: str
    label: str
    volts: Volts
    kw: float
    kva: float
    receptacle_a: float
    tank_gal: float
    gal_h: tuple[float, float, float]
    derating: Derating
    neutral_bonded: bool
    price: float
    reactance: float = REACTANCE.value
    inertia_s: float = INERTIA_S.value
    governor_s: float = GOVERNOR_S.value
    electric_start: bool = False
    co_shutoff: bool = False
    noise_db: float | None = None
    propane_kw: float | None = None
    unstated: tuple[str, ...] = ()  # keys for which the usual value stands


@dataclass(frozen=True, slots=True)
class ManualTransfer:
    """Manual transfer equipment with its inlet and cord; prices in US dollars.

    An interlock keeps the main breaker of the panel open while that of the inlet is closed, so
    every circuit of the panel can be chosen; a switch has so many `positions` (poles). What its
    maker does not state of the neutral is None.
    """

    id: str
    label: str
    kind: ManualKind
    volts: Volts
    inlet_a: float
    positions: int  # 0 for an interlock
    price: float
    installation: float
    cord: float
    switches_neutral: bool | None = None


@dataclass(frozen=True, slots=True)
class PortableParts:
    """What a book offers for it; empty where it says nothing."""

    portables: tuple[Portable, ...] = ()
    transfers: tuple[ManualTransfer, ...] = ()
    gasoline_per_gal: float | None = None


NO_PORTABLES = PortableParts()


@dataclass(frozen=True, slots=True)
class Attendance:
    """When somebody is at home and awake to work it by hand, and how often they switch [h].

    `stated` is False where the file does not say it.
    """

    begin_h: float = 6.0
    end_h: float = 22.0
    every_h: float = 2.0
    stated: bool = False


USUAL_ATTENDANCE = Attendance()
"""From 6 to 22 h, switching every 2 h at most (common practice, no source)."""
