"""The upper part of a one-line: both sources, side by side down to the transfer equipment."""

from __future__ import annotations

import networkx as nx

from planner.site.drawing.boxes import Words, draw_box, words_of
from planner.site.drawing.canvas import SMALL_PX, THICK, Canvas
from planner.site.drawing.frame import MARGIN
from planner.site.one_line import GENERATOR, TRANSFER, UTILITY

CHAINED = frozenset({"meter", "disconnect", "panel", "transfer"})
GAP, GROUND_PX, BETWEEN = 22.0, 26.0, 30.0


def draw_chains(canvas: Canvas, y: float, graph: nx.DiGraph) -> tuple[float, float]:
    """Draw both chains below a place; give the point that feeds the loads [px]."""
    graph = _with_wires(graph)
    chains = [_chain(graph, UTILITY), _chain(graph, GENERATOR)]
    slots = max(len(chain) for chain in chains) + 1
    room = canvas.width - 2.0 * MARGIN
    width = (room - GAP * (slots - 1)) / slots
    rows, top = [], y
    for chain in chains:
        words = [words_of(graph.nodes[node], width) for node in chain]
        height = max(one.height for one in words)
        rows.append((chain, words, y, height))
        y += height + GROUND_PX + BETWEEN
    end = y - BETWEEN - GROUND_PX
    box = words_of(graph.nodes[TRANSFER], width)
    end = max(end, top + box.height)
    left = MARGIN + room - width
    for chain, words, at, height in rows:
        _draw_chain(canvas, graph, (chain, words, at, height), width, left)
    draw_box(canvas, left, top, width, end - top, box, heavy=True)
    if graph.nodes[TRANSFER]["bonded"]:
        canvas.ground(left + width - 30.0, end)
        canvas.text(left + width - 44.0, end + 16.0, "neutral bonded", SMALL_PX, anchor="end")
    return left + 20.0, end


def _with_wires(graph: nx.DiGraph) -> nx.DiGraph:
    """Say in the box of each node which wire feeds it, but for the feeder, which is one."""
    said = graph.copy()
    for source, node, wire in graph.edges(data="wire"):
        if graph.nodes[node]["kind"] in CHAINED and graph.nodes[source]["kind"] != "feeder":
            said.nodes[node]["lines"] = (*said.nodes[node]["lines"], f"wire to here: {wire}")
    return said


def _chain(graph: nx.DiGraph, source: str) -> list[str]:
    """List the nodes from a source to the one ahead of the transfer equipment."""
    return nx.shortest_path(graph, source, TRANSFER)[:-1]  # type: ignore[no-any-return]


def _draw_chain(
    canvas: Canvas, graph: nx.DiGraph, row: tuple[list[str], list[Words], float, float],
    width: float, end: float,
) -> None:
    chain, words, y, height = row
    middle = y + height / 2.0
    canvas.line([(MARGIN + width, middle), (end, middle)], THICK)
    for place, (node, said) in enumerate(zip(chain, words, strict=True)):
        x = MARGIN + place * (width + GAP)
        draw_box(canvas, x, y, width, height, said, heavy=graph.nodes[node]["kind"] == "source")
        if graph.nodes[node]["bonded"]:
            canvas.ground(x + 20.0, y + height)
            canvas.text(x + 34.0, y + height + 16.0, "neutral bonded", SMALL_PX)
