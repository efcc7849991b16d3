"""What the two lines carry of what is always connected, and how its 120 V loads could stand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import product

from planner.facts.home import Home, Leg, Load
from planner.plan.code import WHOLE, always_connected, direct_demand
from planner.plan.plan import Plan
from planner.service.choice import DIRECT, OFF
from planner.tolerances import meets

MOST_TRIED = 14
"""120 V loads of which every arrangement is looked at: 16,384 (a choice, no source)."""


@dataclass(frozen=True, slots=True)
class Arrangement:
    """A way for 120 V loads to stand on the two lines.

    Attributes
    ----------
    lines_a : tuple of float
        What L1 and L2 carry of the calculated load [A].
    moved : tuple of Load
        The loads that change their line against the home as it stands, each on its new one.
    """

    lines_a: tuple[float, float]
    moved: tuple[Load, ...]

    @property
    def heavier_a(self) -> float:
        """What the heavier line carries [A]."""
        return max(self.lines_a)


def line_limit_a(plan: Plan) -> float:
    """Give what a line may carry by code: the whole derated amperes, and its own breaker [A].

    As with the calculated VA, what is kept back for planning is not taken off.
    """
    rated_a = plan.supply.leg_a / plan.menu.house.home.limits.largest_share
    breaker_a = plan.supply.generator.breaker_a
    return rated_a if breaker_a is None else min(rated_a, breaker_a)


def can_be_wired(plan: Plan) -> bool:
    """Whether some arrangement of the always connected 120 V loads is carried by both lines."""
    limit_a = line_limit_a(plan)
    return (meets(as_it_stands(plan).heavier_a, limit_a)
            or meets(evenest(plan).heavier_a, limit_a))


def as_it_stands(plan: Plan) -> Arrangement:
    """Give what the lines carry with every load on its line by the file, or as assumed."""
    return Arrangement(always_connected(plan.menu, plan.choice).counts.lines_a, ())


def evenest(plan: Plan) -> Arrangement:
    """Find the arrangement of the always connected 120 V loads with the lightest heavier line.

    Notes
    -----
    What a load adds to a line is found by moving it alone; sums of that choose among all
    arrangements (of many loads, the heaviest are dealt out first), and the one that is chosen is
    calculated. Of equal ones the one that moves fewest loads.
    """
    home = plan.menu.house.home
    single = [load for i, load in enumerate(home.loads)
              if plan.choice.connection[i] == DIRECT and load.leg != "both"]
    lines_a = _lines_a(plan, home)
    added_a = [abs(_lines_a(plan, _moved(home, [load]))[0] - lines_a[0]) for load in single]
    rest_a = [lines_a[leg] - sum(a for a, load in zip(added_a, single, strict=True)
                                 if load.leg == name) for leg, name in enumerate(("L1", "L2"))]
    best = min(_arrangements(single, added_a), key=lambda legs: (
        round(_heavier(legs, added_a, rest_a), 3),
        sum(leg != load.leg for leg, load in zip(legs, single, strict=True)), legs))
    moved = [load for leg, load in zip(best, single, strict=True) if leg != load.leg]
    changed = _moved(home, moved)
    return Arrangement(_lines_a(plan, changed), tuple(changed.load(one.id) for one in moved))


def _arrangements(single: list[Load], added_a: list[float]) -> list[tuple[Leg, ...]]:
    both: tuple[Leg, Leg] = ("L1", "L2")
    if len(single) <= MOST_TRIED:
        return list(product(both, repeat=len(single)))
    legs: dict[str, Leg] = {}
    sums: dict[Leg, float] = {"L1": 0.0, "L2": 0.0}
    for amperes, load in sorted(zip(added_a, single, strict=True), key=lambda one: -one[0]):
        legs[load.id] = "L1" if sums["L1"] <= sums["L2"] else "L2"
        sums[legs[load.id]] += amperes
    return [tuple(load.leg for load in single), tuple(legs[load.id] for load in single)]


def _heavier(legs: tuple[Leg, ...], added_a: list[float], rest_a: list[float]) -> float:
    on_one = sum(a for a, leg in zip(added_a, legs, strict=True) if leg == "L1")
    return max(rest_a[0] + on_one, rest_a[1] + sum(added_a) - on_one)


def _moved(home: Home, loads: list[Load]) -> Home:
    ids = {load.id for load in loads}
    return replace(home, loads=tuple(
        replace(load, leg="L2" if load.leg == "L1" else "L1") if load.id in ids else load
        for load in home.loads))


def _lines_a(plan: Plan, home: Home) -> tuple[float, float]:
    menu, choice = plan.menu, plan.choice
    direct = frozenset(load.id for i, load in enumerate(home.loads)
                       if choice.connection[i] == DIRECT)
    whole = menu.kind == WHOLE
    return direct_demand(home, direct, whole_area=whole,
                         entire=whole and OFF not in choice.connection).counts.lines_a
