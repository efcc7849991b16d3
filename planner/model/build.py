"""From tables to a model: variables, every rule, cost and coverage as expressions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import pulp

from planner.model.coverage import coverage_of, kept_in
from planner.model.linear import Pair, total
from planner.model.rules import RULES
from planner.model.tables import Tables
from planner.model.values import value
from planner.model.variables import Variables, declare, transfers_of
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice


@dataclass(frozen=True)
class Model:
    """A built problem with its cost [USD] and coverage (0-1) as expressions, no objective yet."""

    problem: pulp.LpProblem
    tables: Tables
    chosen: Variables
    cost: pulp.LpAffineExpression
    coverage: pulp.LpAffineExpression


def build(tables: Tables, *, whole_slots: bool = True) -> Model:
    """Build the model of `planner/model/FORMULATION.md`.

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
    return Model(problem, tables, chosen, _cost(tables, chosen), coverage_of(tables, chosen))


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


def fix(model: Model, choice: Choice) -> None:
    """Let only the connections and soft starters of a choice stand.

    Raises
    ------
    ValueError
        If one of them is not open in the model.
    """
    chosen = model.chosen
    ways = {OFF: chosen.off, DIRECT: chosen.direct, MODULE: chosen.module, BY_HAND: chosen.hand}
    for i, how in enumerate(choice.connection):
        for way, place in ways.items():
            _pin(model, place[i], 1.0 if way == how else 0.0)
        if i in chosen.sensing:
            _pin(model, chosen.sensing[i], float(i in choice.sensing))
        _pin(model, chosen.kept_open.get(i, 0.0), float(i in choice.kept_open))
        for s in chosen.starters.get(i, []):
            _pin(model, chosen.soft[i, s], 1.0 if choice.soft_start[i] == s else 0.0)
        if choice.soft_start[i] and (i, choice.soft_start[i]) not in chosen.soft:
            _refuse(model, i)


def _pin(model: Model, term: object, wanted: float) -> None:
    if isinstance(term, pulp.LpVariable):
        term.lowBound = term.upBound = wanted
    elif term != wanted:
        msg = f"a connection of the choice is not open in the model ({term}, asked {wanted})"
        raise ValueError(msg)


def _refuse(model: Model, i: int) -> None:
    msg = f"the soft starter does not fit {model.tables.house.ids[i]}"
    raise ValueError(msg)


def _set_row(model: Model, name: str, row: pulp.LpConstraint) -> None:
    if name in {constraint.name for constraint in model.problem.constraints()}:
        model.problem.get_constraint_by_name(name).changeRHS(-row.constant)
    else:
        model.problem.addConstraint(row, name)


def _cost(tables: Tables, chosen: Variables) -> pulp.LpAffineExpression:
    menu = tables.menus[0]
    terms: list[Pair] = [(chosen.generator[g], one.base) for g, one in enumerate(tables.menus)]
    terms += [(chosen.transfer[x], one.installed_usd)
              for x, one in enumerate(transfers_of(tables))]
    terms += [(chosen.controller[c], one.installed_usd)
              for c, one in enumerate(menu.controllers)]
    for i in range(tables.house.count):
        if tables.allowed[i, MODULE]:
            terms.append((chosen.module[i], float(menu.module_cost[i])))
        if i in chosen.sensing:
            more_usd = float(menu.sensing_cost[i] - menu.module_cost[i])
            terms.append((chosen.sensing[i], more_usd))
        if tables.allowed[i, OFF]:
            terms.append((chosen.off[i], float(menu.off_cost[i])))
        if i in chosen.kept_open:
            more_usd = float(menu.keep_cost[i] - menu.off_cost[i])
            terms.append((chosen.kept_open[i], more_usd))
    terms += [(term, float(menu.soft_cost[i, s])) for (i, s), term in chosen.soft.items()]
    return total(terms)


def read_choice(model: Model) -> Choice:
    """Read the solver's point: connections and soft starters rounded, and an order that may stand.

    The order is only a hint, from which a search over orders starts: loads of the comforts that the
    point keeps best come first, of equals those that can wait least; every wish about it holds.
    """
    tables, chosen = model.tables, model.chosen
    connection = []
    for i in range(tables.house.count):
        values = {how: value(place[i]) for how, place in (
            (OFF, chosen.off), (BY_HAND, chosen.hand), (DIRECT, chosen.direct),
            (MODULE, chosen.module))}
        connection.append(max(values, key=lambda how: (round(values[how], 6), how == DIRECT)))
    soft = [0] * tables.house.count
    for (i, s), term in chosen.soft.items():
        if value(term) > 0.5:
            soft[i] = s
    modules = [i for i, how in enumerate(connection) if how == MODULE]
    kept = kept_in(tables, chosen)
    modules.sort(key=lambda i: (-round(kept.get(int(tables.house.works.comfort[i]), 0.0), 3),
                                bool(tables.is_store[i]), tables.house.home.loads[i].wait_h, i))
    sensing = frozenset(i for i, term in chosen.sensing.items()
                        if connection[i] == MODULE and value(term) > 0.5)
    kept_open = frozenset(i for i, term in chosen.kept_open.items()
                          if connection[i] == OFF and value(term) > 0.5)
    return Choice(tuple(connection), tuple(soft), _wished(tables, modules), sensing, kept_open)


def _wished(tables: Tables, modules: Sequence[int]) -> tuple[int, ...]:
    """Change an order only where a wish asks for it."""
    left, done = list(modules), []
    while left:
        free = next((i for i in left if not tables.house.before[left, i].any()), left[0])
        left.remove(free)
        done.append(free)
    return tuple(done)
