"""The text of a file as a document that keeps its comments; refused in a sentence if it is none."""

from __future__ import annotations

import tomlkit

from planner.case.messages import error
from planner.case.text import parse_toml, without_mark
from planner.errors import CaseError


def document_of(text: str, file: str = "the file") -> tomlkit.TOMLDocument:
    """Read a text to change values in it; the mark of an editor at its beginning is left out.

    Parameters
    ----------
    text : str
        TOML.
    file : str
        Its name, for messages.

    Raises
    ------
    CaseError
        The text is not TOML, too large, nested too deep, or written in a way that cannot be changed
        value by value.
    """
    parse_toml(text, file)
    try:
        document = tomlkit.parse(without_mark(text))
        document.unwrap()  # tables out of order are put together only when they are looked at
    except Exception as problem:  # it stumbles in many ways over what TOML allows
        finding = error(file, f"its way of writing cannot be changed here: {problem}.",
                        "Write each table under a header of its own.")
        message = f"{file} can be read, but not changed."
        raise CaseError(message, [finding]) from None
    return document
