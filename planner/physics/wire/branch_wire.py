"""The wire of a branch circuit: what it must carry, and what cables carry that lie in a bundle."""

from __future__ import annotations

from planner.facts.home import Load
from planner.physics.motor_tables import FULL_LOAD_A, full_load_a
from planner.physics.wire.branch import CONTINUOUS, Branch
from planner.physics.wire.conductor import ampacity_a
from planner.physics.wire.conductor_tables import AMPACITY_A, SIZES, SMALL_CONDUCTOR_A
from planner.physics.wire.feeder import is_protected
from planner.tolerances import meets

CONDUCTORS_OF_A_CABLE = 2
"""Two conductors of a cable carry current, at 120 V and at 240 V (definition of the circuit)."""
CONTINUOUS_KINDS = frozenset({"vehicle", "heating", "supplemental-heat"})
"""NEC 625.41, 424.4(B) (2017 to 2023), from memory: continuous loads, as are storage water heaters
by 422.13."""
PLUGGED_IN = frozenset({"air compressor", "workshop tools"})
"""Kinds whose motors stand at a receptacle at 240 V too (common practice, no source)."""
FREE_CABLES = 2
"""NEC 334.80 (2017 to 2023): more than two cables that lie together are derated."""


def cable_ampacity_a(size: str, ambient_degc: float = 30.0, bundled_cables: int = 1) -> float:
    """Give what nonmetallic-sheathed copper cable carries where it lies [A].

    Parameters
    ----------
    size : str
        AWG.
    ambient_degc : float
        Air around it [degC].
    bundled_cables : int
        Cables that run together without a space, this one included, at least 1.

    Raises
    ------
    ValueError
        If there is no cable, the table has no such size, or the place is too hot.

    References
    ----------
    NEC 334.80 (2017 to 2023): derated from the column of 90 degC, no more than that of 60 degC;
    more than two cables with two or more current-carrying conductors together by 310.15(C)(1).
    """
    if bundled_cables < 1:
        msg = f"Count at least one cable, not {bundled_cables}."
        raise ValueError(msg)
    together = CONDUCTORS_OF_A_CABLE * (bundled_cables if bundled_cables > FREE_CABLES else 1)
    return min(ampacity_a(size, "copper", 90, ambient_degc, together),
               ampacity_a(size, "copper", 60))


def is_motor_circuit(load: Load) -> bool:
    """Say whether the wire follows the motor rather than the breaker.

    Parameters
    ----------
    load : Load
        A compressor across both legs, or a motor of the motor table that is wired in: what plugs in
        is fed by a circuit for receptacles, whose breaker protects its wire. On one leg a motor is
        taken for one that plugs in.

    References
    ----------
    NEC 240.4(D) and (G), 430.22, 440.32 (2017 to 2023), from memory.
    """
    if load.leg != "both" or load.kind in PLUGGED_IN:
        return False
    return load.compressor or load.code.category == "motor"


def branch_needed_a(load: Load, branch: Branch) -> float:
    """Give what the wire of a branch circuit must carry [A].

    Parameters
    ----------
    load : Load
        What is on it. The nameplate of a compressor is taken for its minimum circuit ampacity.
    branch : Branch
        Its overcurrent device [A].

    References
    ----------
    NEC 440.33 (minimum circuit ampacity), 430.22 (125 % of the motor's full-load current),
    210.19(A) (125 % of a continuous load) (2017 to 2023), all from memory; where no motor decides,
    240.4 asks besides that the device protects the wire.
    """
    drawn_a = max(load.plate_a, load.code.va / load.volts)
    if load.code.category != "motor" and not is_motor_circuit(load):
        lasts = load.code.category in CONTINUOUS_KINDS or load.nature == "tank"
        return min(drawn_a * (CONTINUOUS if lasts else 1.0), branch.breaker_a)
    if load.compressor:
        return drawn_a
    if 0.0 < load.motor_hp <= max(FULL_LOAD_A):
        drawn_a = max(drawn_a, full_load_a(load.motor_hp, load.volts))
    return CONTINUOUS * drawn_a


def branch_conductor(
    load: Load, branch: Branch, ambient_degc: float = 30.0, bundled_cables: int = 1
) -> str:
    """Find the smallest copper cable of a branch circuit.

    Parameters
    ----------
    load : Load
        What is on it.
    branch : Branch
        Its overcurrent device [A].
    ambient_degc, bundled_cables
        As in `cable_ampacity_a` [degC].

    Raises
    ------
    ValueError
        If no size carries it.

    References
    ----------
    NEC 240.4(B), (D) and (G), 334.80, Table 310.16 (2017 to 2023).
    """
    needed_a = branch_needed_a(load, branch)
    for size in SIZES:
        if size not in AMPACITY_A["copper"]:
            break
        carried_a = cable_ampacity_a(size, ambient_degc, bundled_cables)
        kept = is_motor_circuit(load) or is_protected(size, "copper", carried_a, branch.breaker_a)
        if kept and meets(needed_a, min(carried_a, _small_a(size, load, carried_a))):
            return size
    msg = f"No copper cable carries {needed_a:.1f} A behind {branch.breaker_a:g} A."
    raise ValueError(msg)


def _small_a(size: str, load: Load, carried_a: float) -> float:
    """What a small conductor may carry; motors are free of the cap (NEC 240.4(G))."""
    return carried_a if is_motor_circuit(load) else SMALL_CONDUCTOR_A["copper"].get(size, carried_a)
