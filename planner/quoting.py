"""How text of a file is shown: at a stated length, and without signs that act on a terminal."""

from __future__ import annotations

import re
from collections.abc import Collection

MOST_QUOTED = 60
"""Characters of a value that a message repeats: most of a line of a terminal."""
MOST_LISTED = 20
"""Names that a message lists before it only counts the rest."""
ELLIPSIS = "…"

_ACTING = re.compile(
    "[\x00-\x1f\x7f-\x9f"  # control characters: escape sequences begin with one of them
    "\u2028\u2029"  # separators that end a line
    "\u202a-\u202e\u2066-\u2069"  # they turn the direction of what follows
    "\ud800-\udfff]")  # halves of a character, which cannot be written
_WORDS: dict[type, str] = {
    dict: "a table", list: "a list", tuple: "a list", type(None): "nothing"}
_KNOWN = {"\n": "\\n", "\r": "\\r", "\t": "\\t"}


def harmless(text: str, *, keep: str = "") -> str:
    r"""Write signs that act on a terminal by their numbers: an escape becomes ``\x1b``.

    Parameters
    ----------
    text : str
        Whatever a file holds.
    keep : str
        Signs that stay as they are, such as the line ends of a paragraph.
    """
    return _ACTING.sub(lambda found: found[0] if found[0] in keep else _number(found[0]), text)


def harmless_json(text: str) -> str:
    r"""Write the same signs in JSON text as JSON does: ``\u009b``; its line ends stay.

    Outside of its strings JSON holds none of them but line ends, so it means the same.
    """
    return _ACTING.sub(
        lambda found: found[0] if found[0] == "\n" else f"\\u{ord(found[0]):04x}", text)


def not_a_formula(cell: str) -> str:
    """Write a cell of a table so that no office program takes it for a formula.

    A cell that begins with one of ``= + - @``, be it after blanks, gets an apostrophe ahead.
    """
    return f"'{cell}" if cell.lstrip()[:1] in tuple("=+-@") else cell


def shortened(text: str, most: int = MOST_QUOTED) -> str:
    """Keep the beginning of a long text, with an ellipsis for the rest."""
    return text if len(text) <= most else f"{text[:most].rstrip()}{ELLIPSIS}"


def quoted(value: object) -> str:
    """Show a found value the way a file has it, on one line and at most `MOST_QUOTED` long."""
    if isinstance(value, str):
        return f'"{harmless(shortened(value))}"'
    for kind, words in _WORDS.items():
        if isinstance(value, kind):
            return words
    try:
        return shortened(str(value).lower() if isinstance(value, bool) else str(value))
    except ValueError:  # more digits than Python is willing to write
        return "a number of thousands of digits"


def some(names: Collection[str], most: int = MOST_LISTED) -> str:
    """List names, as many as a reader takes in, and count the rest."""
    shown = [harmless(shortened(name)) for name in list(names)[:most]]
    rest = len(names) - len(shown)
    return ", ".join(shown) + (f" and {rest:,} more" if rest else "")


def _number(sign: str) -> str:
    code = ord(sign)
    return _KNOWN.get(sign) or (f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}")
