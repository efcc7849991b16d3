"""One design day of a home, played as a spell: its arrays, and rules 1 to 4 over them.

Settled here:

- loads switched off by hand count with the direct ones in the sums of rule 1; only direct loads may
  not be `not with` each other;
- a task can be on from its start to the end of its window, over midnight round the clock;
- what a direct load wakes can be on whenever that load can; what only module loads wake is theirs;
- starting kW is the greater of the start and the running draw of the day;
- a car's charger comes up in 5 s, so it counts with a fifth where nobody announced it;
- rule 3 looks back to the slot before over midnight, and from the first slot of a spell to nothing;
- a woken load counts for energy like the busiest of all that run and need it.
"""

from __future__ import annotations

import numpy as np

from planner.service.answer import ELECTRONIC, nature_to_engine
from tests.oracle import comforts as kept_of
from tests.oracle.limits import COUNTED_AT_LEAST, HAIR, PICK_UP_DIP, TAKEOVER_DIP
from tests.oracle.slot_by_slot import CLOCK, IDLE, STORE, TASK, fits, play
from tests.oracle.wants import DAY, SLOT_H, Clock, Store, wants_of

OFF, DIRECT, MODULE, BY_HAND = "off", "direct", "module", "by hand"
FOREVER = 1e12
COMES_UP_S = 5.0


class Spell:
    """One design day of a home as arrays for the plain rule."""

    def __init__(self, judge, day):
        self.judge, self.home, home = judge, judge.home, judge.home
        self.judged = home.spell_days - 1
        self.wants = wants_of(home, day)
        n, slots = len(home.loads), DAY * home.spell_days
        self.kind, self.clock = np.zeros(n, dtype=np.int64), np.zeros((n, slots), dtype=np.bool_)
        self.stays, self.cap = np.zeros(n), np.zeros(n)
        self.need, self.gain, self.theta = (np.zeros((n, slots)) for _ in range(3))
        self.windows = np.zeros((n, 1 + max((len(w.windows) for w in self.wants.values()
                                             if hasattr(w, "windows")), default=0), 4), np.int64)
        self.button = np.zeros(n, dtype=np.bool_)
        for i, ld in enumerate(home.loads):
            self._write(i, self.wants[ld.id])
        self.kw = np.array([ld.kw_on(day.id) for ld in home.loads])
        amperes = np.array([1000.0 * ld.kva_on(day.id) / (240.0 if ld.leg == "both" else 120.0)
                            for ld in home.loads])
        self.legs_a = np.array([amperes * np.array([ld.leg in {leg, "both"} for ld in home.loads])
                                for leg in ("L1", "L2")]).T.copy()
        self.best, self.worst, self.best_deviation, self.idle_deviation = {}, {}, {}, {}
        for one in home.comforts:
            self.best[one.id], self.best_deviation[one.id] = self._alone(one, FOREVER)
            self.worst[one.id], self.idle_deviation[one.id] = self._alone(one, -1.0)

    def _write(self, i, want):
        if isinstance(want, Clock):
            self.kind[i], self.clock[i] = CLOCK, want.calls
        elif isinstance(want, Store):
            self.kind[i], self.stays[i], self.cap[i] = STORE, want.stays, want.cap
            self.need[i], self.gain[i], self.theta[i] = want.need, want.gain, want.theta
        elif want is not None:
            self.kind[i], self.button[i] = TASK, want.button
            self.windows[i, :len(want.windows)] = want.windows

    def _played(self, sequence, direct, ahead, must_run, starts, needs, apart, caps):
        _, _, room_kw, startable = starts
        kw_cap, leg_cap_a, below, panel_a = caps
        return play(self.kind, self.clock, self.stays, self.need, self.gain, self.cap, self.theta,
                    ahead, self.windows, self.button, must_run, self.kw, self.legs_a, room_kw,
                    startable, needs, apart, kw_cap, leg_cap_a, below, panel_a, direct,
                    np.array(sequence, dtype=np.int64))

    def _alone(self, one, kw_cap):
        """A comfort's life with unlimited power, or with none."""
        n, place = len(self.kw), self.judge.place
        mine = [place[load_id] for load_id in one.loads]
        inside = np.zeros((n, n), dtype=np.bool_)
        inside[np.ix_(mine, mine)] = True
        free = (np.zeros(n), np.zeros(n), np.full(n, FOREVER), np.ones(n, dtype=np.bool_))
        result = self._played(
            mine, np.zeros(n, dtype=np.bool_), self._ahead([one], mine),
            np.zeros(n, dtype=np.bool_), free, self.judge.needs & inside,
            self.judge.apart & inside,
            (kw_cap, FOREVER, np.zeros((0, n), dtype=np.bool_), np.zeros(0)))
        deviation = self._deviation(one, mine, result)
        return self._lives(one, deviation, result), deviation

    def _ahead(self, comforts, connected):
        ahead = np.zeros((len(self.kw),) * 2, dtype=np.bool_)
        for one in comforts:
            row = [self.judge.place[load_id] for load_id in one.loads]
            stores = [i for i in row if i in connected and self.kind[i] == STORE]
            for nth, i in enumerate(stores):
                ahead[i, stores[nth + 1:]] = True
        return ahead

    def _deviation(self, one, connected, result):
        stores = [i for i in (self.judge.place[load_id] for load_id in one.loads)
                  if i in connected and self.kind[i] == STORE]
        return (result[5][:, stores[-1]].copy() if stores
                else self.idle_deviation.get(one.id, np.zeros(self.clock.shape[1])))

    def _lives(self, one, deviation, result):
        place = self.judge.place
        rows = {load_id: place[load_id] for load_id in one.loads}
        called = {load_id: (self.clock[i] if self.kind[i] == CLOCK else result[2][:, i])
                  for load_id, i in rows.items()}
        return kept_of.lived(one, self.wants, deviation, called,
                             {load_id: result[3][:, i] for load_id, i in rows.items()},
                             {load_id: result[6][i] for load_id, i in rows.items()})

    def play(self, limits, starts, connection, order):
        """Rule 2 over the spell; the direct loads first, each comfort's in its order."""
        n = len(self.kw)
        stages = [self.judge.place[load_id] for one in self.home.comforts for load_id in one.loads]
        direct = [i for i, how in enumerate(connection) if how == DIRECT]
        direct.sort(key=lambda i: stages.index(i) if i in stages else -1)
        connected = [*direct, *order]
        must_run = self.judge.must_run.copy()
        is_direct = np.zeros(n, dtype=np.bool_)
        is_direct[direct] = True
        return self._played(connected, is_direct, self._ahead(self.home.comforts, connected),
                            must_run, starts, self.judge.needs, self.judge.apart,
                            self._caps(limits))

    def lived(self, connection, result):
        """Say what every comfort goes through, and its deviation, by its id."""
        connected = [i for i, how in enumerate(connection) if how in {DIRECT, MODULE}]
        lives, deviation = {}, {}
        for one in self.home.comforts:
            if any(self.judge.place[load_id] in connected for load_id in one.loads):
                deviation[one.id] = self._deviation(one, connected, result)
                lives[one.id] = self._lives(one, deviation[one.id], result)
            else:
                lives[one.id], deviation[one.id] = self.worst[one.id], self.idle_deviation[one.id]
        return lives, deviation

    def _caps(self, limits):
        below = np.array([[ld.id in ids for ld in self.home.loads] for ids, _ in limits.panels])
        return (limits.kw_cap, limits.leg_cap_a, below,
                np.array([amperes for _, amperes in limits.panels]))

    def can_be_on(self, i):
        """Slots of the spell in which a load can be on by itself."""
        if self.kind[i] == CLOCK:
            return self.clock[i]
        if self.kind[i] == STORE:
            return (self.gain[i] > 0.0) & bool((self.need[i] > 0.0).any())
        found = np.zeros(self.clock.shape[1], dtype=np.bool_)
        if self.kind[i] != IDLE:
            for start, length, wait, pauses in self.windows[i]:
                if length:
                    found[(start + np.arange(length + max(wait, pauses))) % len(found)] = True
        return found

    def carries(self, limits, starts, connection):
        """Rule 1: whether all that is always connected fits in every slot, and at takeover."""
        firm = [i for i, how in enumerate(connection) if how in {DIRECT, BY_HAND}]
        direct = [i for i in firm if connection[i] == DIRECT]
        if self.judge.apart[np.ix_(direct, direct)].any():
            return False
        any_pair = np.zeros_like(self.judge.apart)
        on = np.zeros((self.clock.shape[1], len(self.kw)), dtype=np.bool_)
        for i in firm:
            for k in firm:
                if k == i or self.judge.needs[i, k]:
                    on[:, k] |= self.can_be_on(i)
        start_kva, _, room_kw, startable = starts
        for live in np.unique(on, axis=0):
            if limits.dip(float(start_kva[live].sum())) > TAKEOVER_DIP + HAIR:
                return False
            if not fits(live, self.kw, self.legs_a, room_kw, startable, any_pair,
                        *self._caps(limits)):
                return False
        return True

    def picks_up(self, limits, starts, connection, blind, result):
        """Rule 3: whether the engine stands every load that may start unannounced."""
        _, on, called = result[:3]
        start_kva, start_kw = starts[:2]
        start_kw = np.maximum(start_kw, self.kw)
        slow = np.array([ld.nature == "battery" for ld in self.home.loads])
        start_kw = np.where(slow, start_kw / COMES_UP_S, start_kw)
        weight = np.array([4.0 / 3.0 if nature_to_engine(ld) == ELECTRONIC else 1.0
                           for ld in self.home.loads])
        for b, how in enumerate(connection):
            if not (how == DIRECT or (how == MODULE and blind[b])):
                continue
            with_b = self.judge.needs[b].copy()
            with_b[b] = True
            others_kw = on @ np.where(with_b, 0.0, self.kw * weight)
            before_kw = np.concatenate([[0.0], others_kw[:-1]])
            begins = called[:, b] & ~np.concatenate([[False], called[:-1, b]])
            most_kw = np.maximum(others_kw, before_kw) + (start_kw * weight)[with_b].sum()
            if (most_kw[begins] > limits.pick_up_kw + HAIR).any():
                return False
            if begins.any() and limits.dip(float(start_kva[with_b].sum())) > PICK_UP_DIP + HAIR:
                return False
        return True

    def energies(self, result):
        """Rule 5: the energy of each day of the spell [kWh]."""
        kw = (result[4] * result[1]) @ self.kw
        return (kw * SLOT_H).reshape(-1, DAY).sum(axis=1)

    def averages(self, result, limits):
        """Rule 4: the energy of each day of the spell as the rating counts it [kWh]."""
        kw = (result[4] * result[1]) @ self.kw
        counted = np.maximum(kw, COUNTED_AT_LEAST * limits.derated_kw) * SLOT_H
        return counted.reshape(-1, DAY).sum(axis=1)
