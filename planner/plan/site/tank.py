"""Propane tanks: how fast they make vapour, how long they last, and which may be added."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import DesignDay, Home
from planner.facts.price_book import PriceBook
from planner.facts.site_parts import TankPart
from planner.physics.fuel import (
    RESERVE_SHARE,
    propane_gal_h,
    run_time_h,
    usable_gal,
)
from planner.physics.vaporisation import (
    RULE_K,
    RULE_MULTIPLIER,
    intermittent_vaporisation_btu_h,
    least_fill_share,
    vaporisation_btu_h,
)
from planner.plan.site.parts import SiteLine
from planner.tolerances import floored

MOST_ADDED = 2
"""Tanks that are added at most (a choice)."""
HOURS_PER_DAY = 24.0
STEPS = 60
"""Halvings of a search for a fill or a draw."""


@dataclass(frozen=True, slots=True)
class Tanks:
    """All tanks of a site, filled alike.

    Attributes
    ----------
    gal : tuple of float
        Water capacity of each [gal].
    added : tuple of TankPart
        Those among them that are bought.
    """

    gal: tuple[float, ...]
    added: tuple[TankPart, ...] = ()

    @property
    def all_gal(self) -> float:
        """Water capacity of all [gal]."""
        return sum(self.gal)

    def vapour_btu_h(self, fill_share: float, degf: float) -> float:
        """Give the heat of the vapour that they make steadily [Btu/h]."""
        return sum(vaporisation_btu_h(gal, fill_share, degf) for gal in self.gal)

    def least_fill(self, btu_h: float, degf: float) -> float | None:
        """Find the fill from which on they make so much vapour; None if not even filled up."""
        return least_fill_share(self.all_gal, btu_h, degf)

    def lasts_h(self, btu_h: float, from_share: float, degf: float) -> float:
        """Give how long they feed a draw until the reserve, or the vapour, ends [h]."""
        least = self.least_fill(btu_h, degf)
        if least is None or btu_h <= 0.0:
            return 0.0
        left_gal = usable_gal(self.all_gal, from_share, max(RESERVE_SHARE, least))
        return run_time_h(left_gal, propane_gal_h(btu_h))

    def most_btu_h(self, from_share: float, degf: float, hours: float) -> float:
        """Find the largest steady draw that they feed for so long from a fill on [Btu/h]."""
        most = self.vapour_btu_h(from_share, degf)
        if hours <= 0.0 or self.lasts_h(most, from_share, degf) >= hours:
            return most
        low, high = 0.0, most
        for _ in range(STEPS):
            middle = (low + high) / 2.0
            if self.lasts_h(middle, from_share, degf) >= hours:
                low = middle
            else:
                high = middle
        return low


def mean_degf(day: DesignDay) -> float:
    """Give the mean temperature of a design day, which swings as a cosine [degF]."""
    return (day.low_degf + day.high_degf) / 2.0


def tanks_of(home: Home, book: PriceBook) -> tuple[Tanks, ...]:
    """Give what stands at a home, alone and with up to `MOST_ADDED` equal tanks of the book."""
    tank = None if home.site is None else home.site.tank
    if home.fuel != "propane" or tank is None:
        return ()
    there = (tank.gal,) * tank.count
    more = tuple(Tanks((*there, *(part.gal,) * number), (part,) * number)
                 for part in book.site.tanks for number in range(1, MOST_ADDED + 1))
    return ((Tanks(there),) if there else ()) + more


def tank_lines(tanks: Tanks) -> tuple[SiteLine, ...]:
    """Price what is bought."""
    if not tanks.added:
        return ()
    number, part = len(tanks.added), tanks.added[0]
    text = part.label if number == 1 else f"{number} × {part.label}"
    return (SiteLine(f"{text}, installed", sum(one.installed_usd for one in tanks.added)),)


def intermittent_btu_h(
    tanks: Tanks, book: PriceBook, fill_share: float, degf: float
) -> float | None:
    """Give what tanks make for an hour at most, by the rule for intermittent draw [Btu/h].

    The rule needs diameter and length: those of a tank of the book of the same capacity; None where
    a tank is not known. Warmer and fuller than it reaches counts as its end; colder or emptier, it
    says nothing: 0.
    """
    sizes = {part.gal: part for part in book.site.tanks}
    if any(gal not in sizes for gal in tanks.gal):
        return None
    if degf < min(RULE_MULTIPLIER) or fill_share < min(RULE_K):
        return 0.0
    fill, temperature = min(fill_share, max(RULE_K)), min(degf, max(RULE_MULTIPLIER))
    return sum(intermittent_vaporisation_btu_h(
        sizes[gal].diameter_in, sizes[gal].length_in, fill, temperature) for gal in tanks.gal)


def hour_btu_h(
    tanks: Tanks, book: PriceBook, fill_share: float, day: DesignDay
) -> float | None:
    """Give what tanks make for an hour at most at the coldest of a day [Btu/h]; None: not known.

    The greater of the rule for intermittent draw and the steady table: what is made all day is made
    for an hour too.
    """
    made = intermittent_btu_h(tanks, book, fill_share, day.low_degf)
    return None if made is None else max(made, tanks.vapour_btu_h(fill_share, day.low_degf))


def lasting(hours: float) -> str:
    """A length of time in words, rounded down: days, or hours where it is less than one day."""
    if hours < HOURS_PER_DAY:
        return f"{floored(hours, 1.0):.0f} hours"
    return f"{floored(hours / HOURS_PER_DAY, 0.1):.1f} days"
