"""Values of a file, changed one at a time in its text; every comment stays."""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from typing import Any

import tomlkit
from tomlkit.items import InlineTable, Item

from planner.case.fields import did_you_mean
from planner.case.marks import ASSUMED, is_assumed, marked
from planner.case.messages import error, place
from planner.case.text import parse_toml
from planner.editing.document import document_of
from planner.errors import CaseError
from planner.quoting import quoted, some

Value = str | int | float | bool | list[Any] | dict[str, Any]
Change = tuple[str, ...]


def edited(text: str, changes: Mapping[Change, Value | None], *, file: str = "the file") -> str:
    """Change values in the text of a file and keep the rest of it, comments included.

    Parameters
    ----------
    text : str
        TOML.
    changes : mapping
        From a path of keys to the new value, None to take the key out. Below a list of tables the
        next key is an id: ``("loads", "dryer", "wait")``.
    file : str
        Its name, for messages.

    Returns
    -------
    str
        The new text.

    Raises
    ------
    CaseError
        The text is not TOML, or a path leads nowhere.
    """
    document = document_of(text, file)
    for path, value in changes.items():
        change(_table_at(document, path[:-1], file), path, value, file)
    return written(document, file)


def written(document: tomlkit.TOMLDocument, file: str = "the file") -> str:
    """Write a document as text.

    Raises
    ------
    CaseError
        What would be written is not TOML: the file is left as it was then.
    """
    text = tomlkit.dumps(document)
    try:
        parse_toml(text, file)
    except CaseError as problem:
        message = f"{file} is written in a way that this change would spoil."
        raise CaseError(message, problem.findings) from None
    return text


def change(table: Any, path: Change, value: Value | None, file: str = "the file") -> None:  # noqa: ANN401
    """Set the last key of a path in its table, or take it out.

    Raises
    ------
    CaseError
        There is no table at that place.
    """
    if not isinstance(table, dict):
        raise _no_table(path[:-1], file)
    if value is not None:
        set_value(table, path[-1], value)
    elif path[-1] in table:
        del table[path[-1]]


def step_into(here: Any, path: Change, number: int, file: str = "the file") -> Any:  # noqa: ANN401
    """Go from a table to the one under a step of a path, which is made where there is none.

    Raises
    ------
    CaseError
        What stands there is no table.
    """
    if not isinstance(here, dict):
        raise _no_table(path[:number], file)
    if path[number] not in here:
        inline = isinstance(here, InlineTable)
        here[path[number]] = tomlkit.inline_table() if inline else tomlkit.table()
    return here[path[number]]


def marked_assumed(text: str) -> frozenset[tuple[str, str]]:
    """Table and key of every value whose comment says that it is assumed; none if it is no TOML.

    The comment goes when `edited` changes the value.
    """
    parts = (one.key.split(".") for one in marked(text))
    return frozenset((part[0], part[1]) for part in parts if len(part) == 2)


def set_value(table: Any, key: str, value: Value, *, keep_mark: bool = False) -> None:  # noqa: ANN401
    """Set a value of a table; what was assumed no longer is, unless the mark is kept.

    Or unless the value bears the mark itself, as one that only follows from what was said.
    """
    was_assumed = is_assumed(table, key)
    follows = isinstance(value, Item) and value.trivia.comment.strip() == ASSUMED
    table[key] = value
    if was_assumed and not (keep_mark or follows):
        item = table.value.item(key)
        item.trivia.comment_ws = item.trivia.comment = ""


def _table_at(document: MutableMapping[str, Any], path: Change, file: str) -> Any:  # noqa: ANN401
    here: Any = document
    for number, step in enumerate(path):
        if isinstance(here, list):
            rows = [row for row in here if isinstance(row, dict)]
            known = [str(row.get("id")) for row in rows]
            here = next((row for row in rows if row.get("id") == step), None)
            if here is None:
                where = place(file, ".".join(path[:number]))
                hint = did_you_mean(step, known) or f"It has: {some(known) or 'none'}."
                finding = error(where, f"there is no {quoted(step)}.", hint)
                raise CaseError(f"{file} cannot be changed.", [finding])
        else:
            here = step_into(here, path, number, file)
    return here


def _no_table(path: Change, file: str) -> CaseError:
    finding = error(place(file, ".".join(path)), "this is no table, so nothing can stand in it.",
                    "Mend it in the text of the file.")
    return CaseError(f"{file} cannot be changed.", [finding])
