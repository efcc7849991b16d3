"""From a path to the parsed TOML of a file, with refusals in our own sentences."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

from planner.case.messages import error
from planner.errors import CaseError


def read_toml(path: Path) -> dict[str, Any]:
    """Read and parse a file.

    Parameters
    ----------
    path : Path
        The file.

    Raises
    ------
    CaseError
        There is no such file, it is a directory, not UTF-8, or not TOML.
    """
    name = path.name
    if path.is_dir():
        raise _refusal(name, "this is a directory.", "Name a file that ends in .toml.")
    try:
        text = path.read_bytes().decode("utf-8")
    except FileNotFoundError:
        raise _refusal(name, "there is no such file.", f"Looked for {path}.") from None
    except UnicodeDecodeError:
        raise _refusal(name, "this is not a text file.", "Save it as UTF-8.") from None
    except OSError as problem:
        raise _refusal(name, f"it cannot be read ({problem.strerror}).", "") from None
    return parse_toml(text, name)


def parse_toml(text: str, name: str) -> dict[str, Any]:
    """Parse the text of a file; `name` is what messages call it.

    Raises
    ------
    CaseError
        It is not TOML.
    """
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as problem:
        remedy = "Texts stand between quotation marks, each key once, tables in brackets."
        raise _refusal(name, f"this is not TOML: {_said(problem)}.", remedy) from None


def _said(problem: tomllib.TOMLDecodeError) -> str:
    text = str(problem)
    return text[:1].lower() + text[1:]


def _refusal(name: str, sentence: str, remedy: str) -> CaseError:
    return CaseError(f"{name} cannot be read.", [error(name, sentence, remedy)])
