"""A table of the page: it is painted, so it is read through what it tells those who cannot see."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

IN_THE_FIRST_CELL = {"x": 60.0, "y": 52.0}  # heading and rows are 35 pixels high

FOCUS_MS = 200  # until a clicked table listens to keys


class Grid:
    """A table by the name that it has for a screen reader; rows and columns from 0."""

    def __init__(self, page: Page, name: str) -> None:
        self._page = page
        self._region = page.get_by_role("region", name=name, exact=True)

    def cell(self, row: int, column: int) -> Locator:
        """The text of a cell."""
        return self._region.get_by_test_id(f"glide-cell-{column}-{row}")

    def headings(self) -> list[str]:
        """The headings from left to right."""
        self._region.locator("th").first.wait_for(state="attached")
        return [one.strip() for one in self._region.locator("th").all_text_contents()]

    def press(self, row: int, column: int, key: str) -> None:
        """Click the first cell, go to another by the arrow keys, and press a key there."""
        self._region.scroll_into_view_if_needed()
        self._region.locator(".dvn-scroller").click(position=IN_THE_FIRST_CELL)
        self._page.wait_for_timeout(FOCUS_MS)
        for one in (*["ArrowDown"] * row, *["ArrowRight"] * column, key):
            self._page.keyboard.press(one)
