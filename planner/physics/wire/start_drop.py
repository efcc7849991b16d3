"""Voltage along the way to a motor while it starts: generator, feeder, branch circuit, motor."""

from __future__ import annotations

from cmath import rect
from dataclasses import dataclass
from math import acos

from planner.facts.site import Raceway
from planner.physics.draw import LINE_VOLTS
from planner.physics.wire.conductor_tables import Material
from planner.physics.wire.voltage_drop import wire_ohm_per_kft


@dataclass(frozen=True, slots=True)
class StartVoltages:
    """Voltage while a motor starts, as shares of the voltage before it.

    Attributes
    ----------
    at_generator, at_panel, at_motor : float
        At the generator's terminals, behind the feeder, behind the branch circuit [0-1].
    """

    at_generator: float
    at_panel: float
    at_motor: float

    @property
    def panel_dip(self) -> float:
        """What the lights of the house see [0-1]."""
        return 1.0 - self.at_panel


def run_ohm(
    size: str, length_ft: float, material: Material = "copper", raceway: Raceway = "PVC"
) -> complex:
    """Give the impedance of one conductor of a run [ohm].

    Parameters
    ----------
    size, material, raceway : str
        As in `planner.physics.wire.voltage_drop.wire_ohm_per_kft`.
    length_ft : float
        One way, not negative [ft].

    References
    ----------
    NEC Chapter 9, Table 9 (2017 to 2023).
    """
    return wire_ohm_per_kft(size, material, raceway) * length_ft / 1000.0


def start_voltages(
    starting_kva: float, power_factor: float, volts: float, generator_kva: float,
    reactance: float, feeder_ohm: complex, branch_ohm: complex = 0j, *,
    neutral_ohm: complex | None = None,
) -> StartVoltages:
    """Give the voltage along the way to a motor that starts, with nothing else running.

    Parameters
    ----------
    starting_kva : float
        Locked-rotor apparent power at full voltage, positive [kVA].
    power_factor : float
        Of the motor at standstill, 0 to 1.
    volts : {120, 240}
        Of the motor: on one leg or across both [V].
    generator_kva, reactance : float
        Rated apparent power, positive [kVA], and X'd per unit on it.
    feeder_ohm, branch_ohm : complex
        Impedance of one conductor of each run [ohm].
    neutral_ohm : complex or None
        Impedance of the feeder's neutral, through which a start on one leg comes back; None: as
        that of a line [ohm].

    Raises
    ------
    ValueError
        If an argument is out of range.

    Notes
    -----
    A series circuit (derived): internal voltage E, reactance X = X'd·240²/(1000·S), half of it for
    a motor on one leg; wires 2·Z, there and back, or line and neutral; motor V²/(1000·s)∠acos(pf).
    E is that of the generator without load. With no wire and 240 V it is the circuit of
    `planner.physics.motor_start.voltage_dip_with_power_factor`.
    """
    if min(starting_kva, generator_kva) <= 0.0 or reactance < 0.0:
        msg = (f"Need positive kVA and X'd ≥ 0; got {starting_kva:g} kVA, {generator_kva:g} kVA, "
               f"X'd {reactance:g}.")
        raise ValueError(msg)
    if volts not in (LINE_VOLTS / 2.0, LINE_VOLTS) or not 0.0 <= power_factor <= 1.0:
        msg = f"Need 120 or 240 V and a power factor 0 to 1; got {volts:g} V, {power_factor:g}."
        raise ValueError(msg)
    source = 1j * reactance * LINE_VOLTS**2 / (1000.0 * generator_kva) * (volts / LINE_VOLTS)
    motor = rect(volts**2 / (1000.0 * starting_kva), acos(power_factor))
    behind_feeder = motor + 2.0 * branch_ohm
    back = feeder_ohm if neutral_ohm is None or volts == LINE_VOLTS else neutral_ohm
    behind_generator = behind_feeder + feeder_ohm + back
    whole = behind_generator + source
    return StartVoltages(abs(behind_generator / whole), abs(behind_feeder / whole),
                         abs(motor / whole))
