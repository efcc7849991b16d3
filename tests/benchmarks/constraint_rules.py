"""The service rule as constraints for a solver of constraints, every size of the book in one.

Exact, not a relaxation: a load is admitted if and only if it has a pending call and nothing bars
it. It reads the same tables of numbers as the model, and none of its rules. To be run where the
planner's own solver is not loaded: the two do not go together.
"""

from __future__ import annotations

from itertools import permutations

import numpy as np
from ortools.sat.python import cp_model

from planner.facts.home import SLOTS_PER_DAY
from planner.service.choice import DIRECT, MODULE, OFF

GRAIN = 10**6  # kW, kVA and amperes become whole numbers
HAIR = 8  # rounding of a few summands, in grains
FINE = 10**9  # coverage becomes a whole number


class Rules:
    """Decisions of `planner.model.tables.Tables`, and what the service rule makes of them."""

    def __init__(self, tables):
        self.tables, self.house = tables, tables.house
        self.model = cp_model.CpModel()
        self.sizes = range(len(tables.menus))
        self.places = range(self.house.count)
        self.always = self.model.new_constant(1)
        self._equipment()
        self._connections()
        self._starts()
        self._order()
        self._code()
        by_size = np.array([s.caps(self.house) for s in tables.supplies])
        self.caps = [self._by_size(column) for column in by_size.T]
        self.least_caps = by_size.min(axis=0)
        self.short_kw = self._by_size([s.short_time_kw for s in tables.supplies])
        self.dip_kva = self._by_size([s.startable_kva for s in tables.supplies])
        self.by_direct = {}
        for t in range(self.house.slots):
            self._takeover(t)
        self.admit, self.left, self.gains = {}, {}, []
        for t in range(self.house.slots):
            self._turns(t)
        self._count()

    def _by_size(self, values):
        """Value of the size that is bought, in grains, a hair above."""
        return sum((_grains(value) + HAIR) * bought
                   for value, bought in zip(values, self.generator, strict=True))

    def _equipment(self):
        add, menus = self.model, self.tables.menus
        self.generator = [add.new_bool_var(m.generator.id) for m in menus]
        add.add_exactly_one(self.generator)
        self.transfers = {t.id: t for menu in menus for t in menu.transfers}
        self.transfer = {name: add.new_bool_var(name) for name in self.transfers}
        add.add_exactly_one(self.transfer.values())
        for bought, menu in zip(self.generator, menus, strict=True):
            add.add_bool_or([self.transfer[t.id] for t in menu.transfers]).only_enforce_if(bought)
        self.controller = [add.new_bool_var(c.id) for c in menus[0].controllers]
        add.add_at_most_one(self.controller)

    def _connections(self):
        add, tables = self.model, self.tables
        self.how = [[add.new_bool_var(f"{i} {word}") for word in ("off", "direct", "module")]
                    for i in self.places]
        for i in self.places:
            add.add_exactly_one(self.how[i])
            for way in (OFF, DIRECT, MODULE):
                if not tables.allowed[i, way]:
                    add.add(self.how[i][way] == 0)
        for i, k in np.argwhere(self.house.closure).tolist():
            add.add_implication(self.how[i][DIRECT], self.how[k][DIRECT])
            add.add_implication(self.how[i][MODULE], self.how[k][OFF].negated())
        modules = sum(self.how[i][MODULE] for i in self.places)
        driven = sum(c.modules * bought for c, bought in
                     zip(tables.menus[0].controllers, self.controller, strict=True))
        add.add(modules <= driven)
        poles = tables.menus[0].poles
        if poles.any():
            add.add(sum(int(poles[i]) * (1 - self.how[i][OFF]) for i in self.places)
                    <= sum(self.transfers[name].positions * bought
                           for name, bought in self.transfer.items()))

    def _starts(self):
        """Adders and kVA of motors as they are bought: a table over size and soft starter."""
        add, costs = self.model, self.tables.menus[0].soft_cost
        self.soft, self.adder, self.kva = {}, {}, {}
        for i in np.flatnonzero(self.house.starting_kva).tolist():
            fitting = [s for s in range(costs.shape[1]) if costs[i, s] < np.inf]
            for s in fitting:
                self.soft[i, s] = add.new_bool_var(f"soft {i} {s}")
                if s:
                    add.add_implication(self.soft[i, s], self.how[i][OFF].negated())
            add.add_exactly_one(self.soft[i, s] for s in fitting)
            both = {(g, s): add.new_bool_var("") for g in self.sizes for s in fitting}
            for s in fitting:
                add.add(sum(both[g, s] for g in self.sizes) == self.soft[i, s])
            for g in self.sizes:
                add.add(sum(both[g, s] for s in fitting) == self.generator[g])
            self.adder[i] = sum(_grains(self.tables.adders[g][i, s]) * one
                                for (g, s), one in both.items())
            self.kva[i] = sum(_grains(self.tables.supplies[0].start_kva[i, s]) * self.soft[i, s]
                              for s in fitting)

    def _order(self):
        turns = self.tables.may_shed.tolist()
        self.before = {pair: self.model.new_bool_var(f"{pair}") for pair in permutations(turns, 2)}
        for i, k in self.before:
            if i < k:
                self.model.add(self.before[i, k] + self.before[k, i] == 1)
            if self.house.before[i, k]:
                self.model.add(self.before[i, k] == 1)
        for i, k, j in permutations(turns, 3):
            self.model.add(self.before[i, k] + self.before[k, j] - self.before[i, j] <= 1)

    def _code(self):
        """The lower linear form of the calculated load; what it lets pass is forbidden later."""
        form, add = self.tables.demand, self.model
        limit = sum(int(np.floor(1000.0 * s.derated_kw)) * bought + bought
                    for s, bought in zip(self.tables.supplies, self.generator, strict=True))
        general = int(form.constant_va) + sum(
            int(form.general_va[i]) * self.how[i][DIRECT] for i in self.places)
        add.add(general <= limit)
        for group in form.groups:
            add.add(general + sum(int(group[i]) * self.how[i][DIRECT] for i in self.places)
                    <= limit)

    def _takeover(self, t):
        """What is always connected fits, and may start all at once."""
        house, add = self.house, self.model
        on = {}
        for k in self.places:
            callers = [i for i in self.places if (i == k or house.closure[i, k])
                       and house.calls[i, t] and self.tables.allowed[i, DIRECT]]
            if callers:
                on[k] = self._any(tuple(self.how[i][DIRECT] for i in callers))
        self.by_direct[t] = on
        if not self._worst(t):
            return
        for draw, cap in zip(house.draw, self.caps, strict=True):
            add.add(self._sum(draw, on) <= cap)
        motors = [i for i in on if i in self.adder]
        starting = {}
        for i in motors:
            for name, value in (("kw", self.adder[i]), ("kva", self.kva[i])):
                starting[name, i] = add.new_int_var(0, 10**9, "")
                add.add(starting[name, i] >= value).only_enforce_if(on[i])
        add.add(self._sum(house.draw[0], on) + sum(starting["kw", i] for i in motors)
                <= self.short_kw)
        add.add(sum(starting["kva", i] for i in motors) <= self.dip_kva)
        for i, k in self._apart(on):
            add.add_bool_or([on[i].negated(), on[k].negated()])

    def _worst(self, t):
        """Whether no other slot has all the callers of this one, or an earlier one the same."""
        calls = self.house.calls & self.tables.allowed[:, DIRECT][:, None]
        holding = np.flatnonzero((calls >= calls[:, [t]]).all(axis=0))
        return all((calls[:, s] == calls[:, t]).all() and s >= t for s in holding)

    def _turns(self, t):
        house, tables, add = self.house, self.tables, self.model
        here = [i for i in tables.may_shed.tolist() if tables.recent_calls[i, t]]
        for i in here:
            self.admit[i, t] = add.new_bool_var(f"admit {i} {t}")
        for i in here:
            pending = self._pending(i, t)
            wanted = self._all((self.how[i][MODULE], pending))
            self._equal(self.admit[i, t], (wanted, self._barred(i, t, here).negated()))
            if house.must_run[i] and house.calls[i, t]:
                add.add_implication(self.how[i][MODULE], self.admit[i, t])

    def _pending(self, i, t):
        """Whether a call is pending, the oldest served first: what is left are the newest calls."""
        tables, add = self.tables, self.model
        new = int(self.house.calls[i, t])
        old = int(tables.recent_calls[i, t]) - new
        left = self.left.get((i, t - 1), 0) if t % SLOTS_PER_DAY and old else 0
        kept = 0
        if not isinstance(left, int):
            most = int(tables.recent_calls[i, t - 1])
            kept = left
            if most > old:
                kept = add.new_int_var(0, old, "")
                add.add_min_equality(kept, [left, old])
        self.left[i, t] = add.new_int_var(0, old + new, "")
        add.add(self.left[i, t] == kept + new - self.admit[i, t])
        if new or isinstance(kept, int):
            return self.always
        pending = add.new_bool_var("")
        add.add(kept >= 1).only_enforce_if(pending)
        add.add(kept == 0).only_enforce_if(pending.negated())
        return pending

    def _barred(self, i, t, here):
        """Whether load i, with what it wakes, does not fit beside what is on at its turn."""
        house = self.house
        on, own = {}, {i, *np.flatnonzero(house.closure[i]).tolist()}
        for k in self.places:
            ahead = [self._all((self.admit[j, t], self.before[j, i])) for j in here
                     if j != i and (j == k or house.closure[j, k])]
            if k in self.by_direct[t]:
                ahead.append(self.by_direct[t][k])
            if ahead and k not in own:
                on[k] = self._any(tuple(ahead))
        on |= dict.fromkeys(own, self.always)
        bars = [self._over(self._sum(draw, on), cap) for draw, cap, least in
                zip(house.draw, self.caps, self.least_caps, strict=True)
                if sum(float(draw[k]) for k in on) > least]
        for m in (m for m in on if m in self.adder):
            over = self._over(self._sum(house.draw[0], on) + self.adder[m], self.short_kw)
            bars.append(self._all((over, on[m])))
            if m in own:
                bars.append(self._over(self.kva[m], self.dip_kva))
        bars += [self._all((on[k], on[j])) for k, j in self._apart(on)]
        return self._any(tuple(bars))

    def _apart(self, on):
        return [(k, j) for k, j in np.argwhere(np.triu(self.house.exclusive)).tolist()
                if k in on and j in on]

    def _count(self):
        """Coverage in parts of a billion; a call counts the same whichever way it is served."""
        tables = self.tables
        worth = np.rint(FINE * np.outer(tables.value, tables.slot_weight)).astype(np.int64)
        for i in self.places:
            served = int(worth[i] @ self.house.calls[i])
            self.gains.append(served * self.how[i][DIRECT])
        for (i, t), admit in self.admit.items():
            self.gains.append(int(worth[i, t]) * admit)

    def _sum(self, draw, on):
        return sum(_grains(draw[k]) * lit for k, lit in on.items() if draw[k])

    def _over(self, total, cap):
        over = self.model.new_bool_var("")
        self.model.add(total > cap).only_enforce_if(over)
        self.model.add(total <= cap).only_enforce_if(over.negated())
        return over

    def _all(self, parts):
        if len(parts) == 1:
            return parts[0]
        result = self.model.new_bool_var("")
        self._equal(result, parts)
        return result

    def _equal(self, result, parts):
        self.model.add_bool_and(parts).only_enforce_if(result)
        self.model.add_bool_or([result, *(part.negated() for part in parts)])

    def _any(self, parts):
        if not parts:
            return self.always.negated()
        return self._all(tuple(part.negated() for part in parts)).negated()


def _grains(value):
    return round(GRAIN * float(value))
