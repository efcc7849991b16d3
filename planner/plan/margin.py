"""How much a plan's starts, or its draws, may grow before it covers too little, or is refused.

The replay is greedy: what is refused at one growth can be accepted at a larger one, where another
load gives way. So growths are tried from small to large, and the first that is refused counts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from planner.plan.binding import Shortfall, binding_of
from planner.plan.plan import Plan
from planner.service.house import KW_ROW, L1_ROW, L2_ROW, House
from planner.service.replay import Refusal, Service, replay
from planner.service.supply import Supply
from planner.tolerances import reaches
from planner.wiring import panel_rows

MOST = 1.0  # growth up to twice the value is tried
STEP = 0.01  # a refusal between two steps that are both accepted is not seen
PRECISION = 0.001
TENTH = 0.1
POINT = 0.01  # of the coverage that may be lost where no goal is given (a choice, no source)

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
    short : Shortfall or None
        Where it first covers less than it is held to; None if it is refused before.
    """

    holds: float
    refused_at: float | None
    refusal: str
    coverage_at_tenth: float | None
    short: Shortfall | None = None

    @property
    def keeps(self) -> float:
        """Largest growth that was tried and neither refused nor short of the coverage."""
        return self.holds if self.short is None else self.short.holds

    @property
    def is_endless(self) -> bool:
        """Whether nothing speaks against the largest growth that was tried."""
        return self.refused_at is None and self.short is None


@dataclass(frozen=True, slots=True)
class Margin:
    """How much all starts together, and all running draws together, may grow."""

    starts: Growth
    draws: Growth


def margin_of(plan: Plan, goal: float | None = None) -> Margin:
    """Find how much the starts, and the draws, of all loads may grow together.

    Connections, soft starters and the order stay as they are. Refused means that a rule of
    the service refuses it, that a promise is broken or that a must-run load waits; less coverage is
    no refusal, and is found apart. The calculated load by code does not grow with them.

    Parameters
    ----------
    plan : Plan
        Any plan; the replay accepts it as it stands.
    goal : float, optional
        Coverage that it is held to (0-1), no more than it has; if not given, a point less than it
        has.

    Returns
    -------
    Margin
        Growths in steps of 1 %, the first refused one and the first one short of the coverage to
        0.1 % by bisection.
    """
    held = plan.coverage - POINT if goal is None else min(goal, plan.coverage)
    known: dict[float, Margin] = vars(plan).setdefault("_margins", {})  # a plan never changes
    if held not in known:
        known[held] = Margin(_growth(plan, grown_starts, held), _growth(plan, grown_draws, held))
    return known[held]


def grown_starts(house: House, supply: Supply, growth: float) -> tuple[House, Supply]:
    """Let starting kVA and starting kW of every motor grow, the running draw unchanged.

    Both grow alike: the safe side, since a deeper dip lowers the kW that a start draws per kVA.
    """
    return house, supply.with_starts(1.0 + growth)


def grown_draws(house: House, supply: Supply, growth: float) -> tuple[House, Supply]:
    """Let running kW and kVA of every load grow, the starts unchanged (but never below the draw).

    Every panel becomes a row: one that could not be overloaded before may be now.
    """
    legs = house.draw[:, [L1_ROW, L2_ROW], :]
    rows, caps_a, names = [house.draw[:, :3, :]], [], list(house.row_names[:3])
    for panel in panel_rows(house.home):
        below = np.isin(house.ids, panel.load_ids)
        rows.append(legs * below)
        caps_a += [panel.feeder_a, panel.feeder_a]
        names += [f"panel {panel.panel_id}, leg L1", f"panel {panel.panel_id}, leg L2"]
    draw = np.concatenate(rows, axis=1) * (1.0 + growth)
    start_kw = np.maximum(supply.start_kw, draw[:, KW_ROW, :].max(axis=0)[:, None])
    grown = replace(house, draw=draw, panel_caps_a=np.array(caps_a), row_names=tuple(names))
    return grown, replace(supply, start_kw=start_kw)


def refusal_of(plan: Plan, outcome: Service | Refusal) -> str:
    """Say why an outcome of the replay is not acceptable; empty if it is.

    The demand is left out: at a margin it stands at the limit.
    """
    if isinstance(outcome, Refusal):
        limit = f"{outcome.limit:.1f} {outcome.unit} allowed"
        return f"{outcome.rule} on {outcome.day}, {limit}"
    return "; ".join(str(one) for one in outcome.broken)


def _growth(plan: Plan, grown: Grown, goal: float) -> Growth:
    def played(growth: float) -> Service | Refusal:
        house, supply = grown(plan.menu.house, plan.supply, growth)
        return replay(house, supply, plan.choice)

    def refusal(growth: float) -> str:
        return refusal_of(plan, played(growth))

    def is_short(growth: float) -> bool:
        outcome = played(growth)
        return bool(refusal_of(plan, outcome)) or not _covers(outcome, goal)

    tenth = played(TENTH)
    covers = None if isinstance(tenth, Refusal) or tenth.broken else tenth.coverage
    holds, refused, short = 0.0, None, None
    for step in range(1, round(MOST / STEP) + 1):
        growth = round(STEP * step, 6)
        outcome = played(growth)
        if short is None and not _covers(outcome, goal):
            short = _narrowed(is_short, holds, growth)
        if refusal_of(plan, outcome):
            holds, refused = _narrowed(lambda one: bool(refusal(one)), holds, growth)
            break
        holds = growth
    why = "" if refused is None else refusal(refused)
    return Growth(holds, refused, why, covers, _shortfall(plan, played, grown, goal, short))


def _covers(outcome: Service | Refusal, goal: float) -> bool:
    return isinstance(outcome, Service) and reaches(outcome.coverage, goal)


def _shortfall(
    plan: Plan, played: Callable[[float], Service | Refusal], grown: Grown, goal: float,
    short: tuple[float, float] | None,
) -> Shortfall | None:
    """Name what binds where the coverage first falls short; None if it is refused there."""
    if short is None:
        return None
    holds, at = short
    there = played(at)
    if isinstance(there, Refusal) or refusal_of(plan, there):
        return None
    return Shortfall(goal, holds, at, there.coverage,
                     binding_of(plan, there, at, starts=grown is grown_starts))


def _narrowed(fails: Callable[[float], bool], holds: float, failed: float) -> tuple[float, float]:
    """Bring a growth that holds and one that fails closer, to `PRECISION`."""
    while failed - holds > PRECISION + 1e-9:
        middle = (holds + failed) / 2.0
        if fails(middle):
            failed = middle
        else:
            holds = middle
    return holds, failed
