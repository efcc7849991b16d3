"""Houses that fit a file: every assumed value drawn from its range.

Values are independent and uniform, but for shared causes: the loads of the base load are draws of
one guess, and so are twins, which the same words were assumed of. Use and weather are the design
day, and are not drawn.

What belongs together, a comfort with its loads, is drawn in `FORMS` forms, in which every value
takes each part of its range once; a house takes one form of each. So a house is put together
instead of worked out, and a plan is played in a thousand of them in a fraction of a second.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

import numpy as np

from planner.arrays import Floats, Ints
from planner.facts.home import Home, Load
from planner.progress import OnProgress, unheard
from planner.remembered import Itself
from planner.service.house import House, house_like, house_of
from planner.study.confidence.guesses import (
    IN_TURN,
    Groups,
    Guess,
    Where,
    groups_of,
    guesses_of,
)
from planner.study.verify.ends import changed_by, spread_of
from planner.study.wishes import with_comfort
from planner.wiring import panel_rows

HOUSES, FORMS = 1000, 64
SEED = 20_240


@dataclass(frozen=True, eq=False)
class Houses:
    """Houses that fit the file of a home.

    Attributes
    ----------
    home : Home
    guesses : tuple of Guess
        What is not known of it.
    groups : Groups
    place : ndarray of float, shape (F, G)
        Where in its range each guess lies in each form, from -1 to 1; 0 is as assumed.
    form : ndarray of int, shape (H, groups)
        Form of each group in each house.
    seed : int
    """

    home: Home
    guesses: tuple[Guess, ...]
    groups: Groups
    place: Floats
    form: Ints
    seed: int

    @property
    def count(self) -> int:
        """How many houses."""
        return len(self.form)

    @cached_property
    def places(self) -> Floats:
        """Where each guess lies in each house, shape (H, G)."""
        return np.asarray(self.place[self.form[:, self.groups.guess],
                                     np.arange(len(self.guesses))[None, :]])

    @cached_property
    def forms(self) -> tuple[House, ...]:
        """The homes of all forms as arrays."""
        return self._worked_out(unheard)

    def work_out(self, tick: OnProgress) -> None:
        """Work the forms out, if they are not yet; what `tick` raises ends that."""
        if "forms" not in vars(self):
            vars(self)["forms"] = self._worked_out(tick)

    def _worked_out(self, tick: OnProgress) -> tuple[House, ...]:
        plain, panels = house_of(self.home), panel_rows(self.home)
        found = []
        for number, row in enumerate(self.place):
            tick(number / len(self.place))
            found.append(house_like(plain, drawn_home(self.home, self._at(row)), panels))
        return tuple(found)

    def house(self, number: int) -> House:
        """One of the houses as arrays, worked out by itself."""
        home = drawn_home(self.home, self._at(self.places[number]))
        return house_like(house_of(self.home), home, panel_rows(self.home))

    def _at(self, row: Floats) -> dict[Where, float]:
        return {place: float(value) for guess, value in zip(self.guesses, row, strict=True)
                for place in guess.places}


def houses_like(home: Home, count: int = HOUSES, *, seed: int = SEED, forms: int = FORMS) -> Houses:
    """Draw houses that fit a home's file; those of the last homes are remembered.

    Parameters
    ----------
    home : Home
    count, forms : int
        How many houses, and in how many forms what belongs together is drawn.
    seed : int
        Same seed, same houses.
    """
    return _drawn_like(Itself(home), count, seed, forms)


@lru_cache(maxsize=4)
def _drawn_like(key: Itself[Home], count: int, seed: int, forms: int) -> Houses:
    home = key.it
    guesses = guesses_of(home)
    groups = groups_of(home, guesses)
    draws = np.random.default_rng(seed)
    parts = np.array([draws.permutation(forms) for _ in guesses]).reshape(len(guesses), forms).T
    within = draws.uniform(size=parts.shape)
    place = 2.0 * (parts + within) / forms - 1.0 if guesses else np.zeros((1, 0))
    rounds = -(-count // len(place))
    form = np.array([np.concatenate([draws.permutation(len(place)) for _ in range(rounds)])[:count]
                     for _ in range(groups.count)]).reshape(groups.count, count).T
    return Houses(home, guesses, groups, place, np.ascontiguousarray(form, dtype=np.int64), seed)


def drawn_home(home: Home, at: Mapping[Where, float]) -> Home:
    """The home with every guess at a place of its range, from -1 to 1; 0 is as assumed."""
    loads = tuple(_drawn(load, at) for load in home.loads)
    drawn = replace(home, loads=loads)
    for comfort in home.comforts:
        for one in comfort.assumed:
            place = at.get((comfort.id, one.key), 0.0)
            if one.key == "time_constant" and place:
                drawn = with_comfort(drawn, comfort.id, time_constant_h=comfort.time_constant_h
                                     * (1.0 + place * one.spread))
    return drawn


def _drawn(load: Load, at: Mapping[Where, float]) -> Load:
    assumed = sorted((one for one in load.assumed if one.key in IN_TURN),
                     key=lambda one: IN_TURN.index(one.key))
    for one in assumed:
        place = at.get((load.id, one.key), 0.0)
        if place:
            ways = changed_by(load, one, place * spread_of(one))
            load = ways[0][1] if ways else load
    return load
