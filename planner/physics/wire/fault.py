"""Current that flows into a short circuit, and what has to withstand it."""

from __future__ import annotations

from planner.physics.draw import LINE_VOLTS, amperes

SUBTRANSIENT_SHARE = 0.5
"""Where the maker does not state X''d it is taken as half of X'd, which does not understate the
current: small generators have X'd of 0.15 to 0.30 and X''d of 0.10 to 0.20 (from memory)."""


def subtransient_reactance(reactance: float, stated: float | None = None) -> float:
    """Give X''d of a generator, per unit.

    Parameters
    ----------
    reactance : float
        X'd per unit, positive [1].
    stated : float or None
        X''d as its maker states it; None: half of X'd [1].

    References
    ----------
    NEC 445.11 (2017 to 2023): the nameplate of a generator above 15 kW states both; that half of
    X'd is the safe side is from memory.
    """
    return SUBTRANSIENT_SHARE * reactance if stated is None else stated


def generator_fault_a(generator_kva: float, reactance: float) -> float:
    """Give the first symmetrical current into a short circuit between the lines [A].

    At the terminals: a feeder only lowers it.

    Parameters
    ----------
    generator_kva : float
        Rated apparent power [kVA].
    reactance : float
        Per unit on that kVA, positive: X''d for the first cycles, X'd after them [1].

    Raises
    ------
    ValueError
        If the reactance is not positive.

    Notes
    -----
    I = 1000·S / (240 V·X): rated voltage behind the reactance alone (derived).
    """
    if reactance <= 0.0:
        msg = f"A reactance is positive, not {reactance:g}."
        raise ValueError(msg)
    return amperes(generator_kva, LINE_VOLTS) / reactance
