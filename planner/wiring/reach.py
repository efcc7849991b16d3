"""What can be reached in a graph, for all nodes at once."""

from __future__ import annotations

import networkx as nx


def reached(graph: nx.DiGraph) -> dict[str, frozenset[str]]:
    """List for every node what is reached from it by one edge or more.

    A node on a circle is reached from itself.

    Parameters
    ----------
    graph : networkx.DiGraph
        Its nodes are ids.

    Returns
    -------
    dict
        In the order of the nodes.

    Notes
    -----
    Nodes that lead to one another reach the same, so they are taken as one; what each group reaches
    is put together from the groups behind it, which have been done before.
    """
    groups = nx.condensation(graph)
    beyond: dict[int, frozenset[str]] = {}
    found: dict[str, frozenset[str]] = {}
    for group in reversed(list(nx.topological_sort(groups))):
        members = frozenset(groups.nodes[group]["members"])
        parts = [part for later in groups.successors(group)
                 for part in (beyond[later], groups.nodes[later]["members"])]
        beyond[group] = frozenset().union(*parts)
        for node in members:
            circle = len(members) > 1 or graph.has_edge(node, node)
            found[node] = beyond[group] | members if circle else beyond[group]
    return {node: found[node] for node in graph}
