"""Every variable of the model, by what it decides; names carry ids, never labels."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

import pulp

from planner.facts.price_book import Transfer
from planner.model.tables import Tables
from planner.service.choice import DIRECT, MODULE, OFF

Term: TypeAlias = "pulp.LpVariable | float"


@dataclass
class Variables:
    """Variables, or constants where there is nothing to decide.

    generator[g], transfer[x], controller[c]
        1 if bought.
    direct[i], module[i], off[i]
        Connection of load i.
    soft[i, s]
        1 if load i gets soft starter s (1 …).
    soft_direct[i, s]
        1 if load i is direct and has soft starter s.
    run[i, t]
        1 if module load i serves a call in slot t.
    backlog[i, t]
        Calls of load i left over at the end of slot t that can still be served.
    awake[k, t]
        1 if load k, which others wake, is on in slot t.
    climate
        VA of the largest of cooling and heating among the direct loads.
    """

    generator: dict[int, Term] = field(default_factory=dict)
    transfer: dict[int, Term] = field(default_factory=dict)
    controller: dict[int, Term] = field(default_factory=dict)
    direct: dict[int, Term] = field(default_factory=dict)
    module: dict[int, Term] = field(default_factory=dict)
    off: dict[int, Term] = field(default_factory=dict)
    soft: dict[tuple[int, int], Term] = field(default_factory=dict)
    soft_direct: dict[tuple[int, int], Term] = field(default_factory=dict)
    run: dict[tuple[int, int], Term] = field(default_factory=dict)
    backlog: dict[tuple[int, int], Term] = field(default_factory=dict)
    awake: dict[tuple[int, int], Term] = field(default_factory=dict)
    climate: Term = 0.0


def short(load_id: str) -> str:
    """Id in the letters that an LP file accepts; ids hold no underscore, so nothing collides."""
    return load_id.replace("-", "_")


def declare(problem: pulp.LpProblem, tables: Tables, *, whole_slots: bool) -> Variables:
    """Create the variables of the model.

    Parameters
    ----------
    problem : pulp.LpProblem
        Gets the variables.
    tables : Tables
        The home and what can be bought.
    whole_slots : bool
        Whether `run` must be 0 or 1; else it may be a share of a slot, which is looser and faster.
    """
    chosen = Variables()
    _declare_equipment(problem, tables, chosen)
    _declare_connections(problem, tables, chosen)
    _declare_turns(problem, tables, chosen, "Binary" if whole_slots else "Continuous")
    chosen.climate = problem.add_variable("climate_va", 0)
    return chosen


def _declare_equipment(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    several = len(tables.menus) > 1
    for g, menu in enumerate(tables.menus):
        name = f"generator_{short(menu.generator.id)}"
        chosen.generator[g] = problem.add_variable(name, 0, 1, "Binary") if several else 1.0
    for x, transfer in enumerate(transfers_of(tables)):
        chosen.transfer[x] = problem.add_variable(f"transfer_{short(transfer.id)}", 0, 1, "Binary")
    for c, controller in enumerate(tables.menus[0].controllers):
        name = f"controller_{short(controller.id)}"
        chosen.controller[c] = problem.add_variable(name, 0, 1, "Binary")


def _declare_connections(problem: pulp.LpProblem, tables: Tables, chosen: Variables) -> None:
    ways = ((DIRECT, "direct", chosen.direct), (MODULE, "module", chosen.module),
            (OFF, "off", chosen.off))
    costs = tables.menus[0].soft_cost
    for i, load_id in enumerate(tables.house.ids):
        name = short(load_id)
        for way, word, place in ways:
            if tables.only_direct[i]:
                place[i] = 1.0 if way == DIRECT else 0.0
            elif tables.allowed[i, way]:
                place[i] = problem.add_variable(f"{word}_{name}", 0, 1, "Binary")
            else:
                place[i] = 0.0
        for s in range(1, costs.shape[1]):
            if costs[i, s] < float("inf"):
                chosen.soft[i, s] = problem.add_variable(f"soft_{s}_{name}", 0, 1, "Binary")
                chosen.soft_direct[i, s] = problem.add_variable(f"soft_direct_{s}_{name}", 0, 1)


def _declare_turns(
    problem: pulp.LpProblem, tables: Tables, chosen: Variables, category: str
) -> None:
    names = [short(load_id) for load_id in tables.house.ids]
    for i in tables.may_shed.tolist():
        for t in range(tables.house.slots):
            if tables.recent_calls[i, t]:
                chosen.run[i, t] = problem.add_variable(f"run_{names[i]}_{t}", 0, 1, category)
            if tables.backlog_cap[i, t]:
                cap = float(tables.backlog_cap[i, t])
                chosen.backlog[i, t] = problem.add_variable(f"backlog_{names[i]}_{t}", 0, cap)
    for k in tables.woken.tolist():
        for t in range(tables.house.slots):
            chosen.awake[k, t] = problem.add_variable(f"awake_{names[k]}_{t}", 0, 1)


def transfers_of(tables: Tables) -> list[Transfer]:
    """All transfer equipment that suits some generator, each once, in the order of the book."""
    wanted = {transfer.id for menu in tables.menus for transfer in menu.transfers}
    return [transfer for transfer in tables.menus[0].book.transfers if transfer.id in wanted]
