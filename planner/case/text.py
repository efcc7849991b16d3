"""From a path to the text of a file, and on to parsed TOML; refusals in our own sentences."""

from __future__ import annotations

import os
import stat
import tomllib
from pathlib import Path
from typing import Any

from planner.case.messages import error
from planner.case.nesting import MOST_LEVELS, too_deep
from planner.errors import CaseError
from planner.quoting import shortened

MOST_BYTES = 1_000_000
"""Of a file: chosen, no source; fifty times the largest home in `cases`."""
LONGEST_SAID = 200
"""Characters of a file's name or path that a message repeats."""
_AT_ONCE = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)  # should it have become a pipe in between
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
    try:
        mode = path.stat().st_mode  # looked at before it is opened: opening a pipe waits
        if stat.S_ISDIR(mode):
            raise _refusal(name, "this is a directory.", "Give the name of a file.")
        if not stat.S_ISREG(mode):
            raise _refusal(name, "this is a device or a pipe.", "Save it as a file first.")
        with os.fdopen(os.open(path, _AT_ONCE), "rb") as stream:
            content = stream.read(MOST_BYTES + 1)
    except FileNotFoundError:
        looked = shortened(str(path), LONGEST_SAID)
        raise _refusal(name, "there is no such file.", f"Looked for {looked}.") from None
    except OSError as problem:
        raise _refusal(name, f"it cannot be read ({problem.strerror}).", "") from None
    except ValueError:
        raise _refusal(name, "no file is called so.", "Its name holds the character 0.") from None
    return text_of(content, name)


def text_of(content: bytes, name: str) -> str:
    """Give the text of a file's content, without the mark of an editor at its beginning.

    Raises
    ------
    CaseError
        It is larger than `MOST_BYTES`, or not UTF-8.
    """
    _refuse_too_large(len(content), name)
    try:
        return content.decode("utf-8").removeprefix(_MARK)
    except UnicodeDecodeError:
        raise _refusal(name, "this is not a text file.", "Save it as UTF-8.") from None


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
    _refuse_too_large(len(text), name)
    where = too_deep(text)
    if where:
        raise _refusal(name, f"{where} goes too deep: brackets within brackets, or a key of many "
                       "parts.", f"At most {MOST_LEVELS} levels are read.")
    try:
        return tomllib.loads(without_mark(text))
    except tomllib.TOMLDecodeError as problem:
        remedy = "Texts stand between quotation marks, each key once, tables in brackets."
        raise _refusal(name, f"this is not TOML: {_said(problem)}.", remedy) from None
    except ValueError:  # a number of thousands of digits, which Python does not convert
        raise _refusal(name, "a number of it has thousands of digits.", "Correct it.") from None
    except RecursionError:
        raise _refusal(name, "it goes too deep.", f"At most {MOST_LEVELS} levels.") from None


def _refuse_too_large(size: int, name: str) -> None:
    if size > MOST_BYTES:
        raise _refusal(name, "it is too large.", f"At most {MOST_BYTES:,} bytes are read.")


def _said(problem: tomllib.TOMLDecodeError) -> str:
    text = shortened(str(problem), LONGEST_SAID)
    return text[:1].lower() + text[1:]


def _refusal(name: str, sentence: str, remedy: str) -> CaseError:
    name = shortened(name, LONGEST_SAID)
    return CaseError(f"{name} cannot be read.", [error(name, sentence, remedy)])
