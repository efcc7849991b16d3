"""A drawing in black on white: lines, boxes and words, written down as SVG."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from xml.sax.saxutils import escape

from planner.site.drawing.lettering import cleaned, fitted

USUAL_PX, SMALL_PX, LARGE_PX = 13.0, 11.0, 18.0
"""Sizes of letters [px]; at 100 % the smallest reads like small print."""
LEADING = 1.3
THIN, THICK = 1.2, 2.4
DASHED = "6 4"
LETTERS = "Helvetica, Arial, sans-serif"


@dataclass
class Canvas:
    """A drawing that grows; lengths in px, y downwards."""

    width: float
    height: float = 0.0
    _parts: list[str] = field(default_factory=list)

    def line(
        self, points: Sequence[tuple[float, float]], width: float = THIN, dashes: str = ""
    ) -> None:
        """Draw a line through points."""
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in points)
        self._parts.append(f'<polyline points="{path}" fill="none"{_stroke(width, dashes)}/>')
        self._reach(*(y for _, y in points))

    def box(
        self, x: float, y: float, width: float, height: float, *, stroke: float = THIN,
        dashes: str = "",
    ) -> None:
        """Draw a box that hides what lies under it."""
        self._parts.append(
            f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" '
            f'fill="#fff"{_stroke(stroke, dashes)}/>')
        self._reach(y + height)

    def dot(self, x: float, y: float, radius: float = 3.0) -> None:
        """Draw a dot where lines are joined."""
        self._parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="{radius:.1f}" fill="#000"/>')

    def ground(self, x: float, y: float) -> None:
        """Draw a connection to ground, downwards from a point."""
        self.line([(x, y), (x, y + 8.0)])
        for step, half in enumerate((9.0, 6.0, 3.0)):
            self.line([(x - half, y + 8.0 + 4.0 * step), (x + half, y + 8.0 + 4.0 * step)])

    def arrow(self, start: tuple[float, float], end: tuple[float, float]) -> None:
        """Draw a dimension line, with a slanting tick at both ends."""
        self.line([start, end])
        for x, y in (start, end):
            self.line([(x - 5.0, y + 5.0), (x + 5.0, y - 5.0)], THICK)

    def text(
        self, x: float, y: float, text: str, size: float = USUAL_PX, *, bold: bool = False,
        anchor: str = "start", most: float | None = None,
    ) -> None:
        """Write a line whose letters stand on y; cut at a width [px], where one is given."""
        shown = cleaned(text) if most is None else fitted(text, most, size)
        if not shown:
            return
        weight = ' font-weight="bold"' if bold else ""
        place = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self._parts.append(f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}"{weight}{place}>'
                           f'{escape(shown)}</text>')
        self._reach(y + size * (LEADING - 1.0))

    def finished(self, title: str, description: str) -> str:
        """Give the whole as SVG, with words for those who do not see it."""
        height = self.height + 20.0
        return "\n".join((
            '<?xml version="1.0" encoding="UTF-8"?>',
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{self.width:.0f}" '
            f'height="{height:.0f}" viewBox="0 0 {self.width:.0f} {height:.0f}" role="img" '
            f'aria-labelledby="title desc" font-family="{LETTERS}">',
            f'<title id="title">{escape(cleaned(title))}</title>',
            f'<desc id="desc">{escape(cleaned(description))}</desc>',
            f'<rect width="{self.width:.0f}" height="{height:.0f}" fill="#fff"/>',
            *self._parts, "</svg>", ""))

    def _reach(self, *ys: float) -> None:
        self.height = max(self.height, *ys)


def _stroke(width: float, dashes: str) -> str:
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return f' stroke="#000" stroke-width="{width:g}"{dashed}'
