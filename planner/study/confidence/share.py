"""The share of drawn houses in which a plan holds, and what knowing a value would do to it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.engine import SOFT_START_TIMES
from planner.facts.price_book import SoftStarter
from planner.physics.engine import start_rooms_kw, weighed_pick_up_kw
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.remembered import Itself
from planner.service.house import House
from planner.service.loops.inputs import NEVER_KW, Power
from planner.service.replay import direct_order
from planner.service.state import empty_state
from planner.service.supply import FAST_LEVEL_S
from planner.study.confidence.forms import Starts, stacked, starts_of
from planner.study.confidence.guesses import Guess, Range, book_guesses
from planner.study.confidence.houses import Houses, houses_like
from planner.study.confidence.loops.holding import Scratch, holds

TO_QUOTE, TO_ORDER = 0.75, 0.90
"""Shares from which on a plan is quoted, and ordered after the site was seen (a choice)."""
NEAR = 0.4  # of its range around what is assumed: there a value counts as known
TICKS = 50  # houses between two tellings of progress
FIRST, SPREADS = 100, 3.5
"""After so many houses a plan is given up that is so many standard errors below what is asked:
of plans that hold often enough it would give up one in four thousand (derived)."""


@dataclass(frozen=True, slots=True)
class Matter:
    """What is not known, and the share of houses in which the plan holds where it is as assumed."""

    guess: Guess
    share_if_known: float


@dataclass(frozen=True)
class Confidence:
    """How well a plan stands what is not known.

    Attributes
    ----------
    share : float
        Of the drawn houses in which it holds, 0-1.
    houses : int
        How many were drawn; 1 if nothing is assumed.
    matters : tuple of Matter
        What to verify first: what raises the share most if it turns out as assumed.
    """

    share: float
    houses: int
    matters: tuple[Matter, ...]

    @property
    def of_100(self) -> int:
        """In how many of 100 houses it holds, rounded down."""
        return int(100.0 * self.share + 1e-9)


def confidence_of(
    plan: Plan, houses: Houses | None = None, *, least: float = 0.0,
    on_progress: OnProgress | None = None,
) -> Confidence:
    """Play a plan in houses that fit the file.

    It holds where all that is always connected fits, unannounced starts are picked up and the
    average is permitted, at the whole derated rating (what is kept back is a margin for planning),
    the fuel of the site suffices, and every promise is kept within 1 degF or 5 % of the miles,
    relaxed to what unlimited power keeps in that house. A module load that has no room is shed,
    must-run or not; it is let in up to the planned share of the rating, as the controller does.

    Parameters
    ----------
    plan : Plan
    houses : Houses, optional
        Of the home that the plan is for; drawn if they are not given. Whoever asks about several
        plans of a home draws them once.
    least : float
        What is asked for, 0-1: a plan that will not reach it is given up early, and its share is
        that of the houses it was played in. One that was played in all of them is not again.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    """
    drawn = houses or houses_like(plan.menu.house.home)
    known: dict[Itself[Houses], Confidence] = vars(plan).setdefault("_confidences", {})
    if Itself(drawn) in known:  # a plan never changes
        return known[Itself(drawn)]
    of_book = book_guesses(plan.supply.generator, tuple(
        one for one in starters_of(plan) if one is not None))
    if not drawn.guesses and not of_book:
        return Confidence(1.0, 1, ())
    at = places_of(drawn, of_book)
    held = held_in(plan, drawn, of_book, at, least=least, on_progress=on_progress)
    matters = [Matter(guess, _share(held, np.abs(column[:len(held)]) <= NEAR))
               for guess, column in (
                   *zip(drawn.guesses, drawn.places.T, strict=True),
                   *zip((one.guess for one in of_book), at.T, strict=True))]
    found = Confidence(float(held.mean()), len(held),
                       tuple(sorted(matters, key=lambda one: -one.share_if_known)))
    if len(held) == drawn.count:
        known[Itself(drawn)] = found
    return found


def places_of(houses: Houses, of_book: tuple[Range, ...]) -> Floats:
    """Draw where in its range each value of the book lies in each house, shape (H, B), -1 to 1."""
    shape = houses.count, len(of_book)
    return np.random.default_rng((houses.seed, len(of_book))).uniform(-1.0, 1.0, shape)


def starters_of(plan: Plan) -> tuple[SoftStarter | None, ...]:
    """Give the soft starter of each load, None for none."""
    starters = (None, *plan.menu.book.soft_starters)
    return tuple(starters[column] for column in plan.choice.soft_start)


def held_in(
    plan: Plan, houses: Houses, of_book: tuple[Range, ...], at: Floats, *, least: float = 0.0,
    on_progress: OnProgress | None = None,
) -> Bools:
    """Tell for each house whether the plan holds in it, shape (H,), or fewer where it is given up.

    `at` (H, len(of_book)): where in its range each value of the book lies, from -1 to 1.
    """
    tell = on_progress or unheard
    supply, choice = plan.supply, plan.choice
    houses.work_out(part_of(tell, 0.0, 0.0))
    starters = starters_of(plan)
    starts = starts_of(houses, supply, starters)
    drawn = starts.of(houses, stacked(houses))
    first = houses.forms[0]
    said = _Book(plan, of_book, at)
    room_kw = _rooms_kw(plan, houses, starts, said)
    whole_caps = np.concatenate([
        [supply.derated_kw], np.full(2, supply.leg_a / first.home.limits.largest_share),
        first.panel_caps_a])
    power = supply.power(first, (0,) * first.count, choice.sensing)._replace(
        start_kw=np.zeros(first.count), start_kva=np.zeros(first.count),
        begins_kw=np.zeros((len(first.weights), first.count)),
        dip_ok=np.zeros(first.count, dtype=np.bool_))
    works = first.works._replace(**{name: getattr(first.works, name).copy() for name in (
        "can", "gain", "threshold", "need", "keep", "full")})
    cares = first.cares._replace(**{name: getattr(first.cares, name).copy() for name in (
        "keep", "full", "limit", "need", "weight", "low", "high", "amount", "bound")})
    wiring = first.wiring._replace(draw=first.wiring.draw.copy(),
                                   weighed=first.wiring.weighed.copy())
    state = empty_state(works, len(cares.kind), wiring.rows, wiring.spell)
    order = np.array([*direct_order(first, choice), *choice.order], dtype=np.int64)
    connection, scratch = choice.connection_array(), _scratch(first)
    held = np.zeros(houses.count, dtype=np.bool_)
    for number, forms in enumerate(houses.form):
        if number % TICKS == 0:
            tell(number / houses.count)
            if _given_up(held[:number], houses.count, least):
                return held[:number]
        here: Power = power._replace(room_kw=room_kw[number], pick_kw=said.pick_kw[number])
        held[number] = holds(forms, connection, order, drawn, works, cares, wiring, here,
                             here._replace(caps=whole_caps), state, scratch)
    tell(1.0)
    return held


def _given_up(held: Bools, count: int, least: float) -> bool:
    """Whether a plan will not reach a share after the houses in which it was played."""
    done = len(held)
    if done < FIRST or least <= 0.0:
        return False
    few = held.mean() < least - SPREADS * np.sqrt(least * (1.0 - least) / done)
    return bool(few or (~held).sum() > (1.0 - least) * count)


class _Book:
    """What the price book does not state, house by house: each of shape (H,)."""

    def __init__(self, plan: Plan, ranges: tuple[Range, ...], at: Floats) -> None:
        self._values = {one.guess.places[0]: (one.usual.low + one.usual.high) / 2.0
                        + at[:, column] * (one.usual.high - one.usual.low) / 2.0
                        for column, one in enumerate(ranges)}
        self._count, generator = len(at), plan.supply.generator
        self.inertia_s = self.of(generator.id, "inertia", generator.inertia_s)
        self.governor_s = self.of(generator.id, "governor_lag", generator.governor_s)
        self.pick_kw = [weighed_pick_up_kw(plan.supply.derated_kw, plan.supply.kva,
                                           inertia_s=inertia_s, shed_s=FAST_LEVEL_S)
                        for inertia_s in self.inertia_s.tolist()]

    def of(self, owner: str, key: str, stated: float) -> Floats:
        """Values in all houses."""
        return self._values.get((owner, key), np.full(self._count, stated))


def _rooms_kw(plan: Plan, houses: Houses, starts: Starts, said: _Book) -> Floats:
    """Other load on which each motor may be started in each house, shape (H, n)."""
    supply, motors = plan.supply, np.flatnonzero(starts.motors)
    room_kw = np.full((houses.count, starts.kw.shape[1]), NEVER_KW)
    if motors.size:
        form: Ints = houses.form[:, houses.groups.load[motors]]
        seconds = starts.seconds[form, motors]
        for column, i in enumerate(motors):
            starter = starters_of(plan)[i]
            if starter is not None and not starter.start_s:
                seconds[:, column] *= said.of(
                    starter.id, "start_seconds", SOFT_START_TIMES.value) / SOFT_START_TIMES.value
        starting = starts.kva[form, motors] > 0.0  # where it draws no more than it runs with: not
        rooms = start_rooms_kw(
            starts.kw[form, motors], np.where(starting, seconds, 1.0), supply.derated_kw,
            supply.kva, inertia_s=said.inertia_s[:, None], governor_s=said.governor_s[:, None])
        room_kw[:, motors] = np.where(starting, rooms, NEVER_KW)
    return room_kw


def _scratch(house: House) -> Scratch:
    total = house.slots * house.spell
    return Scratch(
        firm=np.zeros(house.count, dtype=np.bool_), room=np.zeros(total, dtype=np.bool_),
        hopes=np.zeros((house.count, total), dtype=np.bool_), ran=np.zeros(total),
        spare=np.zeros(total), total=np.zeros(total), level=np.zeros(total),
        loss=np.zeros(house.slots), measured=np.zeros(len(house.weights)))


def _share(held: Bools, among: Bools) -> float:
    return float(held[among].mean()) if among.any() else float(held.mean())
