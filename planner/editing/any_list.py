"""A list of loads or a panel schedule, whichever a text is."""

from __future__ import annotations

from typing import Literal

from planner.case.messages import note
from planner.case.text import text_of
from planner.editing.circuits.loads import listed_of
from planner.editing.lists import MOST_IN_A_LINE, Listed, read_list
from planner.errors import CaseError
from planner.importing.content import refusal, refuse_too_large
from planner.importing.panel.read import is_schedule
from planner.importing.panel.table import decoded

Form = Literal["list", "panel-schedule"]
MOST_CHARACTERS = 1_000_000
"""Of a schedule: as for every file of text."""


def read_any(text: str, name: str = "the list", form: Form | None = None) -> Listed:
    """Read a list of loads or a panel schedule, by its header or as told.

    Raises
    ------
    CaseError
        It holds nothing, far too much, or is not of the form that was told.
    """
    text = text.removeprefix("\ufeff")
    refuse_too_large(len(text), MOST_CHARACTERS, name)
    longest = max(map(len, text.splitlines()), default=0)
    if form == "list" or (form is None and (longest > MOST_IN_A_LINE or not is_schedule(text))):
        return read_list(text, name)
    if longest > MOST_IN_A_LINE:
        raise refusal(name, f"a line of {longest:,} characters is no circuit.")
    listed = listed_of(text, name)
    said = note(name, "read as a panel schedule.",
                "" if form else "Told otherwise, it is a list: --form list.")
    return Listed(listed.rows, (said, *listed.findings), listed.panels, listed.house,
                  of_panel=True, not_read=listed.not_read)


def text_of_any(content: bytes, name: str) -> str:
    """Give the text of a file; a panel schedule may be in the code page of an office program.

    Raises
    ------
    CaseError
        It is too large, or no text.
    """
    refused: CaseError | None = None
    try:
        text = text_of(content, name)
        if "\0" not in text:
            return text
    except CaseError as problem:
        refused = problem
    other = decoded(content) if len(content) <= MOST_CHARACTERS else None
    if other is None or "\0" in other or not (refused is None or is_schedule(other)):
        raise refused or refusal(name, "this is not a text file.", "Save it as UTF-8.") from None
    return other
