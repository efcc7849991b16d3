"""Which loads that are off are moved to the utility side, and whose module stays open instead.

Given what is off and how many modules take turns, this is a small problem by itself. A module that
stays open saves what a relocation costs more, and takes one of the controller's modules: so the
loads that save most come first, and their number is what the steps of the controllers leave.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

import numpy as np

from planner.arrays import Floats
from planner.plan.menu import NEVER, Menu
from planner.service.choice import OFF, Choice
from planner.tolerances import SAME_USD


def saves_of(menu: Menu) -> Floats:
    """What each load saves if its module stays open in the place of a relocation, (n,) [USD].

    Before the controller; 0 where that is not open to it or saves nothing.
    """
    found: Floats = np.where(menu.keep_cost < NEVER, menu.off_cost - menu.keep_cost, 0.0)
    return np.maximum(found, 0.0)


def split(menu: Menu, saves: Sequence[float], modules: int) -> tuple[int, float]:
    """Say how many modules stay open, and what that and the controller cost at least.

    Parameters
    ----------
    menu : Menu
        Its controllers count.
    saves : sequence of float
        What each load that is off saves if its module stays open, the most first [USD].
    modules : int
        Modules that take turns.

    Returns
    -------
    tuple of int and float
        The number; and the controller's price less what is saved [USD], infinite if no controller
        drives the modules. Of equal prices the fewest modules.
    """
    if not saves:
        return 0, menu.controller_usd(modules)
    left_usd = [menu.controller_usd(modules + number) - saved_usd
                for number, saved_usd in enumerate(accumulate(saves, initial=0.0))]
    least_usd = min(left_usd)
    number = next(k for k, usd in enumerate(left_usd) if usd <= least_usd + SAME_USD)
    return number, least_usd


def split_at_least(menu: Menu, choice: Choice) -> Choice:
    """Give a choice with the cheapest of its splits, whatever split it has.

    Loads that save the same stay open in the order of the home.
    """
    saves = saves_of(menu)
    off = sorted((i for i, how in enumerate(choice.connection) if how == OFF and saves[i] > 0.0),
                 key=lambda i: (-saves[i], i))
    number, _ = split(menu, saves[off].tolist(), len(choice.order))
    kept_open = frozenset(off[:number])
    return choice if kept_open == choice.kept_open else replace(choice, kept_open=kept_open)
