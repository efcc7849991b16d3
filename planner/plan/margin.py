"""How much a plan's starts, or its draws, may grow before the replay refuses it.

The replay is greedy: what is refused at one growth can be accepted at a larger one, where another
load gives way. So growths are tried from small to large, and the first that is refused counts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from planner.plan.judged import late
from planner.plan.plan import Plan
from planner.service.house import KW_ROW, L1_ROW, L2_ROW, House
from planner.service.replay import Refusal, Service, replay
from planner.service.supply import Supply
from planner.wiring import panel_rows

MOST = 1.0  # growth up to twice the value is tried
STEP = 0.01  # a refusal between two steps that are both accepted is not seen
PRECISION = 0.001
TENTH = 0.1

Grown = Callable[[House, Supply, float], tuple[House, Supply]]


@dataclass(frozen=True, slots=True)
class Growth:
    """How much one kind of value may grow.

    Attributes
    ----------
    holds : float
        Largest growth below the first refused one that was tried and accepted (0.12 is 12 %
        more).
    refused_at : float or None
        Smallest growth found that is refused; None if none is up to `MOST`.
    refusal : str
        What refuses there; empty if nothing does.
    coverage_at_tenth : float or None
        Coverage (0-1) with 10 % more; None if that is refused.
    """

    holds: float
    refused_at: float | None
    refusal: str
    coverage_at_tenth: float | None


@dataclass(frozen=True, slots=True)
class Margin:
    """How much all starts together, and all running draws together, may grow."""

    starts: Growth
    draws: Growth


def margin_of(plan: Plan) -> Margin:
    """Find how much the starts, and the draws, of all loads may grow together.

    Connections, soft starters and the order stay as they are. Refused means that the always-
    connected loads do not fit in some slot, or that a must-run load waits or misses a call; less
    coverage is no refusal. The calculated load by code does not grow with them.

    Parameters
    ----------
    plan : Plan
        Any plan; the replay accepts it as it stands.

    Returns
    -------
    Margin
        Growths in steps of 1 %, the first refused one to 0.1 % by bisection.
    """
    return Margin(_growth(plan, grown_starts), _growth(plan, grown_draws))


def grown_starts(house: House, supply: Supply, growth: float) -> tuple[House, Supply]:
    """Let starting kVA and starting kW of every motor grow, the running draw unchanged.

    Both grow alike: the safe side, since a deeper dip lowers the kW that a start draws per kVA.
    """
    motors = supply.start_kva > 0.0
    start_kw = np.where(motors, supply.start_kw * (1.0 + growth), supply.start_kw)
    start_kva = supply.start_kva * (1.0 + growth)
    return house, replace(supply, start_kw=start_kw, start_kva=start_kva)


def grown_draws(house: House, supply: Supply, growth: float) -> tuple[House, Supply]:
    """Let running kW and kVA of every load grow, the starts unchanged (but never below the draw).

    Every panel becomes a row: one that could not be overloaded before may be now.
    """
    legs = house.draw[[L1_ROW, L2_ROW]]
    rows, caps_a, names = [house.draw[:3]], [], list(house.row_names[:3])
    for panel in panel_rows(house.home):
        below = np.isin(house.ids, panel.load_ids)
        rows.append(legs * below)
        caps_a += [panel.feeder_a, panel.feeder_a]
        names += [f"panel {panel.panel_id}, leg L1", f"panel {panel.panel_id}, leg L2"]
    draw = np.concatenate(rows) * (1.0 + growth)
    start_kw = np.maximum(supply.start_kw, draw[KW_ROW][:, None])
    grown = replace(house, draw=draw, panel_caps_a=np.array(caps_a), row_names=tuple(names))
    return grown, replace(supply, start_kw=start_kw)


def refusal_of(plan: Plan, outcome: Service | Refusal) -> str:
    """Say why an outcome of the replay is not acceptable; empty if it is.

    The demand is left out: at a margin it stands at the limit.
    """
    if isinstance(outcome, Refusal):
        limit = f"{outcome.limit:.1f} {outcome.unit} allowed"
        return f"{outcome.rule} on {outcome.day}, {limit}"
    return "".join(late(plan.menu.house.home, outcome.unmet))


def _growth(plan: Plan, grown: Grown) -> Growth:
    def played(growth: float) -> Service | Refusal:
        house, supply = grown(plan.menu.house, plan.supply, growth)
        return replay(house, supply, plan.choice)

    def refusal(growth: float) -> str:
        return refusal_of(plan, played(growth))

    tenth = played(TENTH)
    covers = None if isinstance(tenth, Refusal) or tenth.unmet else tenth.coverage
    steps = [round(STEP * step, 6) for step in range(1, round(MOST / STEP) + 1)]
    holds = 0.0
    for step in steps:
        if refusal(step):
            return _narrowed(refusal, holds, step, covers)
        holds = step
    return Growth(holds, None, "", covers)


def _narrowed(
    refusal: Callable[[float], str], holds: float, refused: float, covers: float | None
) -> Growth:
    while refused - holds > PRECISION + 1e-9:
        middle = (holds + refused) / 2.0
        if refusal(middle):
            refused = middle
        else:
            holds = middle
    return Growth(holds, refused, refusal(refused), covers)
