"""Rules about what may be on together."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.tables import Tables
from planner.model.variables import Variables, short
from planner.service.choice import DIRECT

ROOM = 1e-6  # the solver's own tolerance, given so that no slot the replay accepts is cut off


def on_terms(tables: Tables, chosen: Variables, i: int, t: int) -> list[pulp.LpVariable | float]:
    """Terms whose sum is 1 when load i is on in slot t."""
    if (i, t) in chosen.awake:
        return [chosen.awake[i, t]]
    terms = [chosen.direct[i]] if tables.house.calls[i, t] else []
    return [*terms, chosen.run[i, t]] if (i, t) in chosen.run else terms


def rows_hold_what_is_on(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """What is on fits the generator's power, its amperes on each leg, and each panel's rating.

    Σ_i draw_ri · on_it ≤ Σ_g cap_rg · generator_g for every row r and slot t.
    """
    caps = np.array([supply.caps(tables.house) for supply in tables.supplies])
    possible = possibly_on(tables, chosen)
    for r, name in enumerate(tables.house.row_names):
        draw = tables.house.draw[r]
        cap = pulp.lpSum(float(caps[g, r]) * term for g, term in chosen.generator.items())
        tight = np.flatnonzero(draw @ possible > caps[:, r].min())
        for t in tight:
            load = pulp.lpSum(float(draw[i]) * term for i in np.flatnonzero(possible[:, t] * draw)
                              for term in on_terms(tables, chosen, int(i), int(t)))
            problem += load - cap <= ROOM, f"row_{plain(name)}_{t}"


def possibly_on(tables: Tables, chosen: Variables) -> np.ndarray:
    """Whether each load can be on in each slot at all, as 0.0 or 1.0, shape (n, T)."""
    possible = tables.house.calls & tables.allowed[:, DIRECT][:, None]
    for i, t in chosen.run:
        possible[i, t] = True
    for k, t in chosen.awake:
        possible[k, t] = True
    return possible.astype(np.float64)


def never_on_together(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """Heating and cooling, or two stages, are never on together.

    on_it + on_kt ≤ 1 for every excluding pair (i, k) and slot t.
    """
    for i, k in np.argwhere(np.triu(tables.house.exclusive)):
        pair = f"{short(tables.house.ids[i])}_{short(tables.house.ids[k])}"
        for t in range(tables.house.slots):
            one = on_terms(tables, chosen, int(i), t)
            other = on_terms(tables, chosen, int(k), t)
            if one and other:
                problem += pulp.lpSum([*one, *other]) <= 1, f"apart_{pair}_{t}"


def plain(name: str) -> str:
    """Name of a row in the letters that an LP file accepts."""
    return "".join(letter if letter.isalnum() else "_" for letter in name)
