"""The generator's second: voltage at a start, frequency, overload and fuel."""

from __future__ import annotations

from math import sqrt

from planner.compiled import compiled
from planner.simulation.generator import (
    FRICTION,
    RECOVERY,
    SETTLED,
    SMALL_STEP,
    STEP_S,
    STEPS,
    Engine,
)


@compiled
def fuel_rate_btu_h(kw: float, engine: Engine) -> float:
    """Heat of the fuel burned at a load [Btu/h]: `planner.physics.fuel.fuel_btu_h`, compiled."""
    share = kw / engine.rated_kw
    if share <= 0.5:
        return (engine.no_load_btu_h
                + 2.0 * share * (engine.half_load_btu_h - engine.no_load_btu_h))
    return (engine.half_load_btu_h
            + (2.0 * share - 1.0) * (engine.full_load_btu_h - engine.half_load_btu_h))


@compiled
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


@compiled
def start_draw_kw(starting_kva: float, starting_kw: float, engine: Engine) -> float:
    """Real power that motors starting together take from the engine [kW].

    P = S·pf·(1 − dip)² with the dip of a reactive motor, as in
    `planner.physics.motor_start.engine_start_kw`.
    """
    pull = engine.reactance * starting_kva / engine.kva
    left = 1.0 / (1.0 + pull)
    return starting_kw * left * left


@compiled
def steady_frequency(kw: float, engine: Engine) -> float:
    """Frequency per unit at a steady load: nominal at full load, `droop` above it without load."""
    return 1.0 + engine.droop * (1.0 - kw / engine.derated_kw)


@compiled
def slope_per_s(surplus_kw: float, engine: Engine) -> float:
    """Rate of change of the frequency [per unit per s]: the swing equation, ΔP / (2·H·S)."""
    return surplus_kw / (2.0 * engine.inertia_s * engine.kva)


@compiled
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
        The generator.

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
            sag = frequency / engine.knee
            load_kw *= sag * sag
        asked = (1.0 + engine.droop - frequency) / engine.droop * engine.derated_kw
        asked = max(asked, -FRICTION * engine.derated_kw)
        asked = min(asked, engine.short_time * engine.derated_kw)
        shaft_kw += (asked - shaft_kw) * STEP_S / engine.governor_s
        frequency += slope_per_s(shaft_kw - load_kw, engine) * STEP_S
        frequency = max(frequency, 0.0)
        lowest = min(lowest, frequency)
    return frequency, shaft_kw, lowest


@compiled
def spent(store_s: float, kw: float, engine: Engine) -> float:
    """Give the seconds of short-time power that are spent, one second later.

    Power above the rating is spent in proportion to its excess, a second per second at the
    short-time power; below the rating it comes back a tenth as fast.
    """
    excess = kw / engine.derated_kw - 1.0
    if excess > 0.0:
        return store_s + excess / max(engine.short_time - 1.0, 0.01)
    return max(0.0, store_s - RECOVERY)
