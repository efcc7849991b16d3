"""Circles in a graph that must have none, told in words."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx


def circles(graph: nx.DiGraph) -> Iterator[tuple[str, ...]]:
    """Yield one circle of every group of nodes that lead to one another.

    A circle is a tuple of nodes, each with an edge to the next and the last with an edge to the
    first. It starts at the node that was added to the graph first.
    """
    place = {node: number for number, node in enumerate(graph.nodes)}
    groups = [sorted(group, key=place.__getitem__)
              for group in nx.strongly_connected_components(graph)]
    for group in sorted(groups, key=lambda nodes: place[nodes[0]]):
        first = group[0]
        if len(group) > 1:
            within = graph.subgraph(group)
            closing = min((nx.shortest_path(within, first, last)
                           for last in group if within.has_edge(last, first)), key=len)
            yield tuple(closing)
        elif graph.has_edge(first, first):
            yield (first,)


def in_words(circle: tuple[str, ...], verb: str) -> str:
    """Say a circle: ``a requires b, b requires c, c requires a``."""
    following = (*circle[1:], circle[0])
    return ", ".join(f"{one} {verb} {other}"
                     for one, other in zip(circle, following, strict=True))
