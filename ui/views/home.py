"""The home: how to begin one, and its sheet."""

from __future__ import annotations

from ui.parts.cautions import show_cautions
from ui.parts.frame import begin
from ui.parts.sheets.ways_to_begin import show_start


def show() -> None:
    """Draw the page."""
    found = begin("Home and loads", "what is in the house, and what does it draw?")
    if found.has_home:
        from ui.parts.sheets.home_sheet import show_sheet  # noqa: PLC0415 - the first page comes first

        show_sheet(found)
    else:
        show_start(found)
        show_cautions()


show()
