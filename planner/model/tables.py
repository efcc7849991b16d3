"""The numbers of the model: what the rules read, prepared once per home."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.model.alone import Alone, alone
from planner.model.beside import Beside, beside_of
from planner.model.demand import DemandForm, demand_form
from planner.model.firm import FirmSet, firm_sets_of
from planner.model.levels import Level, level_of
from planner.model.pieces import Piece, pieces_of
from planner.model.reach import awake_of, heavy_of, owed_of, turns_of
from planner.model.slots import Slots
from planner.plan.menu import Menu
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF
from planner.service.house import KW_ROW, STORE, House
from planner.service.loops.inputs import BY_CLOCK, BY_LEVEL, BY_STRETCH, CLOCK, TASK
from planner.service.nature import HUGE
from planner.service.supply import Supply
from planner.tolerances import LIMIT


@dataclass(frozen=True)
class Tables:
    """One home, one kind of transfer equipment, and the generators to choose from.

    All menus price the same loads; they differ in generator and in the transfer equipment that
    suits it. Of every spell the last `last_days` are planned, None for all of it: fewer make the
    model smaller and its bound looser.
    """

    house: House
    menus: tuple[Menu, ...]
    supplies: tuple[Supply, ...]
    last_days: int | None = None

    @cached_property
    def slots(self) -> Slots:
        """The slots that are planned."""
        spell = self.house.spell
        return Slots(len(self.house.weights), spell, min(spell, self.last_days or spell))

    @cached_property
    def allowed(self) -> Bools:
        """Connections open under every menu, shape (n, 4)."""
        open_everywhere: Bools = np.all([menu.allowed for menu in self.menus], axis=0)
        return open_everywhere

    @cached_property
    def only_direct(self) -> Bools:
        """Loads whose single open connection is direct, shape (n,)."""
        return self.allowed[:, DIRECT] & ~self.allowed[:, [OFF, MODULE, BY_HAND]].any(axis=1)

    @cached_property
    def may_shed(self) -> Ints:
        """Loads that may take turns."""
        return np.flatnonzero(self.allowed[:, MODULE])

    @cached_property
    def woken(self) -> Ints:
        """Loads that others wake."""
        return np.flatnonzero(self.house.closure.any(axis=0))

    @cached_property
    def alone(self) -> Alone:
        """What each load does by itself."""
        return alone(self.house)

    @cached_property
    def certain(self) -> Floats:
        """Share of each slot that a load runs if it is direct, where that is known: (n, N)."""
        leads = self.alone.leads[:, self.slots.day]
        share: Floats = np.where(leads & self.allowed[:, DIRECT][:, None],
                                 self.alone.ran[:, self.slots.replayed], 0.0)
        return share

    @cached_property
    def pieces(self) -> tuple[Piece, ...]:
        """Tasks that are asked for."""
        return tuple(piece for piece in pieces_of(self.house, self.slots)
                     if self.is_asked(piece))

    def is_asked(self, piece: Piece) -> bool:
        """Whether the coverage or a promise asks for a task."""
        cares, c = self.house.cares, piece.comfort
        counts = bool(cares.share[c] > 0.0) and bool(self.slots.judged[piece.closing])
        return counts or bool(cares.bound[c, piece.day] < HUGE)

    @cached_property
    def levels(self) -> dict[int, Level]:
        """Deviations of the comforts that keep a level and of which something is asked."""
        cares = self.house.cares
        return {c: level_of(self.house, self.slots, c) for c in range(len(cares.kind))
                if cares.kind[c] in (BY_LEVEL, BY_STRETCH)
                and (cares.share[c] > 0.0 or (cares.bound[c] < HUGE).any())}

    @cached_property
    def dark(self) -> tuple[tuple[int, int], ...]:
        """Comforts by the clock with the judged slots in which some load of theirs calls."""
        cares = self.house.cares
        return tuple((int(c), int(t)) for c in np.flatnonzero(cares.kind == BY_CLOCK)
                     if cares.share[c] > 0.0 for t in np.flatnonzero(self.slots.judged)
                     if self.house.works.can[self.loads_of(int(c)), self.slots.of_day[t]].any())

    @cached_property
    def turns(self) -> Bools:
        """Slots in which it matters that a load is on of which that is not known: (n, N)."""
        return turns_of(self)

    @cached_property
    def owed(self) -> Bools:
        """Slots in which must-run loads run, as far as that is known: (n, N)."""
        return owed_of(self)

    @cached_property
    def awake(self) -> Bools:
        """Slots in which a load that others wake may be on: (n, N)."""
        return awake_of(self)

    @cached_property
    def possible(self) -> Bools:
        """Slots in which a load can be on at all: (n, N)."""
        found: Bools = (self.certain > 0.0) | self.turns | self.awake
        return found

    @cached_property
    def heavy(self) -> Bools:
        """Slots above the floor of days whose average could be too much: (N,)."""
        return heavy_of(self)

    @cached_property
    def caps(self) -> Floats:
        """Limit of each row of each generator, shape (G, R)."""
        return np.array([supply.caps(self.house) for supply in self.supplies])

    @cached_property
    def most_room_kw(self) -> Floats:
        """Other load on which each motor starts at best, with what fits it, shape (G, n) [kW]."""
        price = self.menus[0].soft_cost
        return np.array([np.where((price < np.inf) & (one.start_kva <= one.startable_kva + LIMIT),
                                  one.room_kw, -HUGE).max(axis=1) for one in self.supplies])

    @cached_property
    def beside(self) -> Beside:
        """What fits some generator beside the loads that can only be direct."""
        return beside_of(self)

    @cached_property
    def firm_sets(self) -> tuple[FirmSet, ...]:
        """What can be on without a module at once: sets that are no part of another, by day."""
        return firm_sets_of(self)

    @cached_property
    def is_store(self) -> Bools:
        """Whether a load keeps a level, so that it may run part of a slot: (n,)."""
        kept: Bools = self.house.works.kind == STORE
        return kept

    def loads_of(self, c: int) -> list[int]:
        """Loads of a comfort, in its order."""
        cares = self.house.cares
        return [int(i) for i in cares.load[cares.load_first[c]:cares.load_first[c + 1]]]

    @cached_property
    def kw(self) -> Floats:
        """Running draw of each load in each slot, shape (n, N) [kW]."""
        return np.ascontiguousarray(self.house.draw[self.slots.day, KW_ROW, :].T)

    @cached_property
    def weighed_kw(self) -> Floats:
        """What each load counts at a start that nobody announced, shape (n, N) [kW]."""
        weighed: Floats = self.kw * self.house.weight[:, None]
        return weighed

    @cached_property
    def first_calls(self) -> tuple[Bools, Bools]:
        """Slots of the whole spell in which a load is known to begin to call, shape (n, N) each.

        If it is direct; and if it is behind a module, whatever that refuses: the first call of a
        store in a spell, the beginning of a task that follows on none, and every one by the clock.
        """
        begun = self.alone.called.copy()
        begun[:, 1:] &= ~self.alone.called[:, :-1]
        length = self.house.spell * self.slots_per_day
        begun[:, ::length] = self.alone.called[:, ::length]
        leads = np.repeat(self.alone.leads, length, axis=1)
        by_module = np.zeros_like(begun)
        for i in range(self.house.count):
            kind = self.house.works.kind[i]
            if kind == CLOCK:
                by_module[i] = begun[i]
            elif kind == TASK:
                by_module[i] = self._begins(i)
            elif kind == STORE:
                for day in range(self.slots.days):
                    calls = np.flatnonzero(begun[i, day * length:(day + 1) * length])
                    if calls.size:
                        by_module[i, day * length + calls[0]] = True
        return begun & leads, by_module & leads

    def _begins(self, i: int) -> Bools:
        """Slots in which a task begins to call that follows on no other window of the load."""
        works, spell, size = self.house.works, self.house.spell, self.slots_per_day
        first, inside = [], np.zeros(self.slots.days * spell * size + 1, dtype=np.bool_)
        for m in range(works.task_first[i], works.task_first[i + 1]):
            window = works.task_length[m] + max(works.task_wait[m], works.task_pauses[m])
            for k in range(spell):
                begin = (works.task_day[m] * spell + k) * size + works.task_start[m]
                end = min(begin + window, (works.task_day[m] + 1) * spell * size)
                first.append(int(begin))
                inside[begin + 1:end + 1] = True
        begins = np.zeros(inside.size - 1, dtype=np.bool_)
        begins[first] = True
        inside[::spell * size] = False
        return begins & ~inside[:-1]

    @property
    def slots_per_day(self) -> int:
        """Slots of a day."""
        return self.house.slots // len(self.house.weights)

    @cached_property
    def demand(self) -> DemandForm:
        """The code calculation of what is always connected, in linear form."""
        return demand_form(self.house.home, self.menus[0].kind == "whole-house")
