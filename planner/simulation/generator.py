"""The generator under load: voltage at a start, frequency, overload and fuel."""

from __future__ import annotations

from typing import NamedTuple

from planner.facts.home import Home
from planner.service.supply import Supply
from planner.simulation.settings import Settings

STEP_S = 0.01
STEPS = 100
SETTLED, SMALL_STEP = 1e-3, 1e-2
"""Per unit: nearer to its steady frequency, and with a change of load smaller than this, the engine
is taken as steady; the frequency it would swing through is then within a tenth of a percent."""
FRICTION = 0.1  # braking of a closed throttle, share of the torque; common practice, no source
SLOWEST = 0.05  # frequency per unit at which the arithmetic stops; the engine stands long before
NOMINAL_HZ = 60.0

TRANSIENT_DIP = {"G1": 0.25, "G2": 0.20, "G3": 0.15}
"""Largest transient voltage deviation at a load increase, per unit (ISO 8528-5, edition not noted;
G2 was read in a quotation, G1 and G3 are from memory)."""

TRANSIENT_FREQUENCY = {"G1": 0.25, "G2": 0.20, "G3": 0.15}
"""Largest transient frequency deviation of a spark-ignition gas set at a load increase, per unit
(ISO 8528-5, from memory)."""


class Engine(NamedTuple):
    """One generator at one site; powers in kW, currents in A, heat in Btu/h, shares of 1."""

    derated_kw: float
    kva: float
    leg_a: float
    reactance: float
    inertia_s: float
    droop: float
    governor_s: float
    knee: float
    stall_frequency: float
    low_frequency: float
    low_frequency_s: float
    low_voltage: float
    low_voltage_s: float
    breaker_s: float
    rated_kw: float
    no_load_btu_h: float
    half_load_btu_h: float
    full_load_btu_h: float


def rated_leg_a(supply: Supply, home: Home) -> float:
    """Give what a leg of the generator may carry [A]: a plan uses only the largest share of it."""
    return supply.leg_a / home.limits.largest_share


def engine_of(supply: Supply, home: Home, settings: Settings) -> Engine:
    """Collect what the simulation needs to know of a generator."""
    generator = supply.generator
    rating = generator.ratings[home.fuel]
    return Engine(
        derated_kw=supply.derated_kw, kva=supply.kva, leg_a=rated_leg_a(supply, home),
        reactance=supply.reactance, inertia_s=generator.inertia_s, droop=generator.droop,
        governor_s=generator.governor_s, knee=settings.knee,
        stall_frequency=settings.stall_frequency,
        low_frequency=generator.low_frequency_hz / NOMINAL_HZ,
        low_frequency_s=generator.low_frequency_s, low_voltage=generator.low_voltage,
        low_voltage_s=generator.low_voltage_s, breaker_s=settings.breaker_s, rated_kw=rating.kw,
        no_load_btu_h=rating.fuel.no_load_btu_h, half_load_btu_h=rating.fuel.half_load_btu_h,
        full_load_btu_h=rating.fuel.full_load_btu_h,
    )
