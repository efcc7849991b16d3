"""How deep a text nests, told before a parser looks at it.

Parsers of TOML go down a level of their own stack for every bracket and take time with the square
of a dotted key's parts, so a text of a few kilobytes can keep them busy for hours or exhaust them.
"""

from __future__ import annotations

import re

MOST_LEVELS = 16
"""Brackets within brackets, and parts of a dotted key; a home needs five, a price book four."""

_TOKEN = re.compile(
    r'"""(?P<text>(?:[^\\]|\\.)*?""")?'
    r"|'''(?P<plain>.*?''')?"
    r'|"(?P<line>(?:[^"\\\n]|\\.)*")?'
    r"|'(?P<literal>[^'\n]*')?"
    r"|#[^\n]*"
    r"|[][{}.=,\n]"
    r"|[^]\"'#[{}.=,\n]+", re.DOTALL)


def too_deep(text: str) -> str:
    """Say where a text nests too deep: ``line 3``; empty text if it does not.

    Text that is no TOML is looked through up to the mark of quotation that is not closed: there
    every parser stops as well.
    """
    depth = parts = 0
    for token in _TOKEN.finditer(text):
        sign = token[0]
        if sign[0] in "\"'" and token.lastgroup is None:
            break
        if sign in ("[", "{"):
            depth, parts = depth + 1, 0
        elif sign in ("]", "}"):
            depth, parts = max(0, depth - 1), 0
        elif sign == ".":
            parts += 1
        elif sign in ("=", ",", "\n"):
            parts = 0
        if depth > MOST_LEVELS or parts > MOST_LEVELS:
            return f"line {text.count(chr(10), 0, token.start()) + 1}"
    return ""
