"""A node of a one-line as a box of words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from planner.site.drawing.canvas import DASHED, LEADING, SMALL_PX, THICK, THIN, USUAL_PX, Canvas
from planner.site.drawing.lettering import wrapped

PAD = 6.0
LABEL_LINES, TEXT_LINES = 3, 3
BOLD = 0.88
"""Bold letters are that much broader (measured: DejaVu Sans), so fewer of them fit."""


@dataclass(frozen=True, slots=True)
class Words:
    """Lines of a box, each with its size [px] and whether it is bold."""

    lines: tuple[tuple[str, float, bool], ...]

    @property
    def height(self) -> float:
        """Height of a box that holds them [px]."""
        return 2.0 * PAD + sum(size * LEADING for _, size, _ in self.lines)


def words_of(node: Mapping[str, Any], width: float, *, titled: bool = True) -> Words:
    """Break the words of a node into lines for a box of a width [px]."""
    room = width - 2.0 * PAD
    lines: list[tuple[str, float, bool]] = []
    if titled:
        lines += [(line, USUAL_PX, True)
                  for line in wrapped(node["title"], BOLD * room, USUAL_PX, 2)]
    if node["label"]:
        lines += [(line, USUAL_PX, False)
                  for line in wrapped(node["label"], room, USUAL_PX, LABEL_LINES)]
    for text in node["lines"]:
        lines += [(line, SMALL_PX, False) for line in wrapped(text, room, SMALL_PX, TEXT_LINES)]
    return Words(tuple(lines))


def draw_box(
    canvas: Canvas, x: float, y: float, width: float, height: float, words: Words, *,
    heavy: bool = False, dashed: bool = False,
) -> None:
    """Draw a box with its words in the middle of its height."""
    canvas.box(x, y, width, height, stroke=THICK if heavy else THIN,
               dashes=DASHED if dashed else "")
    at = y + PAD + (height - words.height) / 2.0
    for line, size, bold in words.lines:
        at += size * LEADING
        canvas.text(x + PAD, at - size * (LEADING - 1.0), line, size, bold=bold)
