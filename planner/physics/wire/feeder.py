"""The feeder from a generator to its transfer equipment: breaker, terminals, size of the wire."""

from __future__ import annotations

from dataclasses import dataclass

from planner.physics.wire.conductor import (
    ampacity_a,
    generator_conductor_a,
    next_standard_size_a,
    smallest_conductor,
)
from planner.physics.wire.conductor_tables import (
    AMPACITY_A,
    SIZES,
    SMALL_CONDUCTOR_A,
    InsulationDegC,
    Material,
)
from planner.tolerances import meets

COLD_TERMINALS_A = 100.0
"""NEC 110.14(C)(1)(a) (2017 to 2023), from memory: terminals of circuits of 100 A or less are for
60 degC unless they are marked otherwise, above for 75 degC [A]."""
LARGEST_NEXT_UP_A = 800.0
"""NEC 240.4(B) (2017 to 2023), from memory: the next standard rating up may protect a conductor up
to 800 A [A]."""
USUAL_INSULATION_DEGC: InsulationDegC = 90
"""Wire for wet places is usually of 90 degC insulation (common practice, no source) [degC]."""


@dataclass(frozen=True, slots=True)
class FeederSize:
    """The ungrounded conductors of a feeder.

    Attributes
    ----------
    size, material
        AWG, from 250 on kcmil; copper or aluminum.
    ampacity_a : float
        What it carries where it lies, the terminals counted [A].
    needed_a : float
        115 % of the nameplate current [A].
    breaker_a : float
        Overcurrent device that protects it [A].
    terminals_degc : int
        Column of the terminals [degC].
    clause : str
        Clauses that lead to the size.
    """

    size: str
    material: Material
    ampacity_a: float
    needed_a: float
    breaker_a: float
    terminals_degc: InsulationDegC
    clause: str


def generator_breaker_a(nameplate_a: float, stated_a: float | None = None) -> float:
    """Give the main breaker of a generator [A].

    Parameters
    ----------
    nameplate_a : float
        Rated current [A].
    stated_a : float or None
        As its maker states it [A]; None: the next standard rating.

    References
    ----------
    NEC 240.6(A) (2017 to 2023).
    """
    return float(next_standard_size_a(nameplate_a)) if stated_a is None else stated_a


def terminal_degc(breaker_a: float, marked_degc: int | None = None) -> InsulationDegC:
    """Give the temperature that the terminals of a circuit are taken for [degC].

    Parameters
    ----------
    breaker_a : float
        Rating of the circuit [A].
    marked_degc : int or None
        What both ends are marked for: 60, 75 or 90; None: not known. 90 counts as 75, since the
        equipment of a dwelling is not listed for more (common practice, no source).

    Raises
    ------
    ValueError
        If the mark is none of these.

    References
    ----------
    NEC 110.14(C)(1) (2017 to 2023), from memory.
    """
    if marked_degc is None:
        return 60 if meets(breaker_a, COLD_TERMINALS_A) else 75
    if marked_degc not in (60, 75, 90):
        msg = f"Terminals are marked for 60, 75 or 90 degC, not for {marked_degc:g}."
        raise ValueError(msg)
    return 60 if marked_degc == 60 else 75


def ampacity_at_terminals_a(
    size: str, material: Material, terminals_degc: InsulationDegC, *, ambient_degc: float = 30.0,
    current_carrying: int = 2, insulation_degc: InsulationDegC = USUAL_INSULATION_DEGC,
) -> float:
    """Give what a conductor carries where it lies, no more than its terminals allow [A].

    Parameters
    ----------
    size, material : str
        As in `planner.physics.wire.conductor.ampacity_a`.
    terminals_degc, insulation_degc : {60, 75, 90}
        Columns of the terminals and of the insulation [degC].
    ambient_degc : float
        Air around it [degC].
    current_carrying : int
        Current-carrying conductors in the raceway; 2 of a 120/240 V feeder, whose neutral carries
        the unbalanced current only (310.15(E)).

    Raises
    ------
    ValueError
        If the table has no such conductor, or the place is too hot.

    Notes
    -----
    The corrections start from the column of the insulation; the column of the terminals, not
    corrected, is the limit.

    References
    ----------
    NEC 110.14(C), 310.15(B) and (C), Table 310.16 (numbering of 2020 and 2023).
    """
    where_it_lies_a = ampacity_a(size, material, insulation_degc, ambient_degc, current_carrying)
    return min(where_it_lies_a, ampacity_a(size, material, terminals_degc))


def is_protected(size: str, material: Material, carried_a: float, breaker_a: float) -> bool:
    """Say whether an overcurrent device protects a conductor.

    Parameters
    ----------
    size, material : str
        Of the conductor.
    carried_a : float
        Its ampacity where it lies [A].
    breaker_a : float
        Rating of the device [A].

    References
    ----------
    NEC 240.4(B): up to 800 A the next standard rating above the ampacity is permitted; 240.4(D):
    14, 12 and 10 AWG have a largest device (2017 to 2023).
    """
    if not meets(breaker_a, SMALL_CONDUCTOR_A[material].get(size, breaker_a)):
        return False
    if meets(breaker_a, carried_a):
        return True
    return (meets(breaker_a, LARGEST_NEXT_UP_A)
            and meets(breaker_a, next_standard_size_a(carried_a)))


def feeder_conductor(
    nameplate_a: float, breaker_a: float | None = None, *, material: Material = "copper",
    terminals_degc: int | None = None, ambient_degc: float = 30.0, current_carrying: int = 2,
    insulation_degc: InsulationDegC = USUAL_INSULATION_DEGC,
) -> FeederSize:
    """Find the smallest ungrounded conductors from a generator to its transfer equipment.

    They carry 115 % of the nameplate current all the way, though behind the generator's own breaker
    240.4 alone would do; and that breaker protects them. A feeder that carries the entire load of a
    dwelling may be smaller by 310.12, from 100 A to 400 A; a generator's is not taken for one,
    since it carries what is connected, which is less.

    Parameters
    ----------
    nameplate_a : float
        Rated current of the generator per leg, positive [A].
    breaker_a : float or None
        Its main breaker [A]; None: the next standard rating.
    material : {"copper", "aluminum"}
        Of the conductors.
    terminals_degc : int or None
        What the terminals at both ends are marked for; None: not known [degC].
    ambient_degc, current_carrying, insulation_degc
        As in `ampacity_at_terminals_a` [degC].

    Raises
    ------
    ValueError
        If no single conductor up to 500 kcmil fits: parallel conductors are not planned.

    References
    ----------
    NEC 445.13, 240.4(B) and (D), 240.6(A), 110.14(C), Table 310.16 (numbering of 2020 and 2023).
    """
    device_a = generator_breaker_a(nameplate_a, breaker_a)
    degc = terminal_degc(device_a, terminals_degc)
    needed_a = generator_conductor_a(nameplate_a)
    for size in SIZES:
        if size not in AMPACITY_A[material]:
            continue
        carried_a = ampacity_at_terminals_a(
            size, material, degc, ambient_degc=ambient_degc, current_carrying=current_carrying,
            insulation_degc=insulation_degc)
        if meets(needed_a, carried_a) and is_protected(size, material, carried_a, device_a):
            return FeederSize(size, material, carried_a, needed_a, device_a, degc,
                              "445.13, 240.4, 110.14(C), Table 310.16")
    msg = (f"No single {material} conductor up to 500 kcmil carries {needed_a:.1f} A behind "
           f"{device_a:g} A here; parallel conductors are not planned.")
    raise ValueError(msg)


def carrying_conductor(
    needed_a: float, terminals_degc: InsulationDegC, *, material: Material = "copper",
    ambient_degc: float = 30.0,
) -> str:
    """Find the smallest conductor that carries a current where it lies, its terminals counted.

    Parameters
    ----------
    needed_a : float
        Current that it must carry [A].
    terminals_degc, material, ambient_degc
        As in `ampacity_at_terminals_a` [degC].

    Raises
    ------
    ValueError
        If no single conductor up to 500 kcmil carries it.

    References
    ----------
    NEC 110.14(C), 240.4(D), Table 310.16 (numbering of 2020 and 2023).
    """
    return max(smallest_conductor(needed_a, material, USUAL_INSULATION_DEGC, ambient_degc),
               smallest_conductor(needed_a, material, terminals_degc), key=SIZES.index)


def neutral_conductor(
    neutral_a: float, feeder: FeederSize, least_size: str, *, laid_size: str | None = None,
    ambient_degc: float = 30.0,
) -> str:
    """Find the smallest neutral of a feeder.

    Where the lines are laid larger than the code asks, against voltage drop or for a start, the
    neutral is as large as they are: what a leg loses comes back through it.

    Parameters
    ----------
    neutral_a : float
        Load of the neutral by 220.61 [A].
    feeder : FeederSize
        The ungrounded conductors; the neutral is no larger than they are.
    least_size : str
        Equipment grounding conductor of the feeder, below which a neutral may not be.
    laid_size : str or None
        Ungrounded conductors that are laid; None: those of `feeder`.
    ambient_degc : float
        Air around it [degC].

    References
    ----------
    NEC 220.61, 215.2(A)(2) and 445.13 (2017 to 2023), the last two from memory. That the neutral
    grows with the lines is a choice, no source: the code asks it of the grounding conductor only
    (250.122(B)), and through that of the least size of the neutral.
    """
    if laid_size is not None and SIZES.index(laid_size) > SIZES.index(feeder.size):
        return laid_size
    for size in SIZES[SIZES.index(least_size):SIZES.index(feeder.size)]:
        if size in AMPACITY_A[feeder.material] and meets(neutral_a, ampacity_at_terminals_a(
                size, feeder.material, feeder.terminals_degc, ambient_degc=ambient_degc)):
            return size
    return feeder.size
