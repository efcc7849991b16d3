"""A plan played in drawn houses: in which of them it holds."""

from __future__ import annotations

from zlib import crc32

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.engine import SOFT_START_TIMES
from planner.facts.price_book import SoftStarter
from planner.physics.engine import start_rooms_kw, weighed_pick_up_kw
from planner.plan.plan import Plan
from planner.progress import OnProgress, part_of, unheard
from planner.service.house import House
from planner.service.loops.inputs import NEVER_KW, Power
from planner.service.replay import direct_order
from planner.service.state import empty_state
from planner.service.supply import FAST_LEVEL_S
from planner.study.confidence.forms import Starts, stacked, starts_of
from planner.study.confidence.guesses import Range, book_guesses
from planner.study.confidence.houses import Houses
from planner.study.confidence.loops.holding import Scratch, holds

TICKS = 50  # houses between two tellings of progress


def places_of(houses: Houses, of_book: tuple[Range, ...]) -> Floats:
    """Draw where in its range each value of the book lies in each house, shape (H, B), -1 to 1.

    In a house a value is the same for every plan that hangs on it.
    """
    return np.array([_draws_of(one, houses) for one in of_book]).reshape(
        len(of_book), houses.count).T


def _draws_of(one: Range, houses: Houses) -> Floats:
    seed = houses.seed, crc32(" ".join(one.guess.places[0]).encode())
    return np.random.default_rng(seed).uniform(-1.0, 1.0, houses.count)


def starters_of(plan: Plan) -> tuple[SoftStarter | None, ...]:
    """Give the soft starter of each load, None for none."""
    starters = (None, *plan.menu.book.soft_starters)
    return tuple(starters[column] for column in plan.choice.soft_start)


def ranges_of(plan: Plan) -> tuple[Range, ...]:
    """List what the price book does not state of the parts of a plan."""
    return book_guesses(plan.supply.generator, tuple(
        one for one in starters_of(plan) if one is not None))


class Playing:
    """A plan that is played in houses, some or all of them.

    Parameters
    ----------
    plan : Plan
    houses : Houses
        Of the home that the plan is for, worked out.
    of_book : tuple of Range
        What the price book does not state.
    at : ndarray of float, shape (H, len(of_book))
        Where in its range each of these lies in each house, from -1 to 1.
    """

    def __init__(
        self, plan: Plan, houses: Houses, of_book: tuple[Range, ...], at: Floats
    ) -> None:
        self.plan, self.houses, self.of_book, self.at = plan, houses, of_book, at
        supply, choice = plan.supply, plan.choice
        self.starts = starts_of(houses, supply, starters_of(plan))
        self.drawn = self.starts.of(houses, stacked(houses))
        first = houses.forms[0]
        self.whole_caps = np.concatenate([
            [supply.derated_kw], np.full(2, supply.leg_a / first.home.limits.largest_share),
            first.panel_caps_a])
        self.power = supply.power(first, (0,) * first.count, choice.sensing)._replace(
            start_kw=np.zeros(first.count), start_kva=np.zeros(first.count),
            begins_kw=np.zeros((len(first.weights), first.count)),
            dip_ok=np.zeros(first.count, dtype=np.bool_))
        self.works = first.works._replace(**{name: getattr(first.works, name).copy() for name in (
            "can", "gain", "threshold", "need", "keep", "full")})
        self.cares = first.cares._replace(**{name: getattr(first.cares, name).copy() for name in (
            "keep", "full", "limit", "need", "weight", "low", "high", "amount", "bound")})
        self.wiring = first.wiring._replace(draw=first.wiring.draw.copy(),
                                            weighed=first.wiring.weighed.copy())
        self.state = empty_state(self.works, len(self.cares.kind), self.wiring.rows,
                                 self.wiring.spell)
        self.order = np.array([*direct_order(first, choice), *choice.order], dtype=np.int64)
        self.connection, self.scratch = choice.connection_array(), _scratch(first)

    def holds(self, numbers: Ints, tell: OnProgress = unheard) -> Bools:
        """Tell for each of these houses whether the plan holds in it; shape of `numbers`."""
        said = _Book(self.plan, self.of_book, self.at[numbers])
        forms = self.houses.form[numbers]
        room_kw = _rooms_kw(self.plan, self.houses, self.starts, said, forms)
        held = np.zeros(len(numbers), dtype=np.bool_)
        for k, mine in enumerate(forms):
            if k % TICKS == 0:
                tell(k / len(numbers))
            here: Power = self.power._replace(room_kw=room_kw[k], pick_kw=said.pick_kw[k])
            held[k] = holds(mine, self.connection, self.order, self.drawn, self.works, self.cares,
                            self.wiring, here, here._replace(caps=self.whole_caps), self.state,
                            self.scratch)
        return held


def held_in(
    plan: Plan, houses: Houses, of_book: tuple[Range, ...], at: Floats,
    on_progress: OnProgress | None = None,
) -> Bools:
    """Tell for each house whether the plan holds in it, shape (H,); `Playing` says the rest."""
    tell = on_progress or unheard
    houses.work_out(part_of(tell, 0.0, 0.0))
    held = Playing(plan, houses, of_book, at).holds(np.arange(houses.count), tell)
    tell(1.0)
    return held


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


def _rooms_kw(
    plan: Plan, houses: Houses, starts: Starts, said: _Book, forms: Ints
) -> Floats:
    """Other load on which each motor may be started in houses of these forms, shape (H, n)."""
    supply, motors = plan.supply, np.flatnonzero(starts.motors)
    room_kw = np.full((len(forms), starts.kw.shape[1]), NEVER_KW)
    if motors.size:
        form: Ints = forms[:, houses.groups.load[motors]]
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
