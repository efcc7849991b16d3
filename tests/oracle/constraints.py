"""The service rule and the choice of a plan as constraints, for a solver that knows neither.

Exact, not a relaxation: a load is admitted if and only if it calls and nothing bars it, so the
solver's optimum is the truth. Homes of loads that are wanted by the clock, one for each comfort,
without `requires`, on one design day; books without soft starters; whole-house transfer.
"""

from __future__ import annotations

from itertools import permutations

import numpy as np
from ortools.sat.python import cp_model

from planner.service.answer import ELECTRONIC, nature_to_engine
from tests.oracle.counted import carried, counted_va
from tests.oracle.limits import COUNTED_AT_LEAST, PICK_UP_DIP, TAKEOVER_DIP, limits_of
from tests.oracle.market import choices_of, module_of, sensing_module_of
from tests.oracle.slot_by_slot import DAY
from tests.oracle.verdict import Judge

GRAIN = 1_000_000  # kW, kVA and amperes become whole numbers
FINE = 10**9  # coverage becomes a whole number
HAIR = 4  # rounding of a few summands, in grains
WORDS = ("direct", "module", "off", "by hand")


class Turns:
    """Admission of module loads slot by slot, and what it delivers."""

    def __init__(self, home, size, book):
        """Write the rule down for one generator."""
        self.home, self.book, self.size = home, book, size
        self.judge, self.limits = Judge(home), limits_of(home, size)
        (day,) = self.judge.days
        self.calls, self.kw, self.legs_a = day.clock[:, :DAY], day.kw, day.legs_a
        self.start_kva, start_kw, self.room_kw, self.can_start = self.limits.starts(
            [None] * len(home.loads))
        self.start_kw = np.maximum(start_kw, self.kw)
        self.rows = [(self.kw, self.limits.kw_cap)]
        for leg in range(2):
            self.rows.append((self.legs_a[:, leg], self.limits.leg_cap_a))
            self.rows += [(self.legs_a[:, leg] * [ld.id in ids for ld in home.loads], amperes)
                          for ids, amperes in self.limits.panels]
        self.model = cp_model.CpModel()
        self.places = range(len(home.loads))
        self.ways = {word: [self.model.new_bool_var(f"{word} {i}") for i in self.places]
                     for word in WORDS}
        self.direct, self.module = self.ways["direct"], self.ways["module"]
        self.sensing = [self.model.new_bool_var(f"sensing {i}") for i in self.places]
        self.stays = [self.model.new_bool_var(f"stays open {i}") for i in self.places]
        self.firm = [self._any([self.direct[i], self.ways["by hand"][i]]) for i in self.places]
        self.before = {(i, k): self.model.new_bool_var(f"{i} before {k}")
                       for i, k in permutations(self.places, 2)}
        self.admit = {}
        self._order()
        self._connections()
        for t in range(DAY):
            self._together(t)
        self._turns()
        self._unannounced()
        self._average()

    def most(self, budget_usd):
        """Most coverage for at most this cost; -1 if no plan is that cheap."""
        self.model.add(self._cents() <= round(100 * budget_usd))
        self.model.maximize(sum(self._gains()))
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        status = solver.solve(self.model)
        if status == cp_model.INFEASIBLE:
            return -1.0
        assert status == cp_model.OPTIMAL
        return solver.objective_value / FINE if self.judge.counted else 1.0

    def _order(self):
        for i, k in self.before:
            if i < k:
                self.model.add(self.before[i, k] + self.before[k, i] == 1)
        for i, k, j in permutations(self.places, 3):
            self.model.add(self.before[i, k] + self.before[k, j] - self.before[i, j] <= 1)
        for i, k in self.judge.before:
            self.model.add(self.before[i, k] == 1)
            self.model.add_bool_or([~self.module[i], ~self.direct[k]])
        if self.home.order_rule == "importance":
            for i, k in self.before:
                if self.judge.rank(i) < self.judge.rank(k):
                    self.model.add(self.before[i, k] == 1)

    def _connections(self):
        for i, ld in enumerate(self.home.loads):
            self.model.add_exactly_one(self.ways[word][i] for word in WORDS)
            allowed = {word for word, *_ in choices_of(ld, self.book, "whole-house")}
            if self.judge.must_run[i] and self.calls[i].any():
                allowed -= {"off", "by hand"}
            for word in set(WORDS) - allowed:
                self.model.add(self.ways[word][i] == 0)
        for mask in range(2 ** len(self.places)):
            picked = {i for i in self.places if mask >> i & 1}
            ids = frozenset(self.home.loads[i].id for i in picked)
            other = [~self.firm[i] if i in picked else self.firm[i] for i in self.places]
            if not self._carried(ids, moved=False):
                self.model.add_bool_or(other)
            elif not self._carried(ids, moved=True):
                for off in self.ways["off"]:
                    self.model.add_bool_or([*other, ~off])

    def _carried(self, ids, moved):
        return carried(counted_va(self.home, ids, "whole-house", moved), self.limits.derated_kw)

    def _together(self, t):
        """Rule 1 in one slot."""
        live = [i for i in self.places if self.calls[i, t]]
        reactance, kva = self.size.reactance, self.limits.kva
        takeover_kva = TAKEOVER_DIP / (1.0 - TAKEOVER_DIP) * kva / reactance
        for draw, cap in [*self.rows, (self.start_kva, takeover_kva)]:
            self.model.add(sum(_whole(draw[i]) * self.firm[i] for i in live) <= _cap(cap))
        for m in live:
            if not self.can_start[m]:
                self.model.add(self.firm[m] == 0)
            if np.isfinite(self.room_kw[m]):
                others = sum(_whole(self.kw[i]) * self.firm[i] for i in live if i != m)
                self.model.add(others <= _cap(self.room_kw[m])).only_enforce_if(self.firm[m])
        for i, k in zip(*np.nonzero(self.judge.apart), strict=True):
            self.model.add(self.direct[i] + self.direct[k] <= 1)

    def _turns(self):
        """Rule 2: admitted if and only if it calls behind a module and nothing bars it."""
        for i in self.places:
            for t in np.flatnonzero(self.calls[i]):
                self.admit[i, t] = self.model.new_bool_var(f"admit {i} {t}")
        for (i, t), admit in self.admit.items():
            self._iff(admit, self._all([self.module[i], ~self._barred(i, t)]))
            if self.judge.must_run[i]:
                self.model.add_implication(self.module[i], admit)

    def _on(self, i, t):
        """Whether a load is on in a slot in which it calls."""
        return self._any([self.direct[i], self.admit[i, t]])

    def _barred(self, i, t):
        """Whether load i cannot be added to what is on when its turn comes in slot t."""
        ahead = {k: self._any([self.direct[k], self._both(self.admit[k, t], self.before[k, i])])
                 for k in self.places if k != i and self.calls[k, t]}
        bars = [on for k, on in ahead.items() if self.judge.apart[i, k]]
        bars += [self._over(ahead, draw, _whole(draw[i]), cap) for draw, cap in self.rows]
        if np.isfinite(self.room_kw[i]):
            bars.append(self._over(ahead, self.kw, 0, self.room_kw[i]))
        if not self.can_start[i]:
            bars.append(self.model.new_constant(1))
        for k, on in ahead.items():
            if np.isfinite(self.room_kw[k]):
                others = {j: each for j, each in ahead.items() if j != k}
                over = self._over(others, self.kw, _whole(self.kw[i]), self.room_kw[k])
                bars.append(self._both(on, over))
        return self._any(bars)

    def _over(self, ahead, draw, own, cap):
        total = own + sum(_whole(draw[k]) * on for k, on in ahead.items())
        over = self.model.new_bool_var("")
        self.model.add(total > _cap(cap)).only_enforce_if(over)
        self.model.add(total <= _cap(cap)).only_enforce_if(~over)
        return over

    def _unannounced(self):
        """Rule 3 wherever a direct load, or one behind a blind module, begins to call."""
        weight = np.array([4.0 / 3.0 if nature_to_engine(ld) == ELECTRONIC else 1.0
                           for ld in self.home.loads])
        for b, ld in enumerate(self.home.loads):
            says = self.direct[b]
            if self._is_blind(ld):
                unseen = self._all([self.module[b], ~self.sensing[b]])
                says = self._any([self.direct[b], unseen])
            for t in np.flatnonzero(self.calls[b]):
                if t and self.calls[b, t - 1]:
                    continue
                if self.limits.dip(float(self.start_kva[b])) > PICK_UP_DIP + 1e-9:
                    self.model.add(says == 0)
                for then in {t, t - 1} - {-1}:
                    others = sum(_whole(self.kw[k] * weight[k]) * self._on(k, then)
                                 for k in self.places if k != b and self.calls[k, then])
                    self.model.add(others + _whole(self.start_kw[b] * weight[b])
                                   <= _cap(self.limits.pick_up_kw)).only_enforce_if(says)

    def _is_blind(self, ld):
        module = module_of(ld, self.book)
        return module is not None and module.senses != "call"

    def _average(self):
        """Rule 4: each slot counts at least a share of the rating."""
        floor = _whole(COUNTED_AT_LEAST * self.limits.derated_kw)
        counted = []
        for t in range(DAY):
            live = [i for i in self.places if self.calls[i, t]]
            counted.append(self.model.new_int_var(floor, floor + 100 * GRAIN, ""))
            self.model.add(counted[-1] >= sum(_whole(self.kw[i]) * self._on(i, t) for i in live))
        self.model.add(sum(counted) <= _whole(4.0 * self.limits.energy_cap_kwh) + DAY * HAIR)

    def _gains(self):
        total = sum(one.importance for one in self.judge.counted)
        for one in self.judge.counted:
            (load_id,) = one.loads
            i = self.judge.place[load_id]
            called = np.flatnonzero(self.calls[i])
            for t in called:
                yield round(FINE * one.importance / total / len(called)) * self._on(i, t)

    def _cents(self):
        base = (self.size.price + self.size.installation + self.book.permits
                + min(t.price + t.installation for t in self.book.transfers
                      if t.kind == "whole-house"))
        controllers = [self.model.new_bool_var(c.id) for c in self.book.controllers]
        self.model.add(sum(self.module) + sum(self.stays) <= sum(
            c.modules * bought
            for c, bought in zip(self.book.controllers, controllers, strict=True)))
        self.model.add(sum(controllers) <= 1)
        usd = round(100 * base)
        usd += sum(round(100 * (c.price + c.installation)) * bought
                   for c, bought in zip(self.book.controllers, controllers, strict=True))
        for i, ld in enumerate(self.home.loads):
            module = module_of(ld, self.book)
            if module is not None:
                usd += round(100 * (module.price + module.installation)) * self.module[i]
            sensing = sensing_module_of(ld, self.book)
            if self._is_blind(ld) and sensing is not None:
                self.model.add_implication(self.sensing[i], self.module[i])
                usd += round(100 * (sensing.price + sensing.installation - module.price
                                    - module.installation)) * self.sensing[i]
            else:
                self.model.add(self.sensing[i] == 0)
            usd += round(100 * self.book.relocation) * self.ways["off"][i]
            self.model.add_implication(self.stays[i], self.ways["off"][i])
            if module is None:
                self.model.add(self.stays[i] == 0)
            else:
                usd += round(100 * (module.price + module.installation - self.book.relocation)
                             ) * self.stays[i]
        return usd

    def _both(self, one, other):
        return self._all([one, other])

    def _all(self, parts):
        result = self.model.new_bool_var("")
        self.model.add_bool_and(parts).only_enforce_if(result)
        self.model.add_bool_or([*(~part for part in parts), result])
        return result

    def _any(self, parts):
        result = self.model.new_bool_var("")
        self.model.add_bool_or([*parts, ~result])
        for part in parts:
            self.model.add_implication(part, result)
        return result

    def _iff(self, one, other):
        self.model.add(one == other)


def _whole(amount):
    return round(GRAIN * float(amount))


def _cap(amount):
    return _whole(amount) + HAIR
