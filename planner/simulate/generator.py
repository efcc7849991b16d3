"""The set under load: voltage at a start, frequency, overload and fuel."""

from __future__ import annotations

from math import sqrt
from typing import NamedTuple

from numba import njit

from planner.facts.home import Home
from planner.service.supply import Supply
from planner.simulate.settings import Settings

STEP_S = 0.01
STEPS = 100
SETTLED, SMALL_STEP = 1e-3, 1e-2
"""Per unit: nearer to its steady frequency, and with a change of load smaller than this, the engine
is taken as steady; the frequency it would swing through is then within a tenth of a percent."""
FRICTION = 0.1  # braking of a closed throttle, share of the rating; common practice, no source
RECOVERY = 0.1  # seconds of short-time power regained in a second; common practice, no source
NOMINAL_HZ = 60.0

TRANSIENT_DIP = {"G1": 0.25, "G2": 0.20, "G3": 0.15}
"""Largest transient voltage deviation at a load increase, per unit (ISO 8528-5, edition not noted;
G2 was read in a quotation, G1 and G3 are from memory)."""

TRANSIENT_FREQUENCY = {"G1": 0.25, "G2": 0.20, "G3": 0.15}
"""Largest transient frequency deviation of a spark-ignition gas set at a load increase, per unit
(ISO 8528-5, from memory)."""


class Engine(NamedTuple):
    """One set at one site; powers in kW, currents in A, heat in Btu/h, shares of 1."""

    derated_kw: float
    kva: float
    leg_a: float
    reactance: float
    short_time: float
    inertia_s: float
    droop: float
    governor_s: float
    knee: float
    stall_frequency: float
    stall_s: float
    short_time_s: float
    breaker_s: float
    rated_kw: float
    no_load_btu_h: float
    half_load_btu_h: float
    full_load_btu_h: float


def engine_of(supply: Supply, home: Home, settings: Settings) -> Engine:
    """Collect what the simulation needs to know of a set."""
    generator = supply.generator
    rating = generator.ratings[home.fuel]
    return Engine(
        derated_kw=supply.derated_kw, kva=supply.kva, leg_a=supply.leg_a,
        reactance=generator.reactance, short_time=generator.short_time,
        inertia_s=generator.inertia_s, droop=generator.droop, governor_s=settings.governor_s,
        knee=settings.knee, stall_frequency=settings.stall_frequency, stall_s=settings.stall_s,
        short_time_s=settings.short_time_s, breaker_s=settings.breaker_s, rated_kw=rating.kw,
        no_load_btu_h=rating.fuel.no_load_btu_h, half_load_btu_h=rating.fuel.half_load_btu_h,
        full_load_btu_h=rating.fuel.full_load_btu_h,
    )


@njit(cache=True)
def fuel_rate_btu_h(kw: float, engine: Engine) -> float:
    """Heat of the fuel burned at a load [Btu/h]: `planner.physics.fuel.fuel_btu_h`, compiled."""
    share = kw / engine.rated_kw
    if share <= 0.5:
        return (engine.no_load_btu_h
                + 2.0 * share * (engine.half_load_btu_h - engine.no_load_btu_h))
    return (engine.half_load_btu_h
            + (2.0 * share - 1.0) * (engine.full_load_btu_h - engine.half_load_btu_h))


@njit(cache=True)
def dip_of(starting_kva: float, starting_kw: float, engine: Engine) -> float:
    """Voltage dip of everything that starts together, with its power factor, per unit.

    `starting_kw` is at full voltage. The same as
    `planner.physics.motor_start.voltage_dip_with_power_factor`, compiled: with Z = z(pf + j·sin),
    |Z / (Z + jX)| = z / √((z·pf)² + (z·sin + X)²).
    """
    if starting_kva <= 0.0:
        return 0.0
    impedance = engine.kva / starting_kva
    power_factor = min(1.0, starting_kw / starting_kva)
    across = impedance * sqrt(1.0 - power_factor * power_factor) + engine.reactance
    along = impedance * power_factor
    return 1.0 - impedance / sqrt(along * along + across * across)


@njit(cache=True)
def start_draw_kw(starting_kva: float, starting_kw: float, engine: Engine) -> float:
    """Real power that motors starting together take from the engine [kW].

    P = S·pf·(1 − dip)² with the dip of a reactive motor, as in
    `planner.physics.motor_start.engine_start_kw`.
    """
    pull = engine.reactance * starting_kva / engine.kva
    left = 1.0 / (1.0 + pull)
    return starting_kw * left * left


@njit(cache=True)
def steady_frequency(kw: float, engine: Engine) -> float:
    """Frequency per unit at a steady load: nominal at full load, `droop` above it without load."""
    return 1.0 + engine.droop * (1.0 - kw / engine.derated_kw)


@njit(cache=True)
def slope_per_s(surplus_kw: float, engine: Engine) -> float:
    """Rate of change of the frequency [per unit per s]: the swing equation, ΔP / (2·H·S)."""
    return surplus_kw / (2.0 * engine.inertia_s * engine.kva)


@njit(cache=True)
def one_second(
    frequency: float, shaft_kw: float, peak_kw: float, peak_s: float, kw: float, engine: Engine
) -> tuple[float, float, float]:
    """Give frequency and shaft power a second later, and the lowest frequency in between.

    Parameters
    ----------
    frequency, shaft_kw : float
        Per unit, and mechanical power [kW], at the beginning.
    peak_kw, peak_s : float
        Load in the first part of the second, while motors start, and how long that lasts.
    kw : float
        Load in the rest.
    engine : Engine
        The set.

    Notes
    -----
    Swing equation 2·H·S·dω/dt = shaft − load. The governor follows with a first-order lag towards
    the power that its droop asks for at this speed, from the braking of a closed throttle to the
    short-time power. Below
    the knee the regulator lowers the voltage with the speed, so the load falls with its square.
    """
    settled = steady_frequency(kw, engine)
    near = (abs(frequency - settled) < SETTLED
            and abs(shaft_kw - kw) < SMALL_STEP * engine.kva)
    if near and peak_s == 0.0 and kw < engine.derated_kw * engine.short_time:
        return settled, kw, settled
    lowest = frequency
    for step in range(STEPS):
        load_kw = peak_kw if step * STEP_S < peak_s else kw
        if frequency < engine.knee:
            load_kw *= (frequency / engine.knee) ** 2
        asked = (1.0 + engine.droop - frequency) / engine.droop * engine.derated_kw
        asked = max(asked, -FRICTION * engine.derated_kw)
        asked = min(asked, engine.short_time * engine.derated_kw)
        shaft_kw += (asked - shaft_kw) * STEP_S / engine.governor_s
        frequency += slope_per_s(shaft_kw - load_kw, engine) * STEP_S
        frequency = max(frequency, 0.0)
        lowest = min(lowest, frequency)
    return frequency, shaft_kw, lowest


@njit(cache=True)
def spent(store_s: float, kw: float, engine: Engine) -> float:
    """Give the seconds of short-time power that are spent, one second later.

    Power above the rating is spent in proportion to its excess, a second per second at the
    short-time power; below the rating it comes back a tenth as fast.
    """
    excess = kw / engine.derated_kw - 1.0
    if excess > 0.0:
        return store_s + excess / max(engine.short_time - 1.0, 0.01)
    return max(0.0, store_s - RECOVERY)
