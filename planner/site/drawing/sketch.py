"""The sketch of the place of a generator, drawn: seen from above, with every distance."""

from __future__ import annotations

from planner.site.drawing.canvas import DASHED, SMALL_PX, THICK, THIN, Canvas
from planner.site.drawing.frame import MARGIN, Heading, draw_heading, draw_notes, write
from planner.site.sketch import Distance, Sketch

KIND = "Sketch of the place"
WIDTH = 1080.0
LETTERS = "ABCDEFG"
HOUSE, SET, LINE, NEIGHBOUR = (MARGIN, 380.0), (570.0, 750.0), 890.0, 966.0
"""Left and right of the house and of the generator; the property line; the neighbour [px]."""
TOP, BOTTOM, SET_TOP, SET_BOTTOM = 24.0, 404.0, 150.0, 280.0
OPENING, METER, TANK_TOP, TANK_BOTTOM = (62.0, 102.0), (344.0, 376.0), 346.0, 420.0
"""Heights below the head of the drawing [px]."""
TABLE = ((MARGIN, "", 24.0), (MARGIN + 30.0, "From the generator", 320.0),
         (MARGIN + 360.0, "In the home's file", 130.0), (MARGIN + 500.0, "Asked for", 150.0),
         (MARGIN + 660.0, "Verdict", 150.0), (MARGIN + 820.0, "Clause or source", 212.0))
ROW_GAP = 5.0


def draw_sketch(found: Sketch, heading: Heading) -> str:
    """Draw the place of a generator as SVG; not to scale, every distance in figures.

    Returns
    -------
    str
        A whole SVG document: black on white, without links, scripts or pictures.
    """
    canvas = Canvas(WIDTH)
    y = draw_heading(canvas, KIND, heading)
    canvas.text(WIDTH - MARGIN, y + 18.0, "Seen from above; not to scale.", SMALL_PX, anchor="end")
    _draw_house(canvas, y, found)
    _draw_outside(canvas, y, found)
    for letter, one in zip(LETTERS, found.distances, strict=False):
        _draw_distance(canvas, y, letter, one)
    y = _draw_table(canvas, y + TANK_BOTTOM + 40.0, found)
    draw_notes(canvas, y + 16.0, "Notes", found.notes)
    return canvas.finished(f"{KIND}: {heading.home}", described(found, heading))


def described(found: Sketch, heading: Heading) -> str:
    """Say in words what the drawing shows."""
    said = ". ".join(f"{one.what}: {one.found}"
                     + (f", {one.least}" if one.least else "") + f", {one.verdict}"
                     for one in found.distances)
    return f"{heading.plan} {said}. {heading.purpose}"


def _draw_house(canvas: Canvas, y: float, found: Sketch) -> None:
    left, right = HOUSE
    canvas.line([(right, y + OPENING[0]), (right, y + TOP), (left, y + TOP), (left, y + BOTTOM),
                 (right, y + BOTTOM), (right, y + OPENING[1])], THICK)
    canvas.text(left + 16.0, y + TOP + 28.0, "House", bold=True)
    canvas.line([(right - 4.0, y + OPENING[0]), (right - 4.0, y + OPENING[1])], THIN)
    canvas.line([(right + 4.0, y + OPENING[0]), (right + 4.0, y + OPENING[1])], THIN)
    canvas.text(right - 14.0, y + 86.0, "nearest door, window or vent", SMALL_PX, anchor="end")
    canvas.text(right - 14.0, y + 178.0, "wall", SMALL_PX, anchor="end")
    canvas.box(right - 22.0, y + 214.0, 22.0, 44.0)
    write(canvas, left + 16.0, y + 208.0, f"transfer equipment: {found.transfer}", 280.0,
          size=SMALL_PX, most_lines=4)
    canvas.box(right, y + METER[0], 26.0, METER[1] - METER[0])
    canvas.text(right - 14.0, y + 364.0, "gas meter, regulator or relief vent", SMALL_PX,
                anchor="end")


def _draw_outside(canvas: Canvas, y: float, found: Sketch) -> None:
    left, right = SET
    canvas.box(left, y + SET_TOP, right - left, SET_BOTTOM - SET_TOP, stroke=THICK)
    canvas.text(left + 10.0, y + SET_TOP + 22.0, "Generator", bold=True)
    at = y + SET_TOP + 26.0
    for text in found.generator:
        at = write(canvas, left + 10.0, at, text, right - left - 20.0, size=SMALL_PX, most_lines=2)
    canvas.line([(LINE, y + TOP), (LINE, y + BOTTOM)], THICK, "14 5 3 5")
    canvas.text(LINE + 10.0, y + BOTTOM - 6.0, "property line", SMALL_PX)
    canvas.line([(WIDTH - MARGIN, y + TOP + 20.0), (NEIGHBOUR, y + TOP + 20.0),
                 (NEIGHBOUR, y + BOTTOM - 60.0), (WIDTH - MARGIN, y + BOTTOM - 60.0)], THICK)
    canvas.text(NEIGHBOUR + 12.0, y + TOP + 44.0, "Neighbour", bold=True)
    if found.tank:
        right = LINE - 20.0
        canvas.box(left, y + TANK_TOP, right - left, TANK_BOTTOM - TANK_TOP, dashes=DASHED)
        canvas.text(left + 10.0, y + TANK_TOP + 18.0, "Propane tank", SMALL_PX, bold=True)
        write(canvas, left + 10.0, y + TANK_TOP + 20.0, found.tank, right - left - 20.0,
              size=SMALL_PX, most_lines=3)


_ENDS = {
    "opening": ((HOUSE[1] + 4.0, 82.0), (SET[0], SET_TOP), (0.5, 40.0, -22.0)),
    "wall": ((HOUSE[1], 174.0), (SET[0], 174.0), (0.5, -60.0, -24.0)),
    "gas-meter": ((HOUSE[1] + 26.0, 360.0), (SET[0], SET_BOTTOM), (0.5, -50.0, 52.0)),
    "property-line": ((SET[1], 262.0), (LINE, 262.0), (0.5, -58.0, -24.0)),
    "neighbour": ((SET[1], 166.0), (NEIGHBOUR, 166.0), (0.5, -100.0, -24.0)),
    "wire": ((HOUSE[1], 238.0), (SET[0], 238.0), (0.5, -60.0, -6.0)),
    "tank": ((SET[0] + 120.0, SET_BOTTOM), (SET[0] + 120.0, TANK_TOP), (0.5, 12.0, -2.0)),
}
"""Where each distance is drawn, below the head of the drawing, and its words beside its middle."""


def _draw_distance(canvas: Canvas, y: float, letter: str, one: Distance) -> None:
    (x1, y1), (x2, y2), (part, right, down) = _ENDS[one.key]
    start, end = (x1, y + y1), (x2, y + y2)
    if one.key == "wire":
        canvas.line([start, end], THICK, DASHED)
    else:
        canvas.arrow(start, end)
    x = x1 + part * (x2 - x1) + right
    middle = y + y1 + part * (y2 - y1) + down
    canvas.text(x, middle, f"{letter}: {one.found}", bold=True)
    if one.verdict not in (one.found, "no minimum"):
        canvas.text(x, middle + 15.0, one.verdict, SMALL_PX)


def _draw_table(canvas: Canvas, y: float, found: Sketch) -> float:
    for x, head, room in TABLE:
        canvas.text(x, y, head, SMALL_PX, bold=True, most=room)
    for letter, one in zip(LETTERS, found.distances, strict=False):
        cells = (letter, one.what, one.found, one.least or "not stated", one.verdict, one.source)
        y = max(write(canvas, x, y + ROW_GAP, cell, room, size=SMALL_PX, most_lines=3,
                      bold=cell in (letter, "NOT OK"))
                for (x, _, room), cell in zip(TABLE, cells, strict=True))
    return y
