"""A frontier by a constraint solver: a yardstick that shares no idea with the planner's search."""

from __future__ import annotations

from functools import cmp_to_key

from ortools.sat.python import cp_model

from planner.plan.code import direct_sheet
from planner.service.choice import DIRECT, MODULE, Choice
from tests.benchmarks.constraint_rules import FINE, Rules
from tests.benchmarks.entrants import all_sizes, judged

CENTS = 100
SEED = 7
SAME = 1000  # parts of a billion that rounding may part two ways to the same coverage


def constraint_frontier(home, book, clock):
    """Step down from the most coverage, each time at its least cost, then a cent cheaper.

    Returns
    -------
    steps : list of Step
    finished : bool
        False if the clock ended it.
    """
    clock.start()
    steps, finished = [], True
    for tables in all_sizes(home, book):
        market = Market(tables, clock)
        budget_cents = market.dearest_cents
        while budget_cents is not None:
            step, budget_cents = market.best(budget_cents)
            if step is not None:
                steps.append(step)
        finished &= market.finished
    return steps, finished


class Market(Rules):
    """What can be bought, at what price."""

    def __init__(self, tables, clock):
        super().__init__(tables)
        self.clock, self.finished = clock, True
        self.cents = self._priced()
        self.dearest_cents = 10**9

    def best(self, budget_cents):
        """Most coverage for a budget and its least cost; and the next budget, None at the end."""
        found = self._solve([self.cents <= budget_cents], sum(self.gains), largest=True)
        if found is None:
            return None, None
        solver, proven = found
        fine = round(solver.objective_value)
        bound = min(1.0, solver.best_objective_bound / FINE)
        rows = [self.cents <= budget_cents, sum(self.gains) >= fine - SAME]
        cheaper = self._solve(rows, self.cents, largest=False) if proven else None
        solver, proven = cheaper or (solver, False)
        size, choice = self._choice(solver)
        step = judged(self.tables, size, choice, bound if self.tables.value.any() else 1.0, proven,
                      usd=solver.value(self.cents) / CENTS)
        return step, (solver.value(self.cents) - 1 if proven else None)

    def _solve(self, rows, objective, *, largest):
        """Solve on one thread; forbid what the code's own sheet refuses and solve again."""
        while True:
            left_s = self.clock.left_s()
            if left_s <= 0.0:
                self.finished = False
                return None
            asked = self.model.clone()
            for row in rows:
                asked.add(row)
            if largest:
                asked.maximize(objective)
            else:
                asked.minimize(objective)
            solver = cp_model.CpSolver()
            solver.parameters.num_workers = 1
            solver.parameters.random_seed = SEED
            solver.parameters.max_time_in_seconds = left_s
            status = solver.solve(asked)
            if status == cp_model.INFEASIBLE:
                return None
            proven = status == cp_model.OPTIMAL
            self.finished &= proven
            if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
                return None
            if not self._forbidden(solver):
                return solver, proven

    def _forbidden(self, solver):
        """Whether the sheet refuses the direct loads on the size bought; if so, bar them on it."""
        size, choice = self._choice(solver)
        sheet = direct_sheet(self.tables.menus[size], choice)
        if sheet.total_va <= 1000.0 * self.tables.supplies[size].derated_kw + 1e-6:
            return False
        unmoved_va = direct_sheet(self.tables.menus[size], _none_moved(choice)).total_va
        for g, supply in enumerate(self.tables.supplies):
            other = [self.generator[g].negated(), *(
                ways[DIRECT].negated() if choice.connection[i] == DIRECT else ways[DIRECT]
                for i, ways in enumerate(self.how))]
            if unmoved_va > 1000.0 * supply.derated_kw + 1e-6:
                self.model.add_bool_or(other)
            elif sheet.total_va > 1000.0 * supply.derated_kw + 1e-6:
                for ways in self.how:  # the code counts more where a circuit is moved
                    self.model.add_bool_or([*other, ways[0].negated()])
        return True

    def _choice(self, solver):
        size = next(g for g, bought in enumerate(self.generator) if solver.value(bought))
        connection = tuple(next(way for way, lit in enumerate(ways) if solver.value(lit))
                           for ways in self.how)
        soft = [0] * len(connection)
        for (i, s), bought in self.soft.items():
            if solver.value(bought):
                soft[i] = s
        turns = [i for i, how in enumerate(connection) if how == MODULE]
        order = sorted(turns, key=cmp_to_key(
            lambda i, k: -1 if solver.value(self.before[i, k]) else 1))
        return size, Choice(connection, tuple(soft), tuple(order))

    def _priced(self):
        """Installed cost in cents."""
        menu = self.tables.menus[0]
        terms = [_cents(m.base) * bought
                 for m, bought in zip(self.tables.menus, self.generator, strict=True)]
        terms += [_cents(self.transfers[name].price + self.transfers[name].installation) * bought
                  for name, bought in self.transfer.items()]
        terms += [_cents(c.price + c.installation) * bought
                  for c, bought in zip(menu.controllers, self.controller, strict=True)]
        for i in self.places:
            if self.tables.allowed[i, MODULE]:
                terms.append(_cents(menu.module_cost[i]) * self.how[i][MODULE])
            terms.append(_cents(menu.off_cost[i]) * self.how[i][0])
        terms += [_cents(menu.soft_cost[i, s]) * bought for (i, s), bought in self.soft.items()]
        return sum(terms)


def _none_moved(choice):
    """Give the same direct loads with everything else behind a module."""
    connection = tuple(how or MODULE for how in choice.connection)
    return Choice(connection, choice.soft_start,
                  tuple(i for i, how in enumerate(connection) if how == MODULE))


def _cents(usd):
    return round(CENTS * float(usd))
