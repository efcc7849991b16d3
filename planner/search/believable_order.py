"""Priority order as a reader expects it, wherever it makes no difference to what anyone gets.

The search stops at the first order that serves best; many others often serve just as well. Of these
the one is shown that a family can believe: what must run first, then what matters more, and what
never gets a turn last.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from planner.service.choice import Choice
from planner.service.house import House
from planner.service.replay import Refusal, Service, replay
from planner.service.supply import Supply

SAME = 1e-12


def in_believable_order(house: House, supply: Supply, choice: Choice) -> Choice:
    """Swap neighbours in the order as long as nobody loses by it.

    Parameters
    ----------
    house, supply : House, Supply
        The home as arrays, one generator at it.
    choice : Choice
        Its order is kept where a swap would change the service of any load, make the waits longer,
        or break a wish.

    Returns
    -------
    Choice
        The same connections and soft starters; every load has the same service.
    """
    played = replay(house, supply, choice)
    if isinstance(played, Refusal) or len(choice.order) < 2:
        return choice
    rank = {i: _rank(house, played, i) for i in choice.order}
    moved = True
    while moved:
        moved = False
        for place in range(len(choice.order) - 1):
            first, second = choice.order[place], choice.order[place + 1]
            if rank[second] >= rank[first] or house.before[first, second]:
                continue
            order = list(choice.order)
            order[place], order[place + 1] = second, first
            other = replace(choice, order=tuple(order))
            then = replay(house, supply, other)
            if not isinstance(then, Refusal) and _nobody_loses(played, then):
                choice, played, moved = other, then, True
    return choice


def _rank(house: House, played: Service, i: int) -> tuple[bool, bool, float, int]:
    """Small numbers first: served at all, must run, importance, place in the file."""
    timeline = played.timeline
    starved = bool(timeline.called_h[i] > 0.0 and timeline.served_h[i] == 0.0)
    return starved, not bool(house.must_run[i]), -float(house.home.loads[i].importance), i


def _nobody_loses(now: Service, then: Service) -> bool:
    """No load is served otherwise, no comfort kept otherwise, and nobody waits longer."""
    before, after = now.timeline, then.timeline
    same = np.allclose(before.served_h, after.served_h, rtol=0.0, atol=SAME) and np.allclose(
        before.called_h, after.called_h, rtol=0.0, atol=SAME)
    kept = all(np.allclose(one.by_day, other.by_day, rtol=0.0, atol=SAME)
               and np.allclose(one.worst, other.worst, rtol=0.0, atol=SAME, equal_nan=True)
               for one, other in zip(now.kept, then.kept, strict=True))
    return bool(same) and kept and not then.broken and bool(
        (after.longest_wait_h <= before.longest_wait_h + SAME).all())
