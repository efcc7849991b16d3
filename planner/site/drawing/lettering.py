"""How wide text may be, whatever letters the reader's machine has; what is too long is cut."""

from __future__ import annotations

import re
import unicodedata

from planner.quoting import ELLIPSIS, harmless

NARROW, SPACE, USUAL, CAPITAL, BROAD, FULL = 0.42, 0.36, 0.65, 0.80, 1.02, 1.4
"""Widths of letters over their size: no less than those of a broad upright face without serifs
(DejaVu Sans, measured), so that a reader's own face is hardly ever wider (a choice)."""
_NARROW = frozenset("ijl.,:;'|!()[]ftrI-/\\")
_BROAD = frozenset("mwMW@%&#+=<>~^_…—×±≥≤")
_NOT_XML = re.compile("[\ufffe\uffff\U0001fffe\U0001ffff]")


def cleaned(text: str) -> str:
    """Write text on one line, with nothing in it that acts or that a drawing cannot hold."""
    return _NOT_XML.sub("\N{REPLACEMENT CHARACTER}", harmless(" ".join(text.split())))


def width_px(text: str, size_px: float) -> float:
    """Give a width that a text does not exceed [px], for letters of a size [px]."""
    return size_px * sum(_width(sign) for sign in text)


def fitted(text: str, most_px: float, size_px: float) -> str:
    """Keep as much of a text as a width holds [px], with an ellipsis for the rest."""
    line = cleaned(text)
    if width_px(line, size_px) <= most_px:
        return line
    left_px = most_px - width_px(ELLIPSIS, size_px)
    kept = ""
    for sign in line:
        left_px -= width_px(sign, size_px)
        if left_px < 0.0:
            break
        kept += sign
    return f"{kept.rstrip()}{ELLIPSIS}"


def wrapped(text: str, most_px: float, size_px: float, most_lines: int) -> list[str]:
    """Break a text into lines that a width holds [px]; what no line is left for is cut."""
    lines: list[str] = []
    words = cleaned(text).split(" ")
    while words:
        if len(lines) == most_lines - 1:
            return [*lines, fitted(" ".join(words), most_px, size_px)]
        taken = 1
        while (taken < len(words)
               and width_px(" ".join(words[:taken + 1]), size_px) <= most_px):
            taken += 1
        lines.append(fitted(" ".join(words[:taken]), most_px, size_px))
        words = words[taken:]
    return lines


def _width(sign: str) -> float:  # noqa: PLR0911 - one line for each kind of letter
    if sign in _NARROW:
        return NARROW
    if sign in _BROAD:
        return BROAD
    if sign == " ":
        return SPACE
    if sign.isascii():
        return CAPITAL if sign.isupper() else USUAL
    if unicodedata.combining(sign):
        return 0.0
    if unicodedata.east_asian_width(sign) in "WF" or unicodedata.category(sign) == "So":
        return FULL
    return BROAD
