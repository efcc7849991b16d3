"""The calculated load that a choice puts on the generator without any management.

NEC 702.4(B)(2) (2011-2020), 702.4(A)(2) (2023): automatic transfer without load management carries
the full calculated load; with it, the largest load that the management will connect. What is always
connected must therefore pass the calculation of Article 220 (120 in 2026) by itself.

Both the optional method and Part III are worked out, and the lesser permitted one counts. Where the
demand of the dwelling was measured and the conditions of 220.87 hold, 125 % of its highest demand
bounds whatever part of it is connected, and counts where it is less still. The method for existing
dwellings (220.83) is not among them: it asks whether an existing service or feeder carries more,
and a generator is a new source.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from planner.facts.home import Home
from planner.physics.demand import (
    DemandSheet,
    calculated_load,
    measured_part,
    why_not_optional,
)
from planner.plan.menu import Menu
from planner.remembered import Itself
from planner.service.choice import OFF, Choice

WHOLE = "whole-house"


@dataclass(frozen=True, slots=True)
class AlwaysConnected:
    """Calculated load of what is always connected, by each method.

    Attributes
    ----------
    standard, optional : DemandSheet
        By Part III, and by 220.82.
    why_not_optional : str
        Why 220.82 is not permitted for it; empty if it is.
    measured : DemandSheet or None
        By 220.87; None where no measurement counts.
    """

    standard: DemandSheet
    optional: DemandSheet
    why_not_optional: str
    measured: DemandSheet | None = None

    @property
    def calculated(self) -> DemandSheet:
        """The lesser permitted sheet of what is calculated from the loads."""
        return lesser(self.standard, self.optional, self.why_not_optional)

    @property
    def counts(self) -> DemandSheet:
        """The least permitted sheet; the measured one only where it is less than the others."""
        least = self.calculated
        if self.measured is not None and self.measured.total_va < least.total_va:
            return self.measured
        return least


def lesser(standard: DemandSheet, optional: DemandSheet, why_not_optional: str) -> DemandSheet:
    """Give the lesser permitted of the two calculations."""
    if why_not_optional or standard.total_va <= optional.total_va:
        return standard
    return optional


def direct_sheet(menu: Menu, choice: Choice) -> DemandSheet:
    """Calculated load of the direct loads of a choice, by the least permitted method."""
    return always_connected(menu, choice).counts


def always_connected(menu: Menu, choice: Choice) -> AlwaysConnected:
    """Calculated load of the direct loads of a choice, by each method.

    What the family opens by hand is connected until then, and counts. Behind whole-house transfer
    equipment stands the feeder that the service was, and it serves the
    whole dwelling unless a circuit was moved to the utility side; selected circuits are a part.
    What is off by a module that stays open is never connected to the generator, so it is taken like
    what was moved: neither counted nor, to be careful, part of a dwelling that is served entirely.
    """
    ids = menu.house.ids
    direct = frozenset(ids[i] for i in range(len(ids)) if choice.is_firm(i))
    whole = menu.kind == WHOLE
    return direct_demand(menu.house.home, direct, whole_area=whole,
                         entire=whole and OFF not in choice.connection)


def direct_demand(
    home: Home, direct: frozenset[str], *, whole_area: bool, entire: bool
) -> AlwaysConnected:
    """Calculated load of a set of loads; remembered, since searches ask again and again."""
    return _remembered(Itself(home), direct, whole_area, entire)


@lru_cache(maxsize=8192)
def _remembered(
    key: Itself[Home], direct: frozenset[str], whole_area: bool, entire: bool
) -> AlwaysConnected:
    home = key.it
    standard = calculated_load(home, direct, whole_area=whole_area, method="standard")
    optional = calculated_load(home, direct, whole_area=whole_area, method="optional")
    why_not = why_not_optional(home.code.edition, home.service_a, entire=entire)
    calculated = lesser(standard, optional, why_not)
    return AlwaysConnected(standard, optional, why_not, measured_part(home, direct, calculated))
