"""The one-line of a plan, drawn."""

from __future__ import annotations

from planner.site.drawing.canvas import Canvas
from planner.site.drawing.chains import draw_chains
from planner.site.drawing.frame import Heading, draw_heading, draw_notes
from planner.site.drawing.rows import columns_of, draw_rows
from planner.site.one_line import OneLine

KIND = "One-line diagram"
LEAST_WIDTH = 1080.0


def draw_one_line(found: OneLine, heading: Heading) -> str:
    """Draw a one-line as SVG.

    Both sources stand above, each in a row from left to right, and meet in the transfer equipment;
    below hang the panels, and each load in a row of its own. A module that is drawn dashed opens
    the wire of a thermostat: the power of its load passes below it.

    Returns
    -------
    str
        A whole SVG document: black on white, without links, scripts or pictures.
    """
    columns = columns_of(found.graph, LEAST_WIDTH)
    canvas = Canvas(columns.whole)
    y = draw_heading(canvas, KIND, heading)
    feed = draw_chains(canvas, y + 20.0, found.graph)
    y = draw_rows(canvas, feed[1] + 44.0, found.graph, columns, feed)
    draw_notes(canvas, y + 14.0, "Notes", found.notes)
    return canvas.finished(f"{KIND}: {heading.home}", described(found, heading))


def described(found: OneLine, heading: Heading) -> str:
    """Say in words what the drawing shows."""
    graph = found.graph
    loads = [graph.nodes[node] for node in graph if graph.nodes[node]["kind"] == "load"]
    turns = sorted((node["priority"], node["label"]) for node in loads
                   if node["connection"] == "module")
    order = ", ".join(f"{place} {label}" for place, label in turns)
    off = ", ".join(node["label"] for node in loads if node["connection"] == "off")
    stays = f" Behind modules that stay open in an outage: {off}." if off else ""
    return (f"{heading.plan} Utility and generator feed the transfer equipment, and it feeds "
            f"{len(loads)} loads. Behind shedding modules, by priority: {order or 'none'}."
            f"{stays} {heading.purpose}")
