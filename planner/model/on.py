"""What is on in a slot, in terms of the variables; and the limits that belong to a generator."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from planner.arrays import Floats
from planner.model.linear import Pair, times
from planner.model.tables import Tables
from planner.model.variables import Variables

ROOM = 1e-6
"""The solver's own tolerance, given so that no slot that the replay accepts is cut off."""


def on(tables: Tables, chosen: Variables, i: int, t: int) -> list[Pair]:
    """Terms whose sum is 1 when load i is on in slot t."""
    if (i, t) in chosen.awake:
        return [(chosen.awake[i, t], 1.0)]
    return by_itself(tables, chosen, i, t)


def by_itself(tables: Tables, chosen: Variables, i: int, t: int) -> list[Pair]:
    """Terms whose sum is 1 when load i is on in slot t for its own sake."""
    found: list[Pair] = [(chosen.direct[i], 1.0)] if tables.certain[i, t] > 0.0 else []
    if (i, t) in chosen.run:
        found.append((chosen.run[i, t], 1.0))
    return found


def for_a_share(tables: Tables, chosen: Variables, i: int, t: int) -> list[Pair]:
    """Terms whose sum is the share of slot t that load i runs for its own sake."""
    share = float(tables.certain[i, t])
    found: list[Pair] = [(chosen.direct[i], share)] if share > 0.0 else []
    if (i, t) in chosen.share:
        found.append((chosen.share[i, t], 1.0))
    return found


def power_on(
    tables: Tables, chosen: Variables, t: int, draw: Floats, without: Iterable[int] = ()
) -> list[Pair]:
    """Terms whose sum is what all loads that are on in slot t draw; `draw` (n,) is of each."""
    left_out = set(without)
    return [pair for i in np.flatnonzero(tables.possible[:, t] & (draw != 0.0)).tolist()
            if i not in left_out for pair in times(on(tables, chosen, i, t), float(draw[i]))]


def firm_load(tables: Tables, chosen: Variables, u: int, i: int) -> list[Pair]:
    """Terms whose sum is 1 when load i can be on without a module in set u."""
    if (i, u) in chosen.firm_awake:
        return [(chosen.firm_awake[i, u], 1.0)]
    return chosen.firm(i) if i in tables.firm_sets[u].members else []


def firm_on(tables: Tables, chosen: Variables, u: int, amount: Floats) -> list[Pair]:
    """Terms whose sum is the amount of all that can be on without a module in set u."""
    return [pair for i in tables.firm_sets[u].loads if amount[i] != 0.0
            for pair in times(firm_load(tables, chosen, u, i), float(amount[i]))]


def not_bought(tables: Tables, chosen: Variables, g: int) -> list[Pair]:
    """Terms whose sum is 1 when generator g is not bought."""
    return [(1.0, 1.0), (chosen.generator[g], -1.0)] if len(tables.menus) > 1 else []


def saved(
    chosen: Variables, i: int, bare: float, softened: Floats, most: float, firm: bool = False
) -> list[Pair]:
    """Terms whose sum is what the soft starter of load i takes off, at most `most`, none below 0.

    `softened` (1 + soft starters,) is the amount with each; `firm` counts those alone that always
    are connected.
    """
    fitted = chosen.soft_firm if firm else chosen.soft
    return [(fitted[i, s], min(most, max(0.0, bare - float(softened[s]))))
            for s in chosen.starters.get(i, [])]


def plain(name: str) -> str:
    """Name of a row in the letters that an LP file accepts."""
    return "".join(letter if letter.isalnum() else "_" for letter in name)
