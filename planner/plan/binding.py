"""Which load is served less when a plan's starts or draws grow, and what binds it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.plan.plan import Plan
from planner.service.house import KW_ROW, L1_ROW, L2_ROW
from planner.service.replay import Service, chosen_starts
from planner.tolerances import meets

Kind = Literal["starting kVA", "starting kW", "running kW", "amperes"]


@dataclass(frozen=True, slots=True)
class Binding:
    """A load and the limit that it is nearest to; both figures as they are, not grown.

    Attributes
    ----------
    label : str
        Of the load.
    kind : Kind
        What the figures are.
    need, limit : float
        What the load takes, and what the generator gives.
    """

    label: str
    kind: Kind
    need: float
    limit: float


@dataclass(frozen=True, slots=True)
class Shortfall:
    """The smallest growth at which a plan covers less than it is held to.

    Attributes
    ----------
    goal : float
        Coverage that it is held to, 0-1.
    holds, at : float
        Largest growth below it that was tried and reaches that, and the smallest that does not.
    coverage : float
        Covered there, 0-1.
    binding : Binding
        The load that loses most, by its importance.
    """

    goal: float
    holds: float
    at: float
    coverage: float
    binding: Binding


def binding_of(plan: Plan, there: Service, growth: float, *, starts: bool) -> Binding:
    """Find the load that loses most at a growth, and the limit that it is nearest to.

    Parameters
    ----------
    plan : Plan
        As it stands.
    there : Service
        Its replay with starts or draws grown.
    growth : float
        By how much.
    starts : bool
        Whether the starts grew, or the draws.
    """
    house, supply = plan.menu.house, plan.supply
    lost = (plan.service.service - there.service) * house.importance
    i = int(np.argmax(lost))
    label = plan.loads[i].label
    if starts:
        start_kw, start_kva = chosen_starts(supply, plan.choice)
        if not meets(float(start_kva[i]) * (1.0 + growth), supply.startable_kva):
            return Binding(label, "starting kVA", float(start_kva[i]), supply.startable_kva)
        return Binding(label, "starting kW", float(start_kw[i]), supply.short_time_kw)
    kw, leg_a = float(house.draw[KW_ROW, i]), float(house.draw[[L1_ROW, L2_ROW], i].max())
    if not meets(leg_a / supply.leg_a, kw / supply.capacity_kw):
        return Binding(label, "amperes", leg_a, supply.leg_a)
    return Binding(label, "running kW", kw, supply.capacity_kw)
