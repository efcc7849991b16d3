"""The lower part of a one-line: panels, and a row for every load on standby power."""

from __future__ import annotations

from dataclasses import dataclass

import networkx as nx

from planner.site.drawing.boxes import draw_box, words_of
from planner.site.drawing.canvas import DASHED, SMALL_PX, THICK, Canvas
from planner.site.drawing.frame import MARGIN
from planner.site.one_line import TRANSFER

STEP, BETWEEN, PANEL_GAP, GAP = 30.0, 8.0, 16.0, 20.0
WIDTHS = {"breaker": 220.0, "module": 300.0, "soft starter": 170.0, "load": 320.0}
HEADS = {"breaker": "Branch breaker", "module": "Shedding module",
         "soft starter": "Soft starter", "load": "Load"}
PANEL_WIDTH = 210.0
CONTROL_PX = 10.0
"""How far the power passes below the middle of a row whose module is in a thermostat's wire."""


@dataclass(frozen=True)
class Columns:
    """Left edges and widths of the columns, and the width of the whole [px]."""

    left: dict[str, float]
    wide: dict[str, float]
    whole: float


def columns_of(graph: nx.DiGraph, least: float) -> Columns:
    """Lay the columns out: as far right as the deepest panel asks, none for what is not there.

    The last one, that of the loads, is made wider where the whole would be narrower than `least`.
    """
    kinds = {graph.nodes[node]["kind"] for node in graph if "load_id" in graph.nodes[node]
             or graph.nodes[node]["kind"] == "soft starter"}
    depth = max((nx.shortest_path_length(graph, TRANSFER, node)
                 for node in nx.descendants(graph, TRANSFER)
                 if graph.nodes[node]["kind"] == "panel"), default=0)
    x, left = MARGIN + STEP * (depth + 1), {}
    for kind, width in WIDTHS.items():
        if kind in kinds:
            left[kind] = x
            x += width + GAP
    whole = max(least, x - GAP + MARGIN)
    wide = {**WIDTHS, "load": whole - MARGIN - left.get("load", x)}
    return Columns(left, wide, whole)


def draw_rows(
    canvas: Canvas, y: float, graph: nx.DiGraph, columns: Columns, feed: tuple[float, float]
) -> float:
    """Draw all that hangs on the transfer equipment below a place; give where it ends [px]."""
    x = MARGIN + 10.0
    canvas.line([feed, (feed[0], y), (x, y), (x, y + 12.0)], THICK)
    y += 26.0
    for kind, left in columns.left.items():
        canvas.text(left, y, HEADS[kind], bold=True)
    return _below(canvas, y - 14.0, y + 12.0, graph, columns, TRANSFER, x)


def _below(
    canvas: Canvas, bus: float, y: float, graph: nx.DiGraph, columns: Columns, source: str, x: float
) -> float:
    """Draw a bus from a place downwards, and on it circuits first, then panels."""
    last = bus
    children = list(graph.successors(source))
    for node in children:
        if graph.nodes[node]["kind"] != "panel":
            height = _height(graph, node, columns)
            last = y + height / 2.0
            _draw_row(canvas, y, height, graph, columns, node, x)
            y += height + BETWEEN
    for node in children:
        if graph.nodes[node]["kind"] == "panel":
            y += PANEL_GAP
            words = words_of(graph.nodes[node], PANEL_WIDTH)
            last = y + words.height / 2.0
            left = x + STEP - 10.0
            canvas.line([(x, last), (left, last)], THICK)
            canvas.dot(x, last)
            draw_box(canvas, left, y, PANEL_WIDTH, words.height, words, heavy=True)
            wire = graph.edges[source, node]["wire"]
            aside = left + PANEL_WIDTH + 10.0
            canvas.text(aside, last + 4.0, f"fed by wire: {wire}", SMALL_PX,
                        most=canvas.width - MARGIN - aside)
            y += words.height
            y = _below(canvas, y, y + 10.0, graph, columns, node, x + STEP)
    canvas.line([(x, bus), (x, last)], THICK)
    return y


def _row(graph: nx.DiGraph, breaker: str) -> list[str]:
    """List what stands in the row of a breaker, in the order of the power."""
    return [breaker, *(node for _, node in nx.bfs_edges(graph, breaker))]


def _titled(kind: str) -> bool:
    """Whether a box has a title: a module its priority, others where no head of a column does."""
    return kind == "module" or kind not in WIDTHS


def _height(graph: nx.DiGraph, breaker: str, columns: Columns) -> float:
    nodes = [graph.nodes[node] for node in _row(graph, breaker)]
    tallest = max(
        words_of(node, columns.wide[node["kind"]], titled=_titled(node["kind"])).height
        for node in nodes)
    by_thermostat = any(node["kind"] == "module" and not node["in_circuit"] for node in nodes)
    return tallest + (2.0 * CONTROL_PX if by_thermostat else 0.0)


def _draw_row(
    canvas: Canvas, y: float, height: float, graph: nx.DiGraph, columns: Columns, breaker: str,
    x: float,
) -> None:
    nodes = [graph.nodes[node] for node in _row(graph, breaker)]
    control = any(node["kind"] == "module" and not node["in_circuit"] for node in nodes)
    middle = y + height / 2.0
    power = y + height - 6.0 if control else middle
    load = columns.left["load"]
    canvas.dot(x, middle)
    canvas.line([(x, middle), (columns.left["breaker"], middle)])
    canvas.line([(columns.left["breaker"] + columns.wide["breaker"], power), (load, power)])
    for node in nodes:
        kind = node["kind"]
        left, width = columns.left[kind], columns.wide[kind]
        words = words_of(node, width, titled=_titled(kind))
        if kind == "module" and not node["in_circuit"]:
            across = y + words.height / 2.0
            canvas.line([(left + width, across), (load, across)], dashes=DASHED)
            draw_box(canvas, left, y, width, words.height, words, dashed=True)
        else:
            draw_box(canvas, left, y, width, height, words)

