"""The engine in steps of a hundredth of a second: voltage at a start, torque, frequency; fuel."""

from __future__ import annotations

from math import sqrt

from planner.compiled import compiled
from planner.simulation.generator import (
    FRICTION,
    SETTLED,
    SLOWEST,
    SMALL_STEP,
    STEP_S,
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

    P = S·pf·(1 − dip)² with the dip of these motors, power factor and all (derived).
    """
    left = 1.0 - dip_of(starting_kva, starting_kw, engine)
    return starting_kw * left * left


@compiled
def steady_frequency(kw: float, engine: Engine) -> float:
    """Frequency per unit at a steady load: nominal at full load, `droop` above it without load.

    The governor asks for the torque (1 + droop − ω) / droop, and torque times speed is the load, so
    ω² − (1 + droop)·ω + droop·load / rating = 0, the greater root (derived).
    """
    high = 1.0 + engine.droop
    return 0.5 * (high + sqrt(max(0.0, high * high - 4.0 * engine.droop * kw / engine.derated_kw)))


@compiled
def is_settled(frequency: float, torque: float, kw: float, engine: Engine) -> bool:
    """Whether the engine is as good as steady under a load that it can carry."""
    return (kw <= engine.derated_kw
            and abs(frequency - steady_frequency(kw, engine)) < SETTLED
            and abs(torque * frequency * engine.derated_kw - kw) < SMALL_STEP * engine.kva)


@compiled
def drawn_kw(
    frequency: float, resistive_kw: float, motor_kw: float, electronic_kw: float, engine: Engine
) -> float:
    """Load at a frequency [kW]; the parts are those at rated frequency and voltage.

    Below its knee the regulator lets the voltage fall with the frequency: heating elements and
    motors at standstill draw its square. A running motor draws with the speed to the power of
    three quarters, between constant power and the constant torque of a compressor (a choice, no
    source; on the safe side of constant torque). Electronics draw the same at any voltage.
    """
    sag = min(1.0, frequency / engine.knee)
    root = sqrt(min(1.0, frequency))
    return sag * sag * resistive_kw + root * sqrt(root) * motor_kw + electronic_kw


@compiled
def slopes(frequency: float, torque: float, kw: float, engine: Engine) -> tuple[float, float]:
    """Rates of change of frequency and torque [per unit per s].

    Swing equation 2·H·S·dω/dt = torque·K − load / ω, K the derated kW: an engine holds torque, so
    its power falls with its speed, and none is left above the full torque. The governor moves the
    torque with a first-order lag towards what its droop asks for, from the braking of a closed
    throttle to full torque.
    """
    asked = (1.0 + engine.droop - frequency) / engine.droop
    asked = min(max(asked, -FRICTION), 1.0)
    pull_kw = torque * engine.derated_kw - kw / max(frequency, SLOWEST)
    return (pull_kw / (2.0 * engine.inertia_s * engine.kva),
            (asked - torque) / engine.governor_s)


@compiled
def one_step(
    frequency: float, torque: float, resistive_kw: float, motor_kw: float, electronic_kw: float,
    engine: Engine,
) -> tuple[float, float]:
    """Give frequency and torque (per unit) a hundredth of a second later, by Heun's method."""
    kw = drawn_kw(frequency, resistive_kw, motor_kw, electronic_kw, engine)
    faster, stronger = slopes(frequency, torque, kw, engine)
    ahead = max(frequency + faster * STEP_S, SLOWEST)
    kw = drawn_kw(ahead, resistive_kw, motor_kw, electronic_kw, engine)
    faster_then, stronger_then = slopes(ahead, torque + stronger * STEP_S, kw, engine)
    return (max(frequency + 0.5 * STEP_S * (faster + faster_then), SLOWEST),
            torque + 0.5 * STEP_S * (stronger + stronger_then))
