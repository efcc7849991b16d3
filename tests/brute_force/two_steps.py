"""Plans one or two changes away from a plan: what a search that was cut short may have missed.

A change gives one load another connection, module or soft starter, or another place in the order.
The planner's own replay and prices judge what comes of it.
"""

from __future__ import annotations

import numpy as np

from planner.plan.judged import judged
from planner.service.choice import MODULE, NO_STARTER, OFF, Choice


def open_to_change(menu):
    """Places of the loads about which something is left to choose."""
    ways = menu.allowed.sum(axis=1) + np.isfinite(menu.soft_cost).sum(axis=1)
    return [int(i) for i in np.flatnonzero((ways > 2) | menu.allowed[:, MODULE])]


def changed(menu, choice, rng):
    """Change one load by chance."""
    i = rng.choice(open_to_change(menu))
    connection, soft = list(choice.connection), list(choice.soft_start)
    order, sensing = [k for k in choice.order if k != i], set(choice.sensing) - {i}
    what = rng.choice(["connection", "connection", "start", "place", "module"])
    if what == "connection":
        connection[i] = rng.choice([int(how) for how in np.flatnonzero(menu.allowed[i])])
    elif what == "start":
        soft[i] = rng.choice([int(k) for k in np.flatnonzero(np.isfinite(menu.soft_cost[i]))])
    if connection[i] == MODULE:
        order.insert(rng.randrange(len(order) + 1), i)
        senses = menu.sensing_kind[i] is not None
        if senses and (i in choice.sensing) != (what == "module"):
            sensing.add(i)
        if what in {"start", "module"} and choice.connection[i] == MODULE:
            order = list(choice.order)
    if connection[i] == OFF:
        soft[i] = NO_STARTER
    return Choice(tuple(connection), tuple(soft), tuple(order), frozenset(sensing))


def beside(plan, rng, tries):
    """Give what is found one or two changes away from a plan and is a plan: (USD, coverage, what).

    The last is its choice.
    """
    seen = {plan.choice}
    for attempt in range(tries):
        choice = plan.choice
        for _ in range(1 + attempt % 2):
            choice = changed(plan.menu, choice, rng)
        if choice in seen:
            continue
        seen.add(choice)
        try:
            found = judged(plan.menu, plan.supply, choice)
        except ValueError:  # what a load needs is not connected as firmly
            continue
        if not found.wrong:
            yield found.price.usd, found.service.coverage, choice
