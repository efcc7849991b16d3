"""What needs what, what excludes what, who stands before whom."""

from __future__ import annotations

from itertools import combinations

import networkx as nx

from planner.facts.home import Home
from planner.wiring.reach import reached
from planner.wiring.rooms import THERMAL


def requires_graph(home: Home) -> nx.DiGraph:
    """Load ids with an edge from a load to each load that it requires, in the order of the file."""
    graph = nx.DiGraph()
    graph.add_nodes_from(load.id for load in home.loads)
    graph.add_edges_from((load.id, needed) for load in home.loads for needed in load.requires)
    return graph


def order_graph(home: Home) -> nx.DiGraph:
    """Load ids with an edge from a load to each load that it must stand before."""
    graph = nx.DiGraph()
    graph.add_nodes_from(load.id for load in home.loads)
    graph.add_edges_from((first, second) for second, first in home.never_before)
    return graph


def stage_pairs(home: Home) -> tuple[tuple[str, str], ...]:
    """Pairs (first, second) of stages of a room that heat, or cool, on the same day, in order."""
    kinds = {load.id: [load.use_on(day).kind for day in home.days] for load in home.loads}
    return tuple(
        (first, second) for comfort in home.comforts if comfort.kind == "room"
        for first, second in combinations([one for one in comfort.loads if one in kinds], 2)
        if any(one == other and one in THERMAL
               for one, other in zip(kinds[first], kinds[second], strict=True)))


def requires_closure(home: Home) -> dict[str, frozenset[str]]:
    """List for every load what must be on with it, through any number of steps, without itself."""
    needed = reached(requires_graph(home))
    return {load.id: needed[load.id] - {load.id} for load in home.loads}


def exclusions(home: Home) -> frozenset[frozenset[str]]:
    """Pairs of loads that are never on together; named by one of the two is enough."""
    return frozenset(frozenset((load.id, other)) for load in home.loads
                     for other in load.not_with if other != load.id)


def order_pairs(home: Home) -> frozenset[tuple[str, str]]:
    """Pairs (first, second) where the wishes put the first before the second in priority.

    ``never_before = (a, b)`` says that a never stands before b, so b is the first of the pair.
    Pairs that follow from others are part of the answer. The rule ``importance`` is not: it is a
    matter of ranks, not of pairs.
    """
    return frozenset((first, second) for first, later in reached(order_graph(home)).items()
                     for second in later)
