"""Electric heat in stages: each is a load of its own that helps when those before it fall short."""

from __future__ import annotations

from dataclasses import replace

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.library import Kind
from planner.facts.home import Use


def sized_as_stage(entry: LoadEntry, kind: Kind, ledger: Ledger) -> LoadEntry:
    """Give a stage without a size its share of the usual heater.

    Parameters
    ----------
    entry, kind
        The load and its kind.
    ledger : Ledger
        Takes the assumption, and a warning where the kind has no stages.
    """
    if entry.stage is None:
        return entry
    if kind.stage is None:
        ledger.doubt("stage", f'it is not read for kind "{kind.name}".', "Leave it out.")
        return entry.model_copy(update={"stage": None})
    option = kind.sizes[0]
    known = (entry.size, entry.running, entry.mca, entry.nameplate, entry.motor)
    if option.default is None or any(one is not None for one in known):
        return entry
    text = f"{option.default / entry.stage[1]:.4g} {option.unit}"
    ledger.assume("size", text, f"the usual heater in {entry.stage[1]} stages; common practice, "
                  "no source", 0.3)
    return entry.model_copy(update={"size": text})


def staged(use: Use, stage: tuple[int, int]) -> Use:
    """Give a stage its slice of the whole heater's use: it starts where the one before is full.

    Parameters
    ----------
    use : Use
        Of all stages together; only ``heating`` is sliced.
    stage : tuple of int
        Which of how many.
    """
    place, count = stage
    if use.kind != "heating":
        return use
    full = use.full_duty * count  # stages that the design temperature needs
    fall_degf = use.balance_degf - use.design_degf
    if place - 1 >= full - 1e-9 or full <= 0.0:
        return Use(kind="never")
    last = min(float(place), full)
    return replace(use, balance_degf=use.balance_degf - fall_degf * (place - 1) / full,
                   design_degf=use.balance_degf - fall_degf * last / full,
                   full_duty=last - (place - 1))
