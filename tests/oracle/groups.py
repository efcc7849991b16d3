"""The true frontier of a home of groups that never meet: each by full enumeration, then added up.

A group is judged alone, in the house of its home with the base load. What it does there it does in
the whole home, because

- in every slot the loads of at most one group call beside the constant base (`hours_of` says in
  which slots a load can ever call, whatever it was served), and the slot before the first one of a
  group has none of another: so rules 1 to 3, which look at a slot and the one before, ask the same;
- of rule 4 each group adds its energy above that of the base, counted slot by slot;
- the calculated load never binds (`carries_everything`);
- modules, soft starters, moved circuits and positions add up; controller and transfer equipment
  are chosen by the sum of modules and of positions;
- what a comfort loses concerns its own loads, and coverage is a mean over comforts with weights
  that no choice changes.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import permutations, product

import numpy as np

from tests.oracle.counted import carried, counted_va
from tests.oracle.limits import limits_of
from tests.oracle.market import choices_of, equipment
from tests.oracle.slot_by_slot import STORE
from tests.oracle.verdict import Judge
from tests.oracle.wants import DAY

HAIR = 1e-9


@dataclass(frozen=True)
class Part:
    """What one way to serve a group, or several, adds to a home.

    usd, modules, positions
        Price of what its loads get; how many modules and positions that takes.
    kept
        Sum over its comforts that count of importance times kept.
    above
        Energy above that of the base, by design day, as a share of the rating.
    ways
        For each group (connection, soft starters, order by places in the group, blind).
    """

    usd: float = 0.0
    modules: int = 0
    positions: int = 0
    kept: float = 0.0
    above: tuple[float, ...] = ()
    ways: tuple[object, ...] = ()

    def costs(self):
        """What less of is better, as numbers."""
        return self.usd, self.modules, self.positions, -self.kept, *self.above


class Alone:
    """One group in the house of its home, judged alone."""

    def __init__(self, home, energy_binds):
        """Home with the base and the loads of the group; whether its energy is to be counted."""
        self.home, self.energy_binds = home, energy_binds
        self.judge = Judge(home)
        self.weight = sum(one.importance for one in self.judge.counted)
        self.hours = hours_of(self.judge)
        self.nobody = (False,) * len(home.loads)

    def idle(self, size):
        """Energy of the base alone, by design day, as a share of the rating; () if none counts."""
        if not self.energy_binds:
            return ()
        limits, others = limits_of(self.home, size), len(self.home.loads) - 1
        return self.judge.played(limits, limits.starts([None] * (1 + others)),
                                 ("direct", *("off",) * others), (), self.nobody).average

    def parts(self, book, size, kind):
        """Every way to serve the group that no other beats on everything that adds up."""
        limits, idle = limits_of(self.home, size), self.idle(size)
        found, best = [], {}
        for (connection, soft), priced in self._ways(book, kind):
            positions = self._positions(connection, kind)
            most = -1.0 if self.energy_binds else self._most(connection)
            cases = [((usd, modules, positions), blind) for usd, modules, blind in priced
                     if not _is_beaten((usd, modules, positions), most, best)]
            for order, verdict in self._plays(limits, connection, soft) if cases else ():
                kept = sum(one.importance * verdict.kept[one.id] for one in self.judge.counted)
                above = tuple(a - b for a, b in zip(verdict.average, idle, strict=True)
                              ) if self.energy_binds else ()
                for case, blind in cases:
                    if not self.energy_binds and best.get(case, -1.0) >= kept:
                        continue
                    if self._picks_up(limits, connection, soft, blind, verdict):
                        best[case] = kept
                        found.append(Part(*case, kept, above, ((connection, soft, order, blind),)))
                if most >= 0.0 and all(best.get(case, -1.0) >= most - 1e-12 for case, _ in cases):
                    break
        return undominated(found)

    def _most(self, connection):
        """The most that can be kept where a comfort without a load that has power is not."""
        alive = {ld.id for ld, how in zip(self.home.loads, connection, strict=True)
                 if how in {"direct", "module"}}
        return sum(one.importance for one in self.judge.counted if alive & set(one.loads))

    def _ways(self, book, kind):
        """Prices, modules, blindness of every combination of connections and soft starters."""
        found = {}
        for pick in product(*(choices_of(ld, book, kind) for ld in self.home.loads)):
            connection = tuple(one[0] for one in pick)
            soft, blind = tuple(one[1] for one in pick), tuple(one[3] for one in pick)
            if connection[0] == "direct" and not self.judge.gives_up(connection):
                found.setdefault((connection, soft), []).append(
                    (sum(one[2] for one in pick), sum(one[4] for one in pick), blind))
        return sorted(found.items(), key=lambda one: min(usd for usd, *_ in one[1]))

    def _plays(self, limits, connection, soft):
        """Orders that are plans if every module senses; of those that play alike the first."""
        starts = limits.starts(soft)
        if not self.judge.carries(limits, starts, connection):
            return
        seen = set()
        modules = [i for i, how in enumerate(connection) if how == "module"]
        for order in permutations(modules):
            if not self.judge.is_ordered(connection, order):
                continue
            played = [day.play(limits, starts, connection, order) for day in self.judge.days]
            print_of = b"".join(array.tobytes() for one in played for array in one[1:])
            if any(one[0] for one in played) or print_of in seen:
                continue
            seen.add(print_of)
            verdict = self.judge.played(limits, starts, connection, order, self.nobody)
            if verdict.is_plan:
                yield order, verdict

    def _picks_up(self, limits, connection, soft, blind, verdict):
        """Rule 3 with modules that do not sense their calls."""
        if not any(blind):
            return True
        starts = limits.starts(soft)
        return all(day.picks_up(limits, starts, connection, blind, (False, on, called))
                   for day, on, called in zip(self.judge.days, verdict.on, verdict.called,
                                              strict=True))

    def _positions(self, connection, kind):
        if kind == "whole-house":
            return 0
        return sum(2 if ld.leg == "both" else 1
                   for ld, how in zip(self.home.loads[1:], connection[1:], strict=True)
                   if how != "off")


def _is_beaten(case, most, best):
    """Whether something found takes no more of anything and keeps all that there is to keep."""
    return any(kept >= most - 1e-12 and all(a <= b for a, b in zip(other, case, strict=True))
               for other, kept in best.items()) if most >= 0.0 else False


def hours_of(judge):
    """Slots of a spell in which a load of a group can call on some day, however it was served.

    A store calls no sooner than if it was never served. What can be on in other slots too (rule 1
    then counts it there) may be neither direct nor opened by hand.
    """
    found = np.zeros(DAY * judge.home.spell_days, dtype=np.bool_)
    for day in judge.days:
        for i, ld in enumerate(judge.home.loads[1:], start=1):
            can = day.can_be_on(i)
            if day.kind[i] == STORE:
                behind, calls = 0.0, can.copy()
                for t in range(len(found)):
                    behind = day.stays[i] * behind + day.need[i, t]
                    calls[t] &= behind >= day.theta[i, t] - HAIR
                    behind = min(behind, day.cap[i])
                assert (calls == can).all() or (not ld.allowed & {"direct", "by hand"}
                                                and ld.importance > 0)
                can = calls
            found |= can
    return found


def never_meet(hours):
    """Whether the hours of all groups are apart, with a slot between them, over midnight too."""
    near = [one | np.roll(one, 1) for one in hours]
    return all(not (a & b).any() for i, a in enumerate(near) for b in near[i + 1:])


def carries_everything(home, book):
    """Whether every size carries the calculated load of all loads together."""
    ids = frozenset(ld.id for ld in home.loads)
    worst_va = max(counted_va(home, ids, kind, moved) for kind in home.transfer_kinds
                   for moved in (False, True))
    return all(carried(worst_va, limits_of(home, one).derated_kw) for one in book.generators)


def price_of(home, book, size, kind, connection, soft, blind):
    """Price of a whole home [USD], from the price book's own words; None if it cannot be built.

    With the cheapest of all ways to split what is off.
    """
    priced = [[(one[2], one[4]) for one in choices_of(ld, book, kind)
               if [one[0], one[1], one[3]] == pick]
              for ld, *pick in zip(home.loads, connection, soft, blind, strict=True)]
    found = []
    for picked in product(*priced):
        modules = sum(count for _, count in picked)
        usd = equipment(home, book, size, kind, connection, modules)
        if usd is not None:
            found.append(usd + sum(one for one, _ in picked))
    return min(found, default=None)


def undominated(parts):
    """Parts that no other part beats or equals on everything that adds up."""
    parts = sorted(parts, key=Part.costs)
    kept, rows = [], np.zeros((len(parts), len(parts[0].costs()) if parts else 0))
    for part in parts:
        costs = np.array(part.costs())
        if not (rows[:len(kept)] <= costs).all(axis=1).any():
            rows[len(kept)] = costs
            kept.append(part)
    return kept


def together(front, parts, most_above):
    """Every sum of two parts that none beats; energy may not be more than `most_above`."""
    found = []
    for one, other in product(front, parts):
        above = tuple(a + b for a, b in zip(one.above, other.above, strict=True))
        if all(a <= most * (1.0 + HAIR) for a, most in zip(above, most_above, strict=True)):
            found.append(Part(one.usd + other.usd, one.modules + other.modules,
                              one.positions + other.positions, one.kept + other.kept, above,
                              one.ways + other.ways))
    return undominated(found)
