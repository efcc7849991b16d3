"""The lower part of a one-line: panels, and a row for every load on standby power."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

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
LANE = 12.0
"""Least height of the lane in which the power passes below a module in a thermostat's wire [px]."""


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
            row = [graph.nodes[one] for one in _row(graph, node)]
            height, _ = _lanes(row, columns)
            last = y + height / 2.0
            _draw_row(canvas, y, row, columns, x)
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


def _by_thermostat(nodes: list[dict[str, Any]]) -> bool:
    """Whether the module of a row is none that power passes."""
    return any(node["kind"] == "module" and not node["in_circuit"] for node in nodes)


def _lanes(nodes: list[dict[str, Any]], columns: Columns) -> tuple[float, float]:
    """Give the height of a row, and how far below its top the power passes [px]."""
    tall = {node["kind"]: words_of(node, columns.wide[node["kind"]],
                                   titled=_titled(node["kind"])).height for node in nodes}
    if not _by_thermostat(nodes):
        height = max(tall.values())
        return height, height / 2.0
    below = max(tall.get("soft starter", 0.0), LANE)
    height = max(tall["module"] + LANE / 2.0 + below, *tall.values())
    return height, height - below / 2.0


def _draw_row(
    canvas: Canvas, y: float, nodes: list[dict[str, Any]], columns: Columns, x: float
) -> None:
    height, power = _lanes(nodes, columns)
    load = columns.left["load"]
    canvas.dot(x, y + height / 2.0)
    canvas.line([(x, y + height / 2.0), (columns.left["breaker"], y + height / 2.0)])
    canvas.line([(columns.left["breaker"] + columns.wide["breaker"], y + power),
                 (load, y + power)])
    control = _by_thermostat(nodes)
    for node in nodes:
        kind = node["kind"]
        left, width = columns.left[kind], columns.wide[kind]
        words = words_of(node, width, titled=_titled(kind))
        if control and kind == "module":
            across = y + words.height / 2.0
            canvas.line([(left + width, across), (load, across)], dashes=DASHED)
            draw_box(canvas, left, y, width, words.height, words, dashed=True)
        elif control and kind == "soft starter":
            draw_box(canvas, left, y + height - words.height, width, words.height, words)
        else:
            draw_box(canvas, left, y, width, height, words)
