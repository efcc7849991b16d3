"""The branch circuit of a load: its overcurrent device, given or by the rules of the code.

A shedding module stands behind that device, so where nothing is known the largest device that the
rules let stand there decides whether it fits. What is printed, and what the wire is sized for, is
the device that one would put there.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from planner.facts.home import CodeCategory, Load
from planner.physics.demand.sheet import whole_amperes
from planner.physics.motor_tables import FULL_LOAD_A, full_load_a
from planner.physics.wire.conductor import next_standard_size_a
from planner.physics.wire.conductor_tables import STANDARD_RATINGS_A

CONTINUOUS = 1.25
"""NEC 210.20(A) (2017 to 2023): a continuous load counts 125 % at its overcurrent device."""
MOTOR = 2.5
"""NEC Table 430.52 (430.52(C)(1) from 2023): inverse-time breaker, share of the table's full-load
current; Annex D, D8 (34 A, 85 A, 90 A)."""
HERMETIC, FIRST_HERMETIC, MCA_SHARE = 2.25, 1.75, 1.25
"""NEC 440.22(A), from memory: 175 % of the compressor's current, at most 225 % where that does not
start it; and 440.33, from memory: the minimum circuit ampacity is 125 % of it."""
APPLIANCE, SMALL_APPLIANCE_A, SMALL_APPLIANCE_BREAKER_A = 1.5, 13.3, 20
"""NEC 422.11(E), from memory: 20 A up to 13.3 A, else 150 %, the next higher standard rating."""
LARGE_RANGE_VA, LARGE_RANGE_BREAKER_A = 8750.0, 40
"""NEC 210.19(A)(3) (2017, 2020), 210.19(C) (2023), from memory: at least 40 A from 8¾ kW on."""
UNUSUAL_A, INSTEAD_A = 25, 30
"""Circuits of 25 A are not usual in dwellings, those of 30 A are: a dryer's receptacle, a storage
water heater (common practice, no source) [A]."""
RECEPTACLES_A, LEAST_A = 20, 15
"""NEC 210.11(C) (2017 to 2023): circuits for receptacles are of 20 A; 240.6(A) begins at 15 A."""


@dataclass(frozen=True, slots=True)
class Branch:
    """Overcurrent device of a branch circuit [A], and the clause or source that says so."""

    breaker_a: float
    clause: str
    given: bool = False


def branch_circuit(load: Load) -> Branch:
    """Find the largest overcurrent device that may protect a load's branch circuit.

    Parameters
    ----------
    load : Load
        Its nameplate (`code.va`) counts, not what it draws on a design day. The nameplate of a
        compressor is taken for its minimum circuit ampacity.

    Returns
    -------
    Branch
        As the file gives it (``breaker``, else ``mop``); else by the rules for its kind of load, a
        standard rating of 240.6(A).

    References
    ----------
    NEC 240.6(A) (2017 to 2023); the other clauses stand with the constants of this module.
    """
    if load.breaker_a is not None:
        return Branch(load.breaker_a, "as the file gives it", given=True)
    breaker_a, clause = _by_rule(load, load.code.va / load.volts)
    return Branch(float(max(breaker_a, _least_a(load))), clause)


def usual_branch(load: Load) -> Branch:
    """Find the overcurrent device that one would put ahead of a load's branch circuit.

    Never larger than that of `branch_circuit`. Ceilings are no sizes: an appliance gets 125 % of
    its current, not 150 %; a compressor 175 %; a motor 250 % of the table's current, also where its
    nameplate has more.

    Parameters
    ----------
    load : Load
        As in `branch_circuit`.

    References
    ----------
    NEC 422.11(E), 422.13, 430.6(A)(1), 430.52, 440.22(A) (2017 to 2023), all from memory; 125 % of
    every appliance, though 422.13 asks it of storage water heaters only, is a choice, no source.
    """
    most = branch_circuit(load)
    if most.given:
        return most
    amperes, breaker_a, clause = load.code.va / load.volts, most.breaker_a, most.clause
    if clause == "422.11(E)" and amperes > SMALL_APPLIANCE_A:
        breaker_a = float(_upward(CONTINUOUS * amperes))
        breaker_a = float(INSTEAD_A) if breaker_a == UNUSUAL_A else breaker_a
    elif clause == "430.52" and 0.0 < load.motor_hp <= max(FULL_LOAD_A):
        by_table = _upward(MOTOR * full_load_a(load.motor_hp, load.volts))
        breaker_a = float(max(by_table, _upward(CONTINUOUS * amperes), _least_a(load)))
    elif clause == "440.22(A)":
        breaker_a = float(max(_hermetic(amperes, FIRST_HERMETIC), _least_a(load)))
    if breaker_a >= most.breaker_a:
        return most
    if clause == "440.22(A)":
        clause = f"440.22(A), up to {most.breaker_a:g} A if it does not start"
    return Branch(breaker_a, clause)


def _least_a(load: Load) -> int:
    return LEAST_A if load.leg == "both" else RECEPTACLES_A


def vehicle_a(breaker_a: float) -> float:
    """Give the current that a vehicle charger may draw behind a breaker [A].

    Parameters
    ----------
    breaker_a : float
        Rating of its overcurrent device [A].

    References
    ----------
    NEC 625.41, 625.42 (2017 to 2023), from memory: charging is a continuous load, and its device
    is rated for 125 % of it. A 50 A breaker is a 40 A charger.
    """
    return breaker_a / CONTINUOUS


def _by_rule(load: Load, amperes: float) -> tuple[int, str]:
    if load.compressor and load.leg == "both":
        return _hermetic(amperes), "440.22(A)"
    rule = _RULES.get(load.code.category)
    if rule is None or (rule is _appliance and load.is_motor):
        return _upward(CONTINUOUS * amperes), "210.20(A)"
    return rule(load, amperes)


def _vehicle(_load: Load, amperes: float) -> tuple[int, str]:
    return _upward(CONTINUOUS * amperes), "625.41"


def _heating(_load: Load, amperes: float) -> tuple[int, str]:
    return _upward(CONTINUOUS * amperes), "424.4(B)"


def _cooking(load: Load, amperes: float) -> tuple[int, str]:
    least_a = LARGE_RANGE_BREAKER_A if load.code.va >= LARGE_RANGE_VA else LEAST_A
    return max(_upward(amperes), least_a), "210.19, 210.20(A)"


def _appliance(_load: Load, amperes: float) -> tuple[int, str]:
    small = amperes <= SMALL_APPLIANCE_A
    breaker_a = (SMALL_APPLIANCE_BREAKER_A if small
                 else _upward(APPLIANCE * amperes))
    return breaker_a, "422.11(E)"


def _motor(load: Load, amperes: float) -> tuple[int, str]:
    """By the full-load current of the table, not of the nameplate (NEC 430.6(A)(1))."""
    if 0.0 < load.motor_hp <= max(FULL_LOAD_A):
        amperes = max(amperes, full_load_a(load.motor_hp, load.volts))
    return _upward(MOTOR * amperes), "430.52"


_RULES: Mapping[CodeCategory, Callable[[Load, float], tuple[int, str]]] = {
    "vehicle": _vehicle, "heating": _heating, "supplemental-heat": _heating, "cooking": _cooking,
    "appliance": _appliance, "dryer": _appliance, "air-handler": _appliance,
    "fuel-heating": _appliance, "motor": _motor}


def _upward(needed_a: float) -> int:
    """Round up to a standard rating; fractions of an ampere below 0.5 drop (NEC 220.5(B))."""
    return next_standard_size_a(whole_amperes(needed_a))


def _hermetic(ampacity_a: float, share: float = HERMETIC) -> int:
    """Round a share of the current down to a standard rating, but no lower than the wire needs."""
    most_a = share / MCA_SHARE * ampacity_a
    below = [rating for rating in STANDARD_RATINGS_A if rating <= most_a]
    return max(_upward(ampacity_a), below[-1] if below else LEAST_A)
