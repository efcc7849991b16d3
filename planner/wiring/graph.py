"""The house as a directed graph: service -> transfer -> panels -> circuits -> loads."""

from __future__ import annotations

from dataclasses import dataclass

import networkx as nx

from planner.facts.home import Home
from planner.wiring.relations import requires_graph

SERVICE = "service"
TRANSFER = "transfer"


def panel_node(panel_id: str) -> str:
    """Name the node of a panel."""
    return f"panel:{panel_id}"


def circuit_node(load_id: str) -> str:
    """Name the node of the circuit that a load has to itself."""
    return f"circuit:{load_id}"


def load_node(load_id: str) -> str:
    """Name the node of a load."""
    return f"load:{load_id}"


@dataclass(frozen=True)
class Wiring:
    """The graph of a home and the questions asked of it.

    Attributes
    ----------
    graph : networkx.DiGraph
        Edges point from the source to the load; every node has the attribute `kind`: ``service``,
        ``transfer``, ``panel``, ``circuit`` or ``load``.
    needs : networkx.DiGraph
        Load ids; an edge from a load to each load that it requires.
    """

    graph: nx.DiGraph
    needs: nx.DiGraph

    def loads_below(self, node: str) -> frozenset[str]:
        """Ids of the loads that lose power if this node opens; KeyError for an unknown node."""
        if node not in self.graph:
            raise KeyError(node)
        below = nx.descendants(self.graph, node) | {node}
        return frozenset(self.graph.nodes[one]["load_id"] for one in below
                         if self.graph.nodes[one]["kind"] == "load")

    def idled_by_module(self, load_id: str) -> frozenset[str]:
        """Ids of the loads that stop when the shedding module of a load opens.

        These are the loads on its circuit and every load that requires one of them, through any
        number of steps.
        """
        dark = self.loads_below(circuit_node(load_id))
        return dark.union(*(nx.ancestors(self.needs, one) for one in dark))

    def path_to(self, load_id: str) -> tuple[str, ...]:
        """Nodes from the service down to a load; empty if its panel hangs on nothing."""
        target = load_node(load_id)
        if not nx.has_path(self.graph, SERVICE, target):
            return ()
        return tuple(nx.shortest_path(self.graph, SERVICE, target))


def build(home: Home) -> Wiring:
    """Draw the graph of a home.

    A panel whose parent is unknown, or that feeds itself through others, is drawn but cannot be
    reached from the service; `planner.wiring.checks` names such panels.
    """
    graph = nx.DiGraph()
    graph.add_node(SERVICE, kind="service", amperes=home.service_a)
    graph.add_node(TRANSFER, kind="transfer")
    graph.add_edge(SERVICE, TRANSFER)
    for panel in home.panels:
        graph.add_node(panel_node(panel.id), kind="panel", amperes=panel.feeder_a)
    for panel in home.panels:
        source = TRANSFER if panel.fed_from is None else panel_node(panel.fed_from)
        if source in graph:
            graph.add_edge(source, panel_node(panel.id))
    for load in home.loads:
        graph.add_node(circuit_node(load.id), kind="circuit", amperes=load.running_a)
        graph.add_node(load_node(load.id), kind="load", load_id=load.id)
        graph.add_edge(circuit_node(load.id), load_node(load.id))
        if panel_node(load.panel) in graph:
            graph.add_edge(panel_node(load.panel), circuit_node(load.id))
    return Wiring(graph, requires_graph(home))
