"""Which load is served less when a plan's starts or draws grow, and what binds it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.plan.plan import Plan
from planner.service.choice import OFF
from planner.service.house import KW_ROW, L1_ROW, L2_ROW
from planner.service.replay import Service
from planner.tolerances import meets

Kind = Literal["starting kVA", "starting kW", "running kW"]


@dataclass(frozen=True, slots=True)
class Binding:
    """A load and the limits that it has to keep within; all figures as they are, not grown.

    Attributes
    ----------
    label : str
        Of the load.
    kind : Kind
        What the figures are.
    need, limit : float
        What the load takes, or the start that it has to stand beside; what the generator gives, of
        a start the other load on which it succeeds.
    start_of : str
        Label of the load whose start that is; empty for its own.
    need_a, limit_a : float
        Of running kW: amperes on its heavier leg, and what a leg gives [A]. Else 0.
    """

    label: str
    kind: Kind
    need: float
    limit: float
    start_of: str = ""
    need_a: float = 0.0
    limit_a: float = 0.0


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
    """Find the load that loses most at a growth, and the limits that it has to keep within.

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
    i = _loses_most(plan, there)
    label = plan.loads[i].label
    if starts:
        power = supply.power(house, plan.choice.soft_start, plan.choice.sensing)
        if not meets(float(power.start_kva[i]) * (1.0 + growth), supply.startable_kva):
            return Binding(label, "starting kVA", float(power.start_kva[i]), supply.startable_kva)
        rooms = np.where([how == OFF for how in plan.choice.connection], np.inf, power.room_kw)
        k = int(np.argmin(rooms))
        return Binding(label, "starting kW", float(power.start_kw[k]), float(power.room_kw[k]),
                       "" if k == i else plan.loads[k].label)
    return Binding(label, "running kW", float(house.draw[:, KW_ROW, i].max()), supply.capacity_kw,
                   "", float(house.draw[:, [L1_ROW, L2_ROW], i].max()), supply.leg_a)


def _loses_most(plan: Plan, there: Service) -> int:
    """Place of the load by which most is lost: of the comfort that loses most, the least served."""
    house = plan.menu.house
    lost = [share * (now.kept - then.kept) for share, now, then in zip(
        house.importance, plan.service.kept, there.kept, strict=True)]
    served = plan.service.service - there.service
    if not lost or max(lost) <= 0.0:
        return int(np.argmax(served))
    comfort = house.home.comforts[int(np.argmax(lost))]
    return max((house.index(one) for one in comfort.loads), key=lambda i: float(served[i]))
