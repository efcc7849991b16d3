"""The calculated load that a choice puts on the generator without any management.

NEC 702.4(B)(2) (2011-2020), 702.4(A)(2) (2023): automatic transfer without load management carries
the full calculated load; with it, the largest load that the management will connect. What is always
connected must therefore pass the calculation of Article 220 (120 in 2026) by itself.
"""

from __future__ import annotations

from functools import lru_cache

from planner.facts.home import Home
from planner.physics.demand import DemandSheet, calculated_load
from planner.plan.menu import Menu
from planner.service.choice import DIRECT, Choice


def direct_sheet(menu: Menu, choice: Choice) -> DemandSheet:
    """Calculated load of the direct loads of a choice."""
    ids = menu.house.ids
    direct = frozenset(ids[i] for i, how in enumerate(choice.connection) if how == DIRECT)
    return direct_demand(menu.house.home, direct, menu.kind == "whole-house")


def direct_demand(home: Home, direct: frozenset[str], whole_area: bool) -> DemandSheet:
    """Calculated load of a set of loads; remembered, since searches ask again and again."""
    return _remembered(_Key(home), direct, whole_area)


class _Key:
    """Identity of a home as a cache key: homes hold mappings and cannot be hashed by value."""

    def __init__(self, home: Home) -> None:
        self.home = home

    def __hash__(self) -> int:
        return id(self.home)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self.home is other.home


@lru_cache(maxsize=8192)
def _remembered(key: _Key, direct: frozenset[str], whole_area: bool) -> DemandSheet:
    return calculated_load(key.home, direct, whole_area=whole_area)
