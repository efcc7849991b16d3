"""A drawing read back: its texts, boxes and lines, and what lies on what."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass
from itertools import combinations, pairwise

from defusedxml.ElementTree import fromstring

NAME = "{http://www.w3.org/2000/svg}"
BOLD, WIDE = 1.13, 1.3
WIDTHS = {
    0.29: "ijlIJ'", 0.32: " ,.", 0.34: "/:;\\|", 0.36: "f-", 0.39: "()[]t!", 0.41: "r", 0.5: '*_`"',
    0.53: "sz?", 0.59: "cLFkvxyP", 0.64: "TYaoeESbdghnpqu$0123456789{}", 0.69: "KAVBRXZ",
    0.75: "CUHN", 0.79: "DG&OQ", 0.84: "w#+<=>^~M", 1.0: "%mW@"}
"""Letters by their width over their size in a broad face (measured: DejaVu Sans); bold ones are by
`BOLD` wider on average, signs and letters of other scripts are taken for `WIDE`."""
_WIDTH = {sign: width for width, signs in WIDTHS.items() for sign in signs}


@dataclass(frozen=True)
class Box:
    """A part of a drawing: its place in the order of drawing, its edges [px], its text."""

    place: int
    left: float
    top: float
    right: float
    bottom: float
    text: str = ""

    def meets(self, other):
        """Whether they share more than an edge."""
        return (self.left < other.right and other.left < self.right
                and self.top < other.bottom and other.top < self.bottom)

    def holds(self, other):
        """Whether the other lies inside."""
        return (self.left <= other.left and other.right <= self.right
                and self.top <= other.top and other.bottom <= self.bottom)


class Drawn:
    """A drawing, parsed."""

    def __init__(self, svg):
        self.root = fromstring(svg.encode("utf-8"))
        self.width, self.height = (float(self.root.get(key)) for key in ("width", "height"))
        parts = list(enumerate(self.root.iter()))
        self.texts = [_text(i, one) for i, one in parts if one.tag == f"{NAME}text"]
        self.boxes = [_box(i, one) for i, one in parts
                      if one.tag == f"{NAME}rect" and one.get("x") is not None]
        self.lines = [(i, *ends) for i, one in parts if one.tag == f"{NAME}polyline"
                      for ends in _pieces(one)]

    @property
    def words(self):
        """All texts, in the order of drawing."""
        return [one.text for one in self.texts]

    def child(self, name):
        """The text of a child of the drawing as a whole."""
        return self.root.find(f"{NAME}{name}").text

    def faults(self):
        """List what lies on what, or beyond an edge."""
        paper = Box(0, 0.0, 0.0, self.width, self.height)
        found = [("off the paper", one.text) for one in self.texts if not paper.holds(one)]
        found += [("on each other", one.text, other.text)
                  for one, other in combinations(self.texts, 2) if one.meets(other)]
        found += [("across a box", one.text) for one in self.texts for box in self.boxes
                  if box.meets(one) and not box.holds(one)]
        found += [("on a line", one.text) for one in self.texts for line in self.lines
                  if _crosses(one, line[1:]) and not self._hidden(line[0], one)]
        found += [("boxes", one, other) for one, other in combinations(self.boxes, 2)
                  if one.meets(other) and not (one.holds(other) or other.holds(one))]
        return found

    def _hidden(self, line, text):
        return any(line < box.place < text.place and box.holds(text) for box in self.boxes)


def _text(place, one):
    size, x, y = (float(one.get(key)) for key in ("font-size", "x", "y"))
    bold = BOLD if one.get("font-weight") else 1.0
    wide = bold * size * sum(letter(sign) for sign in one.text)
    left = x - wide if one.get("text-anchor") == "end" else x
    return Box(place, left, y - 0.75 * size, left + wide, y + 0.2 * size, one.text)


def letter(sign):
    """Width of a letter over its size."""
    return 0.0 if unicodedata.combining(sign) else _WIDTH.get(sign, WIDE)


def _box(place, one):
    x, y, width, height = (float(one.get(key)) for key in ("x", "y", "width", "height"))
    return Box(place, x, y, x + width, y + height)


def _pieces(one):
    points = [tuple(map(float, point.split(","))) for point in one.get("points").split()]
    return list(pairwise(points))


def _crosses(box, ends):
    """Whether a straight line passes through a box: cut to its sides one by one."""
    (x1, y1), (x2, y2) = ends
    first, last = 0.0, 1.0
    for start, step, low, high in ((x1, x2 - x1, box.left, box.right),
                                   (y1, y2 - y1, box.top, box.bottom)):
        if step == 0.0:
            if not low < start < high:
                return False
            continue
        near, far = sorted(((low - start) / step, (high - start) / step))
        first, last = max(first, near), min(last, far)
    return first < last
