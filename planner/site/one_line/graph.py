"""The one-line of a plan as a graph."""

from __future__ import annotations

from dataclasses import dataclass

import networkx as nx

from planner.plan.plan import Plan
from planner.site.one_line.circuits import add_circuits
from planner.site.one_line.notes import notes_of
from planner.site.one_line.sources import GENERATOR, TRANSFER, UTILITY, add_sources
from planner.site.sheet.rows import SiteSheet

__all__ = ["GENERATOR", "TRANSFER", "UTILITY", "OneLine", "one_line"]


@dataclass(frozen=True)
class OneLine:
    """What feeds what in a plan.

    Attributes
    ----------
    graph : networkx.DiGraph
        From each of the two sources a tree. A node has `kind` (``source``, ``meter``,
        ``disconnect``, ``panel``, ``breaker``, ``feeder``, ``transfer``, ``module``,
        ``soft starter``, ``load``), `title`, `label`, `lines` of text, and `bonded`: whether
        neutral and ground are bonded there. Where they are known, `amperes`; of a module and a load
        `load_id` and `priority`. An edge has its `wire` in words. A module in the wire of a
        thermostat hangs on its load, and no power passes it.
    notes : tuple of str
        Grounding and bonding, and how to read it.
    """

    graph: nx.DiGraph
    notes: tuple[str, ...]


def one_line(plan: Plan, sheet: SiteSheet) -> OneLine:
    """Draw the graph of a plan.

    Parameters
    ----------
    plan : Plan
        Loads that it leaves off standby power are not in it.
    sheet : SiteSheet
        That of the plan; its figures are taken, none is worked out twice. What it does not know is
        written ``not stated``.
    """
    graph = nx.DiGraph()
    add_sources(graph, plan, sheet)
    add_circuits(graph, plan, sheet)
    return OneLine(graph, notes_of(plan, sheet))
