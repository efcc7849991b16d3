"""The numbers of the model: what the rules read, prepared once per home."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.home import SLOTS_PER_DAY
from planner.model.demand import DemandForm, demand_form
from planner.plan.menu import Menu
from planner.service.choice import DIRECT, MODULE, OFF
from planner.service.house import KW_ROW, House
from planner.service.supply import Supply


@dataclass(frozen=True)
class Tables:
    """One home, one kind of transfer equipment, and the generators to choose from.

    All menus price the same loads; they differ in generator and in the transfer equipment that
    suits it.
    """

    house: House
    menus: tuple[Menu, ...]
    supplies: tuple[Supply, ...]

    @cached_property
    def allowed(self) -> Bools:
        """Connections open under every menu, shape (n, 3)."""
        open_everywhere: Bools = np.all([menu.allowed for menu in self.menus], axis=0)
        return open_everywhere

    @cached_property
    def only_direct(self) -> Bools:
        """Loads whose single open connection is direct, shape (n,)."""
        return self.allowed[:, DIRECT] & ~self.allowed[:, MODULE] & ~self.allowed[:, OFF]

    @cached_property
    def may_shed(self) -> Ints:
        """Loads that may take turns."""
        return np.flatnonzero(self.allowed[:, MODULE])

    @cached_property
    def recent_calls(self) -> Ints:
        """Calls that can still be pending in a slot, those made in it included, shape (n, T)."""
        return self._windowed(self.house.wait_slots + 1)

    @cached_property
    def backlog_cap(self) -> Ints:
        """Calls that can be left over at the end of a slot and still be served, shape (n, T)."""
        return self._windowed(self.house.wait_slots)

    def _windowed(self, widths: Ints) -> Ints:
        days = self.house.calls.reshape(self.house.count, -1, SLOTS_PER_DAY).astype(np.int64)
        total = np.cumsum(days, axis=2)
        counts = np.zeros_like(total)
        for i, width in enumerate(widths):
            counts[i] = total[i]
            if width < SLOTS_PER_DAY:
                counts[i, :, width:] -= total[i, :, : SLOTS_PER_DAY - width]
        return counts.reshape(self.house.count, -1)

    @cached_property
    def woken(self) -> Ints:
        """Loads that others wake."""
        return np.flatnonzero(self.house.closure.any(axis=0))

    @cached_property
    def slot_weight(self) -> Floats:
        """Weight of each slot's day, shape (T,)."""
        return np.repeat(self.house.weights, SLOTS_PER_DAY)

    @cached_property
    def value(self) -> Floats:
        """Coverage that one served call of weight 1 adds, per load, shape (n,)."""
        total = self.house.importance.sum()
        called = np.where(self.house.called > 0, self.house.called, 1.0)
        return self.house.importance / (total * called) if total else 0.0 * called

    @cached_property
    def adders(self) -> Floats:
        """Starting minus running kW per generator, load and soft starter, shape (G, n, 1+S)."""
        kw = self.house.draw[KW_ROW]
        return np.array([supply.start_kw - kw[:, None] for supply in self.supplies])

    @cached_property
    def demand(self) -> DemandForm:
        """The code calculation of the direct loads, in linear form."""
        return demand_form(self.house.home, self.menus[0].kind == "whole-house")
