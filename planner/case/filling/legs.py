"""One-leg loads without a leg: balanced over the two legs, the same way on any machine."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from planner.case.filling.fill import Filled
from planner.facts.assumption import Assumption
from planner.facts.home import Leg, Load

SOURCE = "balanced over the legs, largest first; common practice, no source"


def balance(filled: Iterable[Filled]) -> tuple[Load, ...]:
    """Put each load with an open leg on the leg that carries less.

    The largest goes first, ids break ties, so the order of the file changes nothing.

    Parameters
    ----------
    filled : iterable of Filled
        Every load of the home.

    Returns
    -------
    tuple of Load
        In the order given; a chosen leg is marked as assumed.
    """
    items = list(filled)
    carried: dict[Leg, float] = {"L1": 0.0, "L2": 0.0}
    settled = sorted((item.load for item in items if not item.leg_is_open), key=lambda x: x.id)
    for load in settled:
        if load.leg != "both":
            carried[load.leg] += load.running_kva
    chosen: dict[str, Leg] = {}
    waiting = [item.load for item in items if item.leg_is_open]
    for load in sorted(waiting, key=lambda x: (-x.running_kva, x.id)):
        leg: Leg = "L2" if carried["L2"] < carried["L1"] else "L1"
        carried[leg] += load.running_kva
        chosen[load.id] = leg
    return tuple(_with_leg(item.load, chosen) if item.leg_is_open else item.load for item in items)


def _with_leg(load: Load, chosen: dict[str, Leg]) -> Load:
    leg = chosen[load.id]
    return replace(load, leg=leg, assumed=(*load.assumed, Assumption("leg", leg, SOURCE)))
