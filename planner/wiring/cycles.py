"""Circles in a graph that must have none, told in words."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator

import networkx as nx

MOST_STEPS = 6
"""Steps of a circle that a sentence names."""


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
        if len(group) > 1 or graph.has_edge(first, first):
            yield _shortest_circle(graph, first)


def in_words(circle: tuple[str, ...], verb: str) -> str:
    """Say a circle: ``a requires b, b requires c, c requires a``; of a long one its ends."""
    steps = [f"{one} {verb} {other}"
             for one, other in zip(circle, (*circle[1:], circle[0]), strict=True)]
    left_out = len(steps) - MOST_STEPS
    if left_out > 0:
        steps[MOST_STEPS - 1:-1] = [f"and so on through {left_out + 1:,} more"]
    return ", ".join(steps)


def _shortest_circle(graph: nx.DiGraph, first: str) -> tuple[str, ...]:
    """Walk away from a node in all directions until a step leads back to it."""
    came_from: dict[str, str] = {}
    for one, other in _steps_away(graph, first):
        if other == first:
            path = [one]
            while path[-1] != first:
                path.append(came_from[path[-1]])
            return tuple(reversed(path))
        came_from[other] = one
    message = f"no circle goes through {first}"
    raise ValueError(message)


def _steps_away(graph: nx.DiGraph, first: str) -> Iterator[tuple[str, str]]:
    """Edges by their distance from a node, each node entered once; those back to it as well."""
    waiting, known = deque([first]), {first}
    while waiting:
        one = waiting.popleft()
        for other in graph.successors(one):
            if other == first or other not in known:
                yield one, other
            if other not in known:
                known.add(other)
                waiting.append(other)
