"""The service rule a second time: what a choice delivers, or why it is none.

Written from the words of the rule alone; `wants`, `limits`, `spell`, `slot_by_slot`, `comforts` and
`promises` are its parts, and say how each of them reads what the words leave open. Settled here:

- "never before" and what follows from it, and the order of a room's stages, count between modules
  and, as behind all direct loads, for one that is direct; the loads of other comforts are in no
  order, since none of them sees what another does; the order by importance is between modules only;
- what can be lost does not ask for wishes: a must-run comfort counts, and with selected circuits
  among what the home allows every load may be off.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from itertools import combinations

import numpy as np

from tests.oracle import comforts as kept_of
from tests.oracle.limits import HAIR, limits_of
from tests.oracle.promises import is_broken
from tests.oracle.spell import BY_HAND, DIRECT, MODULE, OFF, Spell
from tests.oracle.wants import needed_by


@dataclass(frozen=True)
class Verdict:
    """Why a choice is no plan (empty: it is one), and what it delivers.

    `refused` names the rule ("order", "direct", "must-run", "pick-up", "average", "fuel"); `broken`
    the comforts whose promise is not kept. By design day: `on`, `called` (T, n), `deviation` of
    each comfort (T,), `kept_on` and `state` of the tasks.
    """

    refused: str = ""
    broken: tuple[str, ...] = ()
    coverage: float = 0.0
    kept: dict = field(default_factory=dict)
    kept_on: dict = field(default_factory=dict)
    on: tuple = ()
    called: tuple = ()
    deviation: tuple = ()
    state: tuple = ()
    average: tuple = ()

    @property
    def is_plan(self):
        """Whether the rule accepts it and every promise is kept."""
        return not self.refused and not self.broken


class Judge:
    """What no choice changes: wants, what unlimited power keeps, what no power loses."""

    def __init__(self, home):
        """Work out the wants and both ends of every comfort."""
        self.home = home
        self.place = {ld.id: i for i, ld in enumerate(home.loads)}
        n = len(home.loads)
        self.needs = np.zeros((n, n), dtype=np.bool_)
        self.apart = np.zeros((n, n), dtype=np.bool_)
        for i, ld in enumerate(home.loads):
            for other in needed_by(home, ld.id) - {ld.id}:
                self.needs[i, self.place[other]] = True
            for other in ld.not_with:
                self.apart[i, self.place[other]] = self.apart[self.place[other], i] = True
        first = {one.loads[0] for one in home.comforts if one.must_run}
        self.must_run = np.array([ld.must_run or ld.id in first for ld in home.loads])
        weights = np.array([day.weight for day in home.days])
        self.weights = weights / weights.sum()
        self.days = [Spell(self, day) for day in home.days]
        self.before = self._before()
        self.counted = [one for one in home.comforts if one.importance > 0 and self._losable(one)]

    def _losable(self, one):
        free = "selected-circuits" in self.home.transfer_kinds or any(
            self.home.load(load_id).allowed - {DIRECT} for load_id in one.loads)
        return free and any(kept_of.can_be_lost(
            one, day.worst[one.id].on(day.judged), day.best[one.id].on(day.judged))
            for day in self.days)

    def _before(self):
        """Pairs (i, k): i stands before k, by a wish or as stages of a room on the same day."""
        pairs = {(self.place[b], self.place[a]) for a, b in self.home.never_before}
        for _ in self.home.loads:
            pairs |= {(a, d) for a, b in pairs for c, d in pairs if b == c}
        for one in self.home.comforts:
            pairs |= {(self.place[a], self.place[b])
                      for a, b in combinations(one.loads, 2) if one.kind == "room"
                      and self._work_together(self.place[a], self.place[b])}
        return pairs

    def _work_together(self, i, k):
        """Whether two loads can be on by themselves on the same day."""
        return any(day.can_be_on(i).any() and day.can_be_on(k).any() for day in self.days)

    def rank(self, i):
        """Place of a load in the order by importance, the more important first."""
        return -(6 if self.must_run[i] else self.home.loads[i].importance)

    def calls(self, i):
        """Whether a load can ever be on by itself."""
        return any(day.can_be_on(i).any() for day in self.days)

    def is_ordered(self, connection, order):
        """Whether what is needed is connected as firmly, and who stands before whom is kept."""
        firm = {OFF: 0, BY_HAND: 0, MODULE: 1, DIRECT: 2}
        for i, how in enumerate(connection):
            for k in np.flatnonzero(self.needs[i]) if firm[how] else ():
                if firm[connection[k]] < firm[how]:
                    return False
        turn = {i: 0 for i, how in enumerate(connection) if how == DIRECT}
        turn |= {i: place for place, i in enumerate(order, start=1)}
        if any(turn[i] > turn[k] for i, k in self.before if i in turn and k in turn):
            return False
        ranks = [self.rank(i) for i in order]
        return self.home.order_rule != "importance" or ranks == sorted(ranks)

    def judge(self, limits, connection, soft, order, blind):
        """Judge words (n,), soft starters (n,) or None, an order of places and what is blind."""
        if not self.is_ordered(connection, order):
            return Verdict("order")
        starts = limits.starts(soft)
        if self.gives_up(connection):
            return Verdict("must-run")
        if not self.carries(limits, starts, connection):
            return Verdict("direct")
        return self.played(limits, starts, connection, order, blind)

    def gives_up(self, connection):
        """Whether a must-run load is left without power."""
        return any(self.must_run[i] and how in {OFF, BY_HAND} and self.calls(i)
                   for i, how in enumerate(connection))

    def carries(self, limits, starts, connection):
        """Rule 1 on every design day."""
        return all(day.carries(limits, starts, connection) for day in self.days)

    def played(self, limits, starts, connection, order, blind):
        """Judge a choice that may stand and keeps rule 1."""
        played = [day.play(limits, starts, connection, order) for day in self.days]
        if any(one[0] for one in played):
            return Verdict("must-run")
        for day, one in zip(self.days, played, strict=True):
            if not day.picks_up(limits, starts, connection, blind, one):
                return Verdict("pick-up")
        shares = [day.averages(one, limits) for day, one in zip(self.days, played, strict=True)]
        if any(kwh > limits.energy_cap_kwh * (1.0 + HAIR) for each in shares for kwh in each):
            return Verdict("average")
        for day, one, cap_kwh in zip(self.days, played, limits.fuel_cap_kwh, strict=False):
            if any(kwh > cap_kwh * (1.0 + HAIR) + HAIR for kwh in day.energies(one)):
                return Verdict("fuel")
        return self._delivered(limits, connection, played, shares)

    def _delivered(self, limits, connection, played, shares):
        kept, kept_on, broken, deviations = {}, {}, [], []
        got = [day.lived(connection, one) for day, one in zip(self.days, played, strict=True)]
        for one in self.home.comforts:
            lost, losable, by_day = 0.0, 0.0, []
            for day, weight, (lives, deviation) in zip(self.days, self.weights, got, strict=True):
                best, worst = (side[one.id].on(day.judged) for side in (day.best, day.worst))
                here = kept_of.lost_of(lives[one.id].on(day.judged), best)
                most = kept_of.lost_of(worst, best)
                by_day.append(1.0 - here / most if most > 0.0 else 1.0)
                lost, losable = lost + weight * here, losable + weight * most
                if is_broken(one, day.wants, deviation[one.id], lives[one.id],
                                  day.best_deviation[one.id], day.best[one.id],
                                  self.home.spell_days):
                    broken.append(one.id)
            kept[one.id] = 1.0 - lost / losable if losable > 0.0 else 1.0
            kept_on[one.id] = by_day
        deviations = tuple(deviation for _, deviation in got)
        total = sum(one.importance for one in self.counted)
        coverage = (sum(one.importance * kept[one.id] for one in self.counted) / total
                    if total else 1.0)
        return Verdict("", tuple(dict.fromkeys(broken)), coverage, kept, kept_on,
                       tuple(one[1] for one in played), tuple(one[2] for one in played),
                       deviations, tuple(one[6] for one in played),
                       tuple(max(each) / limits.derated_kw / 24.0 for each in shares))


def judge(home, generator, connection, soft, order, blind=None):
    """Judge one choice of a home: words by place, soft starters or None, order of places."""
    return Judge(home).judge(limits_of(home, generator), tuple(connection), tuple(soft),
                             tuple(order), blind or (False,) * len(home.loads))
