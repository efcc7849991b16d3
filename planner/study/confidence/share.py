"""The share of drawn houses in which a plan holds, and what knowing a value would do to it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from planner.arrays import Bools
from planner.plan.plan import Plan
from planner.progress import OnProgress, unheard
from planner.service.house import House, house_of
from planner.service.loops.losing import EMPTY
from planner.service.replay import Refusal, Service, replay
from planner.service.supply import supply_of
from planner.study.confidence.houses import Guess, drawn_generator, drawn_home, guesses_of

HOUSES = 1000
TO_QUOTE, TO_ORDER = 0.75, 0.90
"""Shares from which on a plan is quoted, and ordered after the site was seen (a choice)."""
DEGF, MILES_SHARE = 1.0, 0.05
"""By how much a promise may be missed in a house that is not as assumed (a choice)."""
NEAR = 0.4  # of its range around what is assumed: there a value counts as known
SEED = 20_240


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


def confidence_of(
    plan: Plan, houses: int = HOUSES, *, seed: int = SEED, on_progress: OnProgress | None = None
) -> Confidence:
    """Draw houses that fit the file, and replay a plan in each.

    It holds where all that is always connected fits, unannounced starts are picked up, the average
    is permitted, all at the whole derated rating (what is kept back is a margin for planning), and
    every promise is kept within 1 degF or 5 % of the miles, relaxed to what unlimited power keeps
    in that house. A module load that has no room is shed, must-run or not.

    Parameters
    ----------
    plan : Plan
    houses : int
        How many are drawn.
    seed : int
        Same seed, same houses.
    on_progress : callable, optional
        Told the share done, 0-1; what it raises ends the work.
    """
    tell = on_progress or unheard
    home, generator = plan.menu.house.home, plan.supply.generator
    guesses = guesses_of(home, generator)
    count = houses if guesses else 1
    drawn = np.random.default_rng(seed).uniform(-1.0, 1.0, (count, len(guesses)))
    holds = np.zeros(count, dtype=np.bool_)
    for number in range(count):
        tell(number / count)
        at = {place: float(value) for guess, value in zip(guesses, drawn[number], strict=True)
              for place in guess.places}
        house = house_of(drawn_home(home, at))
        supply = supply_of(house, drawn_generator(generator, at), plan.menu.book)
        supply = replace(supply, capacity_kw=supply.derated_kw, blind=plan.supply.blind,
                         leg_a=supply.leg_a / home.limits.largest_share)
        played = replay(house, supply, plan.choice)
        holds[number] = not isinstance(played, Refusal) and _promised(house, played)
    tell(1.0)
    matters = [Matter(guess, _share(holds, np.abs(drawn[:, g]) <= NEAR))
               for g, guess in enumerate(guesses)]
    return Confidence(float(holds.mean()), count,
                      tuple(sorted(matters, key=lambda one: -one.share_if_known)))


def _share(holds: Bools, among: Bools) -> float:
    return float(holds[among].mean()) if among.any() else float(holds.mean())


def _promised(house: House, played: Service) -> bool:
    for c, one in enumerate(played.kept):
        bound = house.cares.bound[c]
        slack = EMPTY
        if one.comfort.kind == "room":
            slack = DEGF
        elif one.comfort.kind == "car":
            slack = MILES_SHARE * max(0.0, one.comfort.promise.miles or 0.0) if (
                one.comfort.promise) else EMPTY
        if (one.measured > bound + slack).any():
            return False
    return True
