"""The branch breaker that the file gives, held against what the load draws."""

from __future__ import annotations

from planner.case.file import LoadEntry
from planner.case.filling.charger import rated_a
from planner.case.filling.ledger import Ledger
from planner.case.filling.running import Draw
from planner.case.filling.sizes import Size
from planner.case.library import Kind
from planner.physics.wire.branch import CONTINUOUS, vehicle_a
from planner.physics.wire.conductor import next_standard_size_a
from planner.units import magnitude

ROUNDED_A = 0.5
"""Fractions of an ampere below one half drop (NEC 220.5(B), 2017 to 2023)."""


def breaker_of(
    entry: LoadEntry, kind: Kind, size: Size | None, draw: Draw, ledger: Ledger
) -> float | None:
    """Give the branch breaker [A]: `breaker`, else what the nameplate allows at most, else None.

    Parameters
    ----------
    entry, kind, size
        The load, its kind, its size if there is one.
    draw : Draw
        What it draws.
    ledger : Ledger
        Takes the findings.

    Returns
    -------
    float or None
        A charger that is set to less than it could give keeps the breaker of its full size.
    """
    drawn_a = 1000.0 * max(draw.kva, draw.plate_kva) / draw.volts
    if entry.breaker is None:
        full_a = rated_a(entry, size) if entry.current_setting is not None else None
        if kind.category == "vehicle" and full_a is not None:
            return float(next_standard_size_a(CONTINUOUS * full_a))
        return magnitude(entry.mop, "A") if entry.mop is not None else None
    breaker_a = magnitude(entry.breaker, "A")
    if entry.mop is not None and breaker_a > magnitude(entry.mop, "A"):
        ledger.refuse("breaker", f"a {breaker_a:g} A breaker is above mop "
                      f"({magnitude(entry.mop, 'A'):g} A).", "Check the nameplate and the panel.")
    if kind.category == "vehicle":
        if drawn_a >= vehicle_a(breaker_a) + ROUNDED_A:
            ledger.refuse("breaker", f"a {breaker_a:g} A breaker carries a charger of "
                          f"{vehicle_a(breaker_a):g} A, not of {drawn_a:.3g} A (NEC 625.41).",
                          f'Set it lower: current_setting = "{vehicle_a(breaker_a):g} A".')
    elif drawn_a > breaker_a * (1.0 + 1e-9):
        ledger.refuse("breaker", f"a {breaker_a:g} A breaker does not carry the {drawn_a:.3g} A "
                      "that the load draws.", "Check both.")
    return breaker_a
