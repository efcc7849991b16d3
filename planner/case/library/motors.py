"""Single-phase motor tables that nameplates refer to.

References
----------
NEC (2017 to 2023) Table 430.248 (full-load current), Table 430.7(B) (code letters), 440.12(A)
(horsepower that a hermetic compressor's current stands for).
"""

from __future__ import annotations

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any

from planner.case.library.curve import interpolate


@cache
def _tables() -> dict[str, Any]:
    path = files("planner.case.library").joinpath("motors.toml")
    return tomllib.loads(path.read_text(encoding="utf-8"))


def full_load_a(hp: float, volts: int) -> float:
    """Full-load current of a single-phase motor [A], between rows by a straight line.

    Parameters
    ----------
    hp : float
        Shaft power, up to 10 hp; below 1/6 hp the line runs to zero.
    volts : int
        120 (the table's 115 V column) or 240 (its 230 V column).

    Raises
    ------
    ValueError
        More than 10 hp.

    References
    ----------
    NEC Table 430.248 (2017 to 2023).
    """
    table = _tables()["full_load"]
    column = "both_legs_a" if volts == 240 else "one_leg_a"
    return interpolate(tuple(zip([0.0, *table["hp"]], [0.0, *table[column]], strict=True)), hp)


def equivalent_hp(amperes: float, volts: int) -> float:
    """Horsepower that a motor's running current stands for, at most 10 hp.

    References
    ----------
    NEC 440.12(A) with Table 430.248, from memory.
    """
    table = _tables()["full_load"]
    column = table["both_legs_a" if volts == 240 else "one_leg_a"]
    points = tuple(zip([0.0, *column], [0.0, *table["hp"]], strict=True))
    return interpolate(points, min(amperes, column[-1]))


def code_letter_kva_per_hp(letter: str) -> float | None:
    """Upper end of a code letter's locked-rotor kVA per hp; None for V, which is open-ended.

    References
    ----------
    NEC Table 430.7(B) (2017 to 2023).
    """
    found = _tables()["code_letters"].get(letter)
    return None if found is None else float(found)
