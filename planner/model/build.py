"""From tables to a model: variables, every rule, cost and coverage as expressions."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pulp

from planner.model.rules import RULES
from planner.model.rules.connect import transfers_of_book
from planner.model.tables import Tables
from planner.model.variables import Variables, declare
from planner.service.choice import DIRECT, MODULE, OFF, Choice


@dataclass(frozen=True)
class Model:
    """A built problem with its cost [USD] and coverage (0-1) as expressions, no objective yet."""

    problem: pulp.LpProblem
    tables: Tables
    chosen: Variables
    cost: pulp.LpAffineExpression
    coverage: pulp.LpAffineExpression


def build(tables: Tables, *, whole_slots: bool = True) -> Model:
    """Build the model of section "The formulation" in DEVELOPERS.md.

    Parameters
    ----------
    tables : Tables
        One home, one kind of transfer equipment, one or more generators.
    whole_slots : bool
        Whether a module load runs whole slots; False is looser and faster.
    """
    problem = pulp.LpProblem("standby", pulp.LpMaximize)
    chosen = declare(problem, tables, whole_slots=whole_slots)
    for rule in RULES:
        rule(problem, tables, chosen)
    return Model(problem, tables, chosen, _cost(tables, chosen), _coverage(tables, chosen))


def maximise_coverage(model: Model, budget_usd: float) -> None:
    """Set the objective to coverage, with an installed cost of at most the budget."""
    model.problem.sense = pulp.LpMaximize
    model.problem.setObjective(model.coverage)
    _set_row(model, "budget", model.cost <= budget_usd)


def minimise_cost(model: Model, coverage: float) -> None:
    """Set the objective to installed cost, with at least this coverage."""
    model.problem.sense = pulp.LpMinimize
    model.problem.setObjective(model.cost)
    _set_row(model, "goal", model.coverage >= coverage)


def _set_row(model: Model, name: str, row: pulp.LpConstraint) -> None:
    if name in {constraint.name for constraint in model.problem.constraints()}:
        model.problem.get_constraint_by_name(name).changeRHS(-row.constant)
    else:
        model.problem.addConstraint(row, name)


def _cost(tables: Tables, chosen: Variables) -> pulp.LpAffineExpression:
    menu = tables.menus[0]
    terms = [m.base * chosen.generator[g] for g, m in enumerate(tables.menus)]
    by_id = {transfer.id: transfer for transfer in menu.book.transfers}
    for x, name in enumerate(transfers_of_book(tables)):
        part = by_id[name]
        terms.append(part.installed_usd * chosen.transfer[x])
    for c, controller in enumerate(menu.controllers):
        terms.append(controller.installed_usd * chosen.controller[c])
    for i in range(tables.house.count):
        if tables.allowed[i, MODULE]:
            terms.append(float(menu.module_cost[i]) * chosen.module[i])
        if tables.allowed[i, OFF]:
            terms.append(float(menu.off_cost[i]) * chosen.off[i])
    terms += [float(menu.soft_cost[i, s]) * var for (i, s), var in chosen.soft.items()]
    return pulp.lpSum(terms)


def _coverage(tables: Tables, chosen: Variables) -> pulp.LpAffineExpression:
    if not tables.value.any():
        return pulp.lpSum([1.0])
    value = tables.value
    terms = [float(value[i] * tables.house.called[i]) * chosen.direct[i]
             for i in np.flatnonzero(value).tolist()]
    terms += [float(value[i] * tables.slot_weight[t]) * run
              for (i, t), run in chosen.run.items() if value[i]]
    return pulp.lpSum(terms)


def read_choice(model: Model, generator: int = 0) -> Choice:
    """Read the solver's point: connections and soft starters rounded, order left by the home's ids.

    The order that the point suggests (who is served when it calls) is only a hint; the search over
    orders starts from it: loads that never wait in the point come first.
    """
    tables, chosen = model.tables, model.chosen
    connection = []
    for i in range(tables.house.count):
        values = {how: _value(place[i]) for how, place in
                  ((OFF, chosen.off), (DIRECT, chosen.direct), (MODULE, chosen.module))}
        connection.append(max(values, key=lambda how: (round(values[how], 6), how == DIRECT)))
    soft = [0] * tables.house.count
    for (i, s), var in chosen.soft.items():
        if _value(var) > 0.5:
            soft[i] = s
    modules = [i for i, how in enumerate(connection) if how == MODULE]
    served = {i: _served_share(model, i) for i in modules}
    order = sorted(modules, key=lambda i: (-served[i], tables.house.wait_slots[i], i))
    return Choice(tuple(connection), tuple(soft), tuple(order))


def _served_share(model: Model, i: int) -> float:
    weight = model.tables.slot_weight
    served = sum(weight[t] * _value(run) for (j, t), run in model.chosen.run.items() if j == i)
    return round(float(served) / max(float(model.tables.house.called[i]), 1e-9), 4)


def _value(term: object) -> float:
    if isinstance(term, float):
        return term
    return float(getattr(term, "varValue", 0.0) or 0.0)
