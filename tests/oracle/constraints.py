"""The service rule and the choice of a plan as constraints, for a solver that knows neither.

Exact, not a relaxation: a load is admitted if and only if it has a pending call and nothing bars
it, so the solver's optimum is the truth. Homes without `requires`, books without soft starters.
"""

from __future__ import annotations

from itertools import permutations

import numpy as np
from ortools.sat.python import cp_model
from tests.oracle.facts import facts_of

from tests.oracle.counted import carried, counted_va

GRAIN = 1_000_000  # kW, kVA and amperes become whole numbers
FINE = 10**9  # coverage becomes a whole number
HAIR = 4  # rounding of a few summands, in grains


class Turns:
    """Admission of module loads slot by slot, and what it delivers."""

    def __init__(self, home, size, book):
        self.home, self.book, self.size = home, book, size
        self.facts = facts_of(home, size)
        (self.calls, self.wait, self.kw, legs_a), (_, self.apart, members, caps_a), limits = (
            self.facts.rule)
        self.start_kw, self.start_kva = self.facts.starts([1.0] * len(home.loads))
        self.kw_cap, leg_cap_a, self.short_kw, self.kva_cap = limits
        self.rows = [(self.kw, self.kw_cap)]
        for leg in range(2):
            self.rows.append((legs_a[:, leg], leg_cap_a))
            self.rows += [(legs_a[:, leg] * members[p], caps_a[p]) for p in range(len(caps_a))]
        self.model = cp_model.CpModel()
        self.places = range(len(home.loads))
        self.direct = [self.model.new_bool_var(f"direct {i}") for i in self.places]
        self.module = [self.model.new_bool_var(f"module {i}") for i in self.places]
        self.off = [self.model.new_bool_var(f"off {i}") for i in self.places]
        self.before = {(i, k): self.model.new_bool_var(f"{i} before {k}")
                       for i, k in permutations(self.places, 2)}
        self.admit = {}
        self.gains = []
        self._order()
        self._connections()
        for t in range(self.calls.shape[1]):
            self._takeover(t)
        self._turns()

    def most(self, budget_usd):
        """Most coverage for at most this cost; -1 if no plan is that cheap."""
        self.model.add(self._cents() <= round(100 * budget_usd))
        self.model.maximize(sum(self.gains))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        status = solver.solve(self.model)
        if status == cp_model.INFEASIBLE:
            return -1.0
        assert status == cp_model.OPTIMAL
        return 1.0 if self.facts.idle else solver.objective_value / FINE

    def _order(self):
        for i, k in self.before:
            if i < k:
                self.model.add(self.before[i, k] + self.before[k, i] == 1)
        for i, k, j in permutations(self.places, 3):
            self.model.add(self.before[i, k] + self.before[k, j] - self.before[i, j] <= 1)
        place = {ld.id: i for i, ld in enumerate(self.home.loads)}
        for a, b in self.home.never_before:
            self.model.add(self.before[place[b], place[a]] == 1)
        if self.home.order_rule == "importance":
            rank = [6 if ld.must_run else ld.importance for ld in self.home.loads]
            for i, k in self.before:
                if rank[i] > rank[k]:
                    self.model.add(self.before[i, k] == 1)

    def _connections(self):
        for i, ld in enumerate(self.home.loads):
            self.model.add_exactly_one(self.direct[i], self.module[i], self.off[i])
            self.model.add(self.direct[i] == 0) if "direct" not in ld.allowed else None
            self.model.add(self.module[i] == 0) if "module" not in ld.allowed else None
            if "off" not in ld.allowed or ld.must_run:
                self.model.add(self.off[i] == 0)
        free = [i for i, ld in enumerate(self.home.loads) if "direct" in ld.allowed]
        for mask in range(2 ** len(free)):
            picked = {i for n, i in enumerate(free) if mask >> n & 1}
            ids = frozenset(self.home.loads[i].id for i in picked)
            other = [~self.direct[i] if i in picked else self.direct[i] for i in free]
            if not self._carried(ids, moved=False):
                self.model.add_bool_or(other)
            elif not self._carried(ids, moved=True):
                for off in self.off:
                    self.model.add_bool_or([*other, ~off])

    def _carried(self, ids, moved):
        return carried(counted_va(self.home, ids, "whole-house", moved), self.facts.derated_kw)

    def _takeover(self, t):
        live = [i for i in self.places if self.calls[i, t]]
        for draw, cap in [*self.rows, (self.start_kw, self.short_kw),
                          (self.start_kva, self.kva_cap)]:
            self.model.add(sum(_whole(draw[i]) * self.direct[i] for i in live) <= _cap(cap))
        for i in live:
            for k in live:
                if self.apart[i, k]:
                    self.model.add(self.direct[i] + self.direct[k] <= 1)

    def _turns(self):
        served = {}
        for i in self.places:
            for t in range(self.calls.shape[1]):
                if self._open_calls(i, t):
                    self.admit[i, t] = self.model.new_bool_var(f"admit {i} {t}")
        alive = {}
        for (i, t), admit in self.admit.items():
            older = []
            for call in self._open_calls(i, t):
                if call == t:
                    alive[i, call, t] = self.model.new_constant(1)
                else:
                    alive[i, call, t] = self._both(alive[i, call, t - 1],
                                                   ~served[i, call, t - 1])
                served[i, call, t] = self._all([admit, alive[i, call, t],
                                                *(~other for other in older)])
                older.append(alive[i, call, t])
            pending = self._any(older)
            self._iff(admit, self._all([self.module[i], pending, ~self._barred(i, t)]))
        self._count(served)

    def _count(self, served):
        worth, weights = self.facts.worth, self.facts.weights
        for i in self.places:
            for t in np.flatnonzero(self.calls[i]):
                fine = round(FINE * worth[i] * weights[t // 96])
                self.gains.append(fine * self.direct[i])
                if self.facts.must_run[i]:
                    self.model.add_implication(self.module[i], served[i, int(t), int(t)])
        for (i, _, t), one in served.items():
            self.gains.append(round(FINE * worth[i] * weights[t // 96]) * one)

    def _open_calls(self, i, t):
        first = max(t // 96 * 96, t - int(self.wait[i]))
        return [s for s in range(first, t + 1) if self.calls[i, s]]

    def _barred(self, i, t):
        """Whether load i cannot be added to what is on when its turn comes in slot t."""
        ahead = {}
        for k in (k for k in self.places if k != i):
            parts = [self.direct[k]] if self.calls[k, t] else []
            if (k, t) in self.admit:
                parts.append(self._both(self.admit[k, t], self.before[k, i]))
            if parts:
                ahead[k] = self._any(parts)
        bars = [on for k, on in ahead.items() if self.apart[i, k]]
        for draw, cap in self.rows:
            bars.append(self._over(ahead, draw, i, cap))
        if self.facts.motor[i]:
            bars.append(self._over(ahead, self.kw, i,
                                   self.short_kw - (self.start_kw[i] - self.kw[i])))
            if self.start_kva[i] > self.kva_cap:
                bars.append(self.model.new_constant(1))
        for k, on in ahead.items():
            if self.facts.motor[k]:
                over = self._over(ahead, self.kw, i,
                                  self.short_kw - (self.start_kw[k] - self.kw[k]))
                bars.append(self._both(on, over))
        return self._any(bars)

    def _over(self, ahead, draw, i, cap):
        total = _whole(draw[i]) + sum(_whole(draw[k]) * on for k, on in ahead.items())
        over = self.model.new_bool_var("")
        self.model.add(total > _cap(cap)).only_enforce_if(over)
        self.model.add(total <= _cap(cap)).only_enforce_if(~over)
        return over

    def _cents(self):
        book = self.book
        base = (self.size.price + self.size.installation + book.permits
                + min(t.price + t.installation for t in book.transfers if t.kind == "whole-house"))
        module = min(m.price + m.installation for m in book.modules)
        controllers = [self.model.new_bool_var(c.id) for c in book.controllers]
        self.model.add(sum(self.module) <= sum(
            c.modules * bought for c, bought in zip(book.controllers, controllers, strict=True)))
        self.model.add_at_most_one(controllers)
        return (round(100 * base) + round(100 * module) * sum(self.module)
                + round(100 * book.relocation) * sum(self.off)
                + sum(round(100 * (c.price + c.installation)) * bought
                      for c, bought in zip(book.controllers, controllers, strict=True)))

    def _both(self, one, other):
        return self._all([one, other])

    def _all(self, parts):
        result = self.model.new_bool_var("")
        self.model.add_bool_and(parts).only_enforce_if(result)
        self.model.add_bool_or([result, *(~part for part in parts)])
        return result

    def _any(self, parts):
        return ~self._all([~part for part in parts])

    def _iff(self, one, other):
        self.model.add(one == other)


def _whole(value):
    return round(GRAIN * float(value))


def _cap(value):
    return int(np.floor(GRAIN * float(value))) + HAIR
