"""The head of a drawing: what it is, of which home, and what it is not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.site.drawing.canvas import LARGE_PX, LEADING, SMALL_PX, USUAL_PX, Canvas
from planner.site.drawing.lettering import wrapped

MARGIN = 24.0
MOST_LINES = 8


@dataclass(frozen=True, slots=True)
class Heading:
    """Words that stand on a drawing.

    Attributes
    ----------
    home : str
        What the home is called.
    plan : str
        Which plan it shows.
    purpose, cautions : str
        What it is for, and what may hurt people; each a line or two.
    """

    home: str
    plan: str
    purpose: str
    cautions: str


def draw_heading(canvas: Canvas, kind: str, heading: Heading) -> float:
    """Write the head of a drawing; give where it ends [px]."""
    left, room = MARGIN, canvas.width - 2.0 * MARGIN
    y = MARGIN + LARGE_PX
    canvas.text(left, y, f"{kind}: {heading.home}", LARGE_PX, bold=True, most=0.85 * room)
    y += 2.0
    for text, bold in ((heading.plan, False), (heading.purpose, True), (heading.cautions, False)):
        y = write(canvas, left, y, text, room, bold=bold, size=USUAL_PX)
    y += 10.0
    canvas.line([(left, y), (canvas.width - MARGIN, y)])
    return y


def draw_notes(canvas: Canvas, y: float, title: str, notes: Sequence[str]) -> float:
    """Write numbered notes below a place; give where they end [px]."""
    room = canvas.width - 2.0 * MARGIN - 28.0
    canvas.line([(MARGIN, y), (canvas.width - MARGIN, y)])
    y += 22.0
    canvas.text(MARGIN, y, title, bold=True)
    for number, note in enumerate(notes, start=1):
        canvas.text(MARGIN, y + SMALL_PX * LEADING + 3.0, f"{number}.", SMALL_PX)
        y = write(canvas, MARGIN + 28.0, y + 3.0, note, room, size=SMALL_PX)
    return y


def write(
    canvas: Canvas, x: float, y: float, text: str, room: float, *, size: float = USUAL_PX,
    bold: bool = False, most_lines: int = MOST_LINES,
) -> float:
    """Write a text in as many lines as it needs below a place; give where it ends [px]."""
    wide = 0.88 * room if bold else room
    for line in wrapped(text, wide, size, most_lines):
        y += size * LEADING
        canvas.text(x, y, line, size, bold=bold)
    return y
