"""From a path to the text of a file, and on to parsed TOML; refusals in our own sentences."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from planner.case.nesting import MOST_LEVELS, too_deep
from planner.importing.content import LONGEST_SAID, opened, refusal, refuse_too_large
from planner.quoting import shortened

MOST_BYTES = 1_000_000
"""Of a file: chosen, no source; fifty times the largest home in `cases`."""
_MARK = "\ufeff"  # put by some editors at the beginning of UTF-8


def read_toml(path: Path) -> dict[str, Any]:
    """Read and parse a file.

    Raises
    ------
    CaseError
        As for `read_text`, or it is not TOML.
    """
    return parse_toml(read_text(path), path.name)


def read_text(path: Path) -> str:
    """Read a file of text, without the mark that some editors put at its beginning.

    Parameters
    ----------
    path : Path
        The file.

    Raises
    ------
    CaseError
        There is no such file; it is a directory, a device or a pipe; it may not be read; it is
        larger than `MOST_BYTES`, or not UTF-8.
    """
    name = path.name
    with opened(path, MOST_BYTES) as stream:
        content = stream.read(MOST_BYTES + 1)
    return text_of(content, name)


def text_of(content: bytes, name: str) -> str:
    """Give the text of a file's content, without the mark of an editor at its beginning.

    Raises
    ------
    CaseError
        It is larger than `MOST_BYTES`, or not UTF-8.
    """
    refuse_too_large(len(content), MOST_BYTES, name)
    try:
        return content.decode("utf-8").removeprefix(_MARK)
    except UnicodeDecodeError:
        raise refusal(name, "this is not a text file.", "Save it as UTF-8.") from None


def without_mark(text: str) -> str:
    """Leave out the mark that some editors put at the beginning of a file."""
    return text.removeprefix(_MARK)


def parse_toml(text: str, name: str) -> dict[str, Any]:
    """Parse the text of a file; `name` is what messages call it.

    Raises
    ------
    CaseError
        It is not TOML, or larger or nested deeper than any home.
    """
    refuse_too_large(len(text), MOST_BYTES, name)
    where = too_deep(text)
    if where:
        raise refusal(name, f"{where} goes too deep: brackets within brackets, or a key of many "
                      "parts.", f"At most {MOST_LEVELS} levels are read.")
    try:
        return tomllib.loads(without_mark(text))
    except tomllib.TOMLDecodeError as problem:
        remedy = "Texts stand between quotation marks, each key once, tables in brackets."
        raise refusal(name, f"this is not TOML: {_said(problem)}.", remedy) from None
    except ValueError:  # a number of thousands of digits, which Python does not convert
        raise refusal(name, "a number of it has thousands of digits.", "Correct it.") from None
    except RecursionError:
        raise refusal(name, "it goes too deep.", f"At most {MOST_LEVELS} levels.") from None


def _said(problem: tomllib.TOMLDecodeError) -> str:
    text = shortened(str(problem), LONGEST_SAID)
    return text[:1].lower() + text[1:]
