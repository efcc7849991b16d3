"""Single-phase motors: full-load current by horsepower and back, locked-rotor kVA by code letter.

Between two rows of a table the safe row counts, never a line between them.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping

FULL_LOAD_A: Mapping[float, Mapping[int, float]] = {
    1 / 6: {115: 4.4, 200: 2.5, 208: 2.4, 230: 2.2},
    1 / 4: {115: 5.8, 200: 3.3, 208: 3.2, 230: 2.9},
    1 / 3: {115: 7.2, 200: 4.1, 208: 4.0, 230: 3.6},
    1 / 2: {115: 9.8, 200: 5.6, 208: 5.4, 230: 4.9},
    3 / 4: {115: 13.8, 200: 7.9, 208: 7.6, 230: 6.9},
    1.0: {115: 16.0, 200: 9.2, 208: 8.8, 230: 8.0},
    1.5: {115: 20.0, 200: 11.5, 208: 11.0, 230: 10.0},
    2.0: {115: 24.0, 200: 13.8, 208: 13.2, 230: 12.0},
    3.0: {115: 34.0, 200: 19.6, 208: 18.7, 230: 17.0},
    5.0: {115: 56.0, 200: 32.2, 208: 30.8, 230: 28.0},
    7.5: {115: 80.0, 200: 46.0, 208: 44.0, 230: 40.0},
    10.0: {115: 100.0, 200: 57.5, 208: 55.0, 230: 50.0},
}
"""NEC Table 430.248, full-load current of single-phase motors [A] by hp and rated volts; read in
copies of 1999 (there Table 430-148) and of a later edition, with the same values."""

CODE_LETTER_KVA_PER_HP: Mapping[str, tuple[float, float | None]] = {
    "A": (0.0, 3.14),
    "B": (3.15, 3.54),
    "C": (3.55, 3.99),
    "D": (4.0, 4.49),
    "E": (4.5, 4.99),
    "F": (5.0, 5.59),
    "G": (5.6, 6.29),
    "H": (6.3, 7.09),
    "J": (7.1, 7.99),
    "K": (8.0, 8.99),
    "L": (9.0, 9.99),
    "M": (10.0, 11.19),
    "N": (11.2, 12.49),
    "P": (12.5, 13.99),
    "R": (14.0, 15.99),
    "S": (16.0, 17.99),
    "T": (18.0, 19.99),
    "U": (20.0, 22.39),
    "V": (22.4, None),
}
"""NEC Table 430.7(B) (2017 to 2023), locked-rotor kVA per hp by code letter: lowest and highest of
each range; V has no upper end. There is no I, O or Q."""

_HP = tuple(sorted(FULL_LOAD_A))
_NOMINAL = {115: 115, 120: 115, 200: 200, 208: 208, 230: 230, 240: 230}


def full_load_a(hp: float, volts: float) -> float:
    """Look up the full-load current of a single-phase motor [A].

    A horsepower between two rows takes the next larger row, which does not understate it.

    Parameters
    ----------
    hp : float
        Rated shaft power, above 0 and up to 10 [hp].
    volts : float
        115, 120, 200, 208, 230 or 240: rated or nominal voltage [V].

    Raises
    ------
    ValueError
        If the table has no such voltage, or ends below the horsepower.

    References
    ----------
    NEC Table 430.248 (2017 to 2023).
    """
    column = _column(volts)
    place = bisect_left(_HP, hp * (1.0 - 3e-3))  # 0.167 hp means the row of 1/6 hp
    if hp <= 0.0 or place == len(_HP):
        msg = (f"NEC Table 430.248 holds motors above 0 and up to {_HP[-1]:g} hp, not {hp:g} hp; "
               "give the amperes of the nameplate.")
        raise ValueError(msg)
    return FULL_LOAD_A[_HP[place]][column]


def equivalent_hp(amperes: float, volts: float) -> float:
    """Give the horsepower that the running current of a single-phase motor stands for [hp].

    A current between two rows takes the next larger one. Beyond the last row horsepower goes on in
    proportion to the current (no source; the table ends there).

    Parameters
    ----------
    amperes : float
        Running current [A]; not negative.
    volts : float
        115, 120, 200, 208, 230 or 240: rated or nominal voltage [V].

    Raises
    ------
    ValueError
        If the table has no such voltage, or the current is negative.

    References
    ----------
    NEC 440.12(A)(1) with Table 430.248, from memory: horsepower of hermetic motors.
    """
    column = _column(volts)
    if amperes < 0.0:
        msg = f"A current is not negative; got {amperes:g} A."
        raise ValueError(msg)
    for hp in _HP:
        if amperes <= FULL_LOAD_A[hp][column] * (1.0 + 1e-9):
            return hp
    return _HP[-1] * amperes / FULL_LOAD_A[_HP[-1]][column]


def _column(volts: float) -> int:
    column = _NOMINAL.get(round(volts))
    if column is None or round(volts) != volts:
        msg = f"NEC Table 430.248 has no column for {volts:g} V; use one of {sorted(_NOMINAL)}."
        raise ValueError(msg)
    return column
