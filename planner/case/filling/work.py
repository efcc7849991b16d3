"""How a load works: the store, task or clock that its kind and its use make of it."""

from __future__ import annotations

from collections.abc import Mapping

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.library import Kind, groups
from planner.facts.comfort import Nature
from planner.facts.home import SLOT_H, Use
from planner.units import magnitude

PRACTICE = "common practice, no source"
ROOM = "room"  # of the library's comforts
THERMAL = frozenset({"cooling", "heating"})
WINDOWS = frozenset({"events", "calls", "never"})
"""Uses that say when a piece of work begins and how long it takes."""
WAITING = frozenset({"task", "battery"})
"""Natures that may wait: what keeps a level catches up, what the clock wants does not wait."""
MEAL_PAUSE_SLOTS = 1  # a meal survives 15 min; common practice, no source


def usual_importance(kind: Kind) -> int:
    """Give what a kind matters unless the family says: its own, else that of its comfort."""
    if kind.importance is not None:
        return kind.importance
    return groups()[kind.comfort or ROOM].importance


def nature_of(kind: Kind, use: Mapping[str, Use]) -> Nature:
    """Say how a load works: by its use where that says more than its kind.

    What follows the weather holds a room. A task and a car need events; without them, and where
    what holds a room is given hours instead of the weather, a load is wanted by the clock.
    """
    kinds = {one.kind for one in use.values()}
    if kinds & THERMAL:
        return "room"
    if kind.nature in ("room", "woken") or (
            kind.nature in ("task", "battery") and not kinds <= WINDOWS):
        return "clock"
    return kind.nature


def pause_slots(
    entry: LoadEntry, kind: Kind, nature: Nature, wait_h: float, ledger: Ledger
) -> int:
    """Give the slots that a task may be refused after it was begun.

    A meal one, what is interruptible as many as it may wait, what must not be cut none.
    """
    if nature != "task":
        for key in ("pause", "interruptible"):
            if getattr(entry, key) is not None:
                ledger.doubt(key, "it is not read: only a piece of work with a deadline is begun "
                             "and ended.", "Leave it out.")
        return 0
    if (entry.restarts or kind.restarts) == "must not":
        return 0
    if entry.pause is not None:
        if entry.interruptible:
            ledger.doubt("interruptible", "it is not read, because pause is given and says more.",
                         "Leave one of the two out.")
        return _slots(magnitude(entry.pause, "h"))
    usual = MEAL_PAUSE_SLOTS if kind.comfort == "meals" else 0
    if entry.interruptible is not None:
        return _slots(wait_h) if entry.interruptible else usual
    slots = _slots(wait_h) if kind.interruptible else usual
    ledger.assume("pause", f"{slots * SLOT_H:g} h", PRACTICE)
    return slots


def _slots(hours: float) -> int:
    return int(hours / SLOT_H + 1e-9)


def behind_degf(entry: LoadEntry, nature: Nature, ledger: Ledger) -> float | None:
    """Give how far behind the set point a stage of a room comes on; None where it is usual."""
    if entry.behind is None:
        return None
    if nature != "room":
        ledger.doubt("behind", "it is not read: nothing holds a temperature by the weather.",
                     "Leave it out.")
        return None
    return magnitude(entry.behind, "degF")
