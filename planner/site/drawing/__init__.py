"""Drawings of a plan at its site, as SVG."""

from planner.site.drawing.frame import Heading
from planner.site.drawing.one_line import draw_one_line
from planner.site.drawing.sketch import draw_sketch

__all__ = ["Heading", "draw_one_line", "draw_sketch"]
