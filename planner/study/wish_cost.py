"""What each wish costs: the home planned again without it, or with one more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.search.cheapest import Cheapest
from planner.service.house import KW_ROW, house_of
from planner.service.kept import Kept
from planner.study.comfort_changes import ComfortChange, comfort_changes
from planner.study.quick import quick_problems
from planner.study.reaching import look_for_reaching
from planner.study.same_choice import same_choice
from planner.study.wish_changes import Direction, WishChange, changes_of
from planner.study.wishes import Wish, counted, given_up, goal_of
from planner.tolerances import DOLLAR, SAME_USD


@dataclass(frozen=True)
class WishCost:
    """One wish changed, everything else and what may be missed of the rest kept.

    Attributes
    ----------
    wish : Wish
        What is given up or added; with a comfort its promise and its must-run are given up too.
    direction
        ``give up`` or ``add``.
    home : Home
        The home with the change.
    goal : float
        Coverage of the changed home at which no more is missed of the rest, 0-1.
    plan : Plan or None
        Cheapest plan of the changed home that reaches it; None if there is none. Where giving up
        saves nothing, the plan without the change.
    before : Plan
        The plan without the change.
    proven : bool
        Whether no plan of the changed home that reaches the goal is cheaper, or none is there where
        `plan` is None; if not, none was found.
    """

    wish: Wish
    direction: Direction
    home: Home
    goal: float
    plan: Plan | None
    before: Plan
    proven: bool = True

    @property
    def price_usd(self) -> float | None:
        """What the wish costs [USD]: saved by giving it up, paid by adding it; never below 0.

        To ask for more is never cheaper: where it seems so, the plan without it was not the
        cheapest, and so much could be saved anyway.
        """
        if self.plan is None:
            return None
        more_usd = self.plan.cost_usd - self.before.cost_usd
        return max(0.0, more_usd if self.direction == "add" else -more_usd)

    @property
    def size_kw(self) -> float | None:
        """How much larger the wish makes the generator [kW, derated]."""
        if self.plan is None:
            return None
        more_kw = self.plan.supply.derated_kw - self.before.supply.derated_kw
        return (more_kw if self.direction == "add" else -more_kw) + 0.0

    @property
    def missed(self) -> Kept | None:
        """What the comfort it is about is like with the change, in its unit."""
        return self.plan.comfort(self.wish.comfort) if self.plan and self.wish.comfort else None

    @property
    def changes(self) -> tuple[ComfortChange, ...]:
        """What becomes of all comforts."""
        return comfort_changes(self.before, self.plan) if self.plan else ()


def wish_costs(
    home: Home, book: PriceBook, plan: Plan, coverage: float, *, generator: str | None = None,
    on_progress: OnProgress | None = None,
) -> tuple[WishCost, ...]:
    """Plan the home again for every wish changed, the dearest wish first, impossible ones last.

    Each comfort is given up with all that is asked of it, each promise and each must-run by itself;
    each comfort is made a must-run, and promised where nothing is. Wishes about the order are given
    up, or the order by importance is added. That medical equipment might be given up is not asked.

    Parameters
    ----------
    home, book : Home, PriceBook
        The home and what can be bought.
    plan : Plan
        The plan that the changes are held against: the cheapest for the goal.
    coverage : float
        The goal, 0-1; changed homes may miss as much of the rest as it allows this one.
    generator : str, optional
        Id of a size to stay with; any if not given.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    """
    return _costs(home, book, plan, coverage, generator, list(changes_of(home)), on_progress)


def cost_of_wish(
    home: Home, book: PriceBook, plan: Plan, coverage: float, about: str,
    generator: str | None = None,
) -> tuple[WishCost, ...]:
    """Plan the home again for the wishes about one comfort only; `wish_costs` says the rest.

    `about` is the id of the comfort, or of a load that serves one.
    """
    comfort = next((load.comfort for load in home.loads if load.id == about), about) or about
    asked = [one for one in changes_of(home) if one.wish.about == comfort]
    return _costs(home, book, plan, coverage, generator, asked, None)


def grouped(costs: Sequence[WishCost]) -> tuple[tuple[WishCost, ...], ...]:
    """Put together what is changed the same way at the same price and size, and as surely."""
    groups: dict[tuple[str, int | None, float | None, bool], list[WishCost]] = {}
    for one in costs:
        price, size = one.price_usd, one.size_kw
        key = (one.direction, None if price is None else round(price / (2.0 * DOLLAR)),
               None if size is None else round(size, 3), one.proven)
        groups.setdefault(key, []).append(one)
    return tuple(tuple(group) for group in groups.values())


def _costs(
    home: Home, book: PriceBook, plan: Plan, coverage: float, generator: str | None,
    changes: Sequence[WishChange], on_progress: OnProgress | None,
) -> tuple[WishCost, ...]:
    tell = on_progress or unheard
    found: list[WishCost] = []
    allowed = (1.0 - coverage) * counted(home)
    free = _saving_nothing(home, book, plan, allowed, generator, changes, part_of(tell, 0.0, 0.0))
    for place, change in enumerate(changes):
        mine = part_of(tell, place / len(changes), (place + 1) / len(changes))
        goal = goal_of(allowed, counted(change.home))
        if change.direction == "give up":
            then = (Cheapest(plan, free[change.wish.about]) if change.wish.about in free else
                    _without(change.home, book, plan, goal, generator, mine))
            if change.wish.kind == "comfort" and then.plan is plan:
                free[change.wish.about] = then.proven
        else:
            same = same_choice(plan, change.home, goal, part_of(mine, 0.0, 0.0))
            then = Cheapest(same, proven=True) if same else _cheapest(
                change.home, book, goal, generator, mine)
        found.append(WishCost(change.wish, change.direction, change.home, goal, then.plan, plan,
                              then.proven))
        mine(1.0)
    return tuple(sorted(found, key=_place))


def _saving_nothing(
    home: Home, book: PriceBook, plan: Plan, allowed: float, generator: str | None,
    changes: Sequence[WishChange], tick: OnProgress,
) -> dict[str, bool]:
    """What is about the lighter half of the comforts, if even all of it given up saves nothing.

    Whether that is proven stands beside it. Giving up more never makes a plan dearer, so none of it
    saves anything by itself either.
    """
    house = house_of(home)
    heaviest_kw = dict(zip(house.ids, house.draw[:, KW_ROW].max(axis=0), strict=True))
    wishes = sorted((one.wish for one in changes
                     if one.direction == "give up" and one.wish.kind == "comfort"),
                    key=lambda wish: max(heaviest_kw[load_id] for load_id in wish.load_ids))
    light = wishes[:(len(wishes) + 1) // 2]
    if len(light) < 2:
        return {}
    changed = home
    for wish in light:
        changed = given_up(changed, wish)
    saved = _without(changed, book, plan, goal_of(allowed, counted(changed)), generator, tick,
                     hasty=True)
    return {wish.about: saved.proven for wish in light} if saved.plan is plan else {}


def _without(
    changed: Home, book: PriceBook, plan: Plan, goal: float, generator: str | None,
    tick: OnProgress, *, hasty: bool = False,
) -> Cheapest:
    """The cheapest plan without a wish, if it saves anything; else the plan with it."""
    less_usd = plan.cost_usd - SAME_USD
    problems = quick_problems(changed, book, generator, less_usd, hasty=hasty)
    found = look_for_reaching(problems, goal, tick, less_usd)
    return found if found.plan is not None else Cheapest(plan, found.proven)


def _cheapest(
    changed: Home, book: PriceBook, goal: float, generator: str | None, tick: OnProgress,
    most_usd: float = float("inf"),
) -> Cheapest:
    return look_for_reaching(quick_problems(changed, book, generator, most_usd), goal, tick)


def _place(found: WishCost) -> tuple[bool, float, int]:
    price = found.price_usd
    return price is None, -(price or 0.0), -found.wish.weight


__all__ = ["Direction", "WishCost", "cost_of_wish", "grouped", "wish_costs"]
