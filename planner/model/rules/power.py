"""Rules about what may be on together."""

from __future__ import annotations

import numpy as np
import pulp

from planner.model.linear import Pair, total
from planner.model.on import ROOM, firm_on, on, plain, power_on
from planner.model.tables import Tables
from planner.model.variables import Variables, short


def direct_loads_fit_together(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """All that can be on without a module fits together, what is left to be opened by hand too.

    Σ_i draw_ri · firm_iu ≤ Σ_g cap_rg · generator_g for every row r and every set u of loads that
    can be on in the same slot of a day (only sets that are no part of another); firm_iu is
    direct_i + hand_i for i in u, or what of it is woken.
    """
    for u, one in enumerate(tables.firm_sets):
        for r, name in enumerate(tables.house.row_names):
            draw = tables.house.draw[one.day, r]
            if draw[list(one.loads)].sum() > tables.caps[:, r].min():
                load = firm_on(tables, chosen, u, draw)
                row = total([*load, *_cap(tables, chosen, r)]) <= ROOM
                problem += row, f"direct_{plain(name)}_{u}"


def rows_hold_what_is_on(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """What is on fits the generator's power, its amperes on each leg, and each panel's rating.

    Σ_i draw_ri · on_it ≤ Σ_g cap_rg · generator_g for every row r and slot t.
    """
    days = tables.slots.day
    for r, name in enumerate(tables.house.row_names):
        most = (tables.house.draw[days, r, :].T * tables.possible).sum(axis=0)
        moving = tables.turns.any(axis=0)
        for t in np.flatnonzero((most > tables.caps[:, r].min()) & moving).tolist():
            load = power_on(tables, chosen, t, tables.house.draw[days[t], r])
            row = total([*load, *_cap(tables, chosen, r)]) <= ROOM
            problem += row, f"row_{plain(name)}_{t}"


def _cap(tables: Tables, chosen: Variables, r: int) -> list[Pair]:
    return [(term, -float(tables.caps[g, r])) for g, term in chosen.generator.items()]


def never_on_together(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    """Heating and cooling are never on together, nor are both direct; nor two that never fit.

    direct_i + direct_k ≤ 1, and on_it + on_kt ≤ 1, for every excluding pair (i, k) and slot t;
    on_it + on_kt ≤ 1 where i and k, with what they wake, fit no generator beside what can only be
    direct. (The rows of power and starts say the same of whole slots, less tightly of shares.)
    """
    for i, k in np.argwhere(np.triu(tables.house.exclusive)).tolist():
        both = total([(chosen.direct[i], 1.0), (chosen.direct[k], 1.0)])
        if len(both) == 2 or both.constant:
            problem += both <= 1, f"apart_{_pair(tables, i, k)}"
        for t in np.flatnonzero(tables.possible[i] & tables.possible[k]).tolist():
            _apart(problem, tables, chosen, i, k, t)
    for (i, k), apart in tables.beside.apart.items():
        if not tables.house.exclusive[i, k]:
            for t in np.flatnonzero(apart & tables.possible[i] & tables.possible[k]).tolist():
                _apart(problem, tables, chosen, i, k, t)


def _apart(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, i: int, k: int, t: int
) -> None:
    row = total([*on(tables, chosen, i, t), *on(tables, chosen, k, t)]) <= 1
    problem += row, f"apart_{_pair(tables, i, k)}_{t}"


def _pair(tables: Tables, i: int, k: int) -> str:
    return f"{short(tables.house.ids[i])}_{short(tables.house.ids[k])}"
