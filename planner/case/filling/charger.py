"""A vehicle charger: its breaker is no charging current, and its setting may be lower than both."""

from __future__ import annotations

from dataclasses import replace

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.filling.running import Draw
from planner.case.library import Kind
from planner.units import magnitude

CONTINUOUS = 1.25
"""NEC 625.42 (2017 to 2023; charging is a continuous load, from memory): a circuit carries 125 % of
the current, so a 50 A breaker is a 40 A charger."""
SOURCE = "breaker / 1.25, NEC 625.42 (2017 to 2023, from memory)"


def on_its_breaker(entry: LoadEntry, kind: Kind, ledger: Ledger) -> LoadEntry:
    """Take the charging current from the breaker, where the file gives no size.

    Parameters
    ----------
    entry, kind
        The load and its kind; only a vehicle charger is changed.
    ledger : Ledger
        Takes the assumption.
    """
    if kind.category != "vehicle" or entry.breaker is None:
        return entry
    if entry.size is not None or entry.running is not None or entry.nameplate is not None:
        return entry
    text = f"{magnitude(entry.breaker, 'A') / CONTINUOUS:.4g} A"
    ledger.assume("size", text, SOURCE)
    return entry.model_copy(update={"size": text})


def at_its_setting(entry: LoadEntry, draw: Draw, ledger: Ledger) -> Draw:
    """Let a charger draw what it is set to; the calculated load still counts its nameplate.

    Parameters
    ----------
    entry : LoadEntry
        The load as the file has it.
    draw : Draw
        By its size.
    ledger : Ledger
        Refuses a setting above the size, and warns of a breaker that is too small.
    """
    size_a = 1000.0 * draw.kva / draw.volts
    set_a = size_a if entry.setting is None else magnitude(entry.setting, "A")
    if set_a > size_a * (1.0 + 1e-6):
        ledger.refuse("setting", f"{set_a:g} A is above the {size_a:.3g} A of the charger.",
                      "A setting only lowers the current.")
        return draw
    breaker_a = set_a * CONTINUOUS if entry.breaker is None else magnitude(entry.breaker, "A")
    if set_a * CONTINUOUS > breaker_a * (1.0 + 1e-6):
        ledger.doubt("breaker", f"{breaker_a:g} A carry {breaker_a / CONTINUOUS:g} A of charging, "
                     f"not {set_a:.3g} A (NEC 625.42).",
                     "Write the setting of the charger, or check the breaker.")
    if entry.setting is None:
        return draw
    share = set_a / size_a
    return replace(draw, kw=draw.kw * share, kva=draw.kva * share, plate_kva=draw.kva)
