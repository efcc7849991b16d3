"""Priority order inside the plain model, so that its optimum is what the replay delivers.

Without these rows any fitting set may run in a slot; with them a load with a pending call runs
unless what stands ahead of it bars it: binaries for who stands before whom, and for every load and
slot a reason, tied to the rows by the room that they lack (large constants, as small as each row
allows). What a row misses its limit by counts from nothing on, so a tie may be read either way.
"""

from __future__ import annotations

from itertools import permutations

import numpy as np
import pulp

from planner.facts.home import SLOTS_PER_DAY


def add_the_order(model):
    """Add order, pending calls and reasons to a built model, and let its solver find all of it."""
    order = _Order(model)
    order.stand()
    for i, t in model.chosen.run:
        order.pending(i, t)
    for i, t in model.chosen.run:
        order.turn(i, t)
    return order.before


class _Order:
    """Variables that the rows share."""

    def __init__(self, model):
        self.problem, self.tables, self.chosen = model.problem, model.tables, model.chosen
        self.house = model.tables.house
        self.caps = np.array([s.caps(self.house) for s in self.tables.supplies])
        self.before, self.waiting, self.ahead = {}, {}, {}
        self.adder = {int(m): self._adder(int(m)) for m in np.flatnonzero(self.house.starting_kva)}
        self.dip = {m: self._dip(m) for m in self.adder}

    def stand(self):
        """Every two loads that may take turns stand one before the other, without circles."""
        turns = self.tables.may_shed.tolist()
        for i, k in permutations(turns, 2):
            self.before[i, k] = self._binary(f"before_{i}_{k}")
            if i > k:
                self._row(self.before[i, k] + self.before[k, i] == 1)
            if self.house.before[i, k]:
                self._row(self.before[i, k] >= 1)
        for i, k, j in permutations(turns, 3):
            self._row(self.before[i, k] + self.before[k, j] - self.before[i, j] <= 1)

    def pending(self, i, t):
        """No call is lost before it is too old; `waiting` is 1 wherever one is pending."""
        chosen, new = self.chosen, int(self.house.calls[i, t])
        first = t % SLOTS_PER_DAY == 0
        kept = 0.0 if first else chosen.backlog.get((i, t - 1), 0.0)
        most = 0 if first else int(self.tables.backlog_cap[i, t - 1])
        cap = int(self.tables.backlog_cap[i, t])
        if cap:
            left, run = chosen.backlog[i, t], chosen.run[i, t]
            if most + new <= cap:
                self._row(left + run - kept >= new)
            else:
                full = self._binary(f"full_{i}_{t}")
                self._row(left + run - kept + (most + new) * full >= new)
                self._row(left - cap * full >= 0)
        if new:
            self.waiting[i, t] = 1.0
        else:
            self.waiting[i, t] = self._binary(f"waiting_{i}_{t}")
            self._row(most * self.waiting[i, t] - kept >= 0)

    def turn(self, i, t):
        """A load with a pending call runs, or there is a reason why it cannot."""
        chosen = self.chosen
        own = {i, *np.flatnonzero(self.house.closure[i]).tolist()}
        on = {k: self._on_ahead(i, k, t) for k in range(self.house.count) if k not in own}
        on = {k: terms for k, terms in on.items() if terms is not None} | dict.fromkeys(own, 1.0)
        reasons = [self._lacks(f"row_{r}_{i}_{t}", self.house.draw[r], on, 0.0, self.caps[:, r])
                   for r in range(len(self.house.draw))]
        short = np.array([s.short_time_kw for s in self.tables.supplies])
        for m in (m for m in on if m in self.adder):
            reason = self._lacks(f"start_{m}_{i}_{t}", self.house.draw[0], on, self.adder[m], short)
            if reason is not None and m not in own:
                self._row(reason - on[m] <= 0)
            reasons.append(reason)
        reasons += [self.dip[m] for m in own if m in self.dip and self.dip[m] is not None]
        for k, j in np.argwhere(np.triu(self.house.exclusive)).tolist():
            if k in on and j in on:
                reasons.append(self._binary(f"apart_{k}_{j}_{i}_{t}"))
                self._row(reasons[-1] - on[k] <= 0)
                self._row(reasons[-1] - on[j] <= 0)
        given = pulp.lpSum(reason for reason in reasons if reason is not None)
        self._row(chosen.run[i, t] + given - chosen.module[i] - self.waiting[i, t] >= -1)

    def _on_ahead(self, i, k, t):
        """At most 1 where load k is on before the turn of i; None where it never is."""
        chosen, calls, terms = self.chosen, self.house.calls, []
        for j in [k, *np.flatnonzero(self.house.closure[:, k]).tolist()]:
            if calls[j, t] and self.tables.allowed[j, 1]:
                if isinstance(chosen.direct[j], float):
                    return 1.0
                terms.append(chosen.direct[j])
            if (j, t) in chosen.run and j != i:
                terms.append(self._ran_before(j, i, t))
        if len(terms) <= 1:
            return terms[0] if terms else None
        on = self.problem.add_variable(f"on_{k}_{i}_{t}", 0, 1)
        self._row(on - pulp.lpSum(terms) <= 0)
        return on

    def _ran_before(self, j, i, t):
        if (j, i, t) not in self.ahead:
            both = self.problem.add_variable(f"ahead_{j}_{i}_{t}", 0, 1)
            self._row(both - self.chosen.run[j, t] <= 0)
            self._row(both - self.before[j, i] <= 0)
            self.ahead[j, i, t] = both
        return self.ahead[j, i, t]

    def _lacks(self, name, draw, on, extra, caps):
        """May be 1 only if what is on, and the extra, is no less than the limit; None if never."""
        most = sum(float(draw[k]) for k in on)
        most += 0.0 if isinstance(extra, float) else extra.upBound
        if most <= caps.min():
            return None
        reason = self._binary(name)
        total = pulp.lpSum([*(float(draw[k]) * term for k, term in on.items()), extra])
        limit = pulp.lpSum(float(cap) * bought for cap, bought in
                           zip(caps, self.chosen.generator.values(), strict=True))
        self._row(total - limit - float(caps.max()) * reason >= -float(caps.max()))
        return reason

    def _adder(self, m):
        """Starting minus running kW as bought."""
        adders = self.tables.adders[:, m]
        usable = [0, *(s for i, s in self.chosen.soft if i == m)]
        most = float(adders[:, usable].max())
        adder = self.problem.add_variable(f"adder_{m}", 0, max(most, 0.0))
        for g, s in np.ndindex(len(adders), adders.shape[1]):
            spare = most - float(adders[g, s])
            if s in usable and spare > 0.0:
                self._row(adder + spare * (self._bought(g) + self._fitted(m, s)) <= most + spare)
        return adder

    def _dip(self, m):
        """May be 1 only if the start as bought dips too deep; None if it never does."""
        fits = [(g, s) for g, supply in enumerate(self.tables.supplies)
                for s in [0, *(s for i, s in self.chosen.soft if i == m)]
                if supply.start_kva[m, s] <= supply.startable_kva]
        if all((g, 0) in fits for g in range(len(self.tables.supplies))):
            return None
        dips = self._binary(f"dips_{m}")
        for g, s in fits:
            self._row(dips + self._bought(g) + self._fitted(m, s) <= 2)
        return dips

    def _bought(self, g):
        return self.chosen.generator[g]

    def _fitted(self, m, s):
        """1 if motor m has soft starter s, or none for s = 0."""
        if s:
            return self.chosen.soft[m, s]
        return 1.0 - pulp.lpSum(var for (i, _), var in self.chosen.soft.items() if i == m)

    def _binary(self, name):
        return self.problem.add_variable(name, 0, 1, "Binary")

    def _row(self, row):
        self.problem.addConstraint(row)
