"""One visitor at a page: what a hand does, told in the words of the page."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from playwright.sync_api import TimeoutError

from tests.ui.browser.grid import Grid
from tests.ui.browser.server import ROOT

if TYPE_CHECKING:
    from playwright.sync_api import Locator, Page

PATIENCE_MS = 30_000  # the first plan on a machine waits for loops to be compiled
PAUSE_MS = 200  # what is typed in a table is held back 150 ms before the front end hears of it
AT_REST_MS = 100
MOVING = """
(idle) => {
  const app = document.querySelector("[data-testid=stApp]");
  const moving = [
    app?.dataset.testConnectionState !== "CONNECTED" && "not connected",
    app?.dataset.testScriptState !== "notRunning" && "being drawn",
    document.querySelector("[data-stale=true]") && "with parts from before",
    idle && document.querySelector("[data-testid=stProgress]") && "with work going on",
  ].filter(Boolean).join(", ");
  const now = performance.now();
  if (moving || window.restingSince === undefined) window.restingSince = now;
  return moving || (now - window.restingSince < AT_REST_MS && "only just at rest") || "";
}
""".replace("AT_REST_MS", str(AT_REST_MS))


class Visitor:
    """A browser page and how to go about in it.

    Parameters
    ----------
    page : playwright.sync_api.Page
        A page that nobody uses yet.
    address : str
        Where the front end answers.
    """

    def __init__(self, page: Page, address: str) -> None:
        self.page = page
        self.address = address
        page.set_default_timeout(PATIENCE_MS)

    def arrive(self) -> Visitor:
        """Open the front end and wait for the ways to begin."""
        self.page.goto(self.address)
        self.page.get_by_role("tab", name="Empty home").wait_for()
        return self

    def begin_empty(self) -> None:
        """Begin with a house that has nothing in it yet."""
        self.page.get_by_role("tab", name="Empty home").click()
        self.press("Begin with an empty home")

    def button(self, name: str) -> Locator:
        """The button with exactly this name."""
        return self.page.get_by_role("button", name=name, exact=True)

    def press(self, name: str) -> None:
        """Click a button and wait until the page has settled."""
        self.button(name).click()
        self.settled()

    def settled(self, *, working: bool = False) -> None:
        """Wait until the page is drawn anew and, unless `working`, until all work is done, too."""
        self.page.wait_for_timeout(PAUSE_MS)
        self.page.evaluate("() => { delete window.restingSince; }")
        moving = f"({MOVING})({str(not working).lower()})"
        try:
            self.page.wait_for_function(f"() => {moving} === ''", polling=50)
        except TimeoutError:
            message = f"The page does not come to rest: it is {self.page.evaluate(moving)}."
            raise AssertionError(message) from None

    def go(self, page: str, *, working: bool = False) -> None:
        """Go to another page by the links at the top, and wait for it as `settled` does."""
        link = self.page.get_by_role("link", name=page, exact=True).first
        link.click()
        there = str(link.get_attribute("href"))
        self.page.wait_for_url(lambda url: url.partition("?")[0] == there.partition("?")[0])
        self.settled(working=working)

    def choose(self, label: str, option: str, *, working: bool = False) -> None:
        """Choose from a list that opens, by typing and by taking what is offered."""
        box = self.page.get_by_role("combobox", name=label, exact=True).first
        box.click()
        box.fill(option)
        self.page.get_by_role("option", name=option, exact=True).click()
        self.settled(working=working)

    def bring_file(self, name: str, content: bytes) -> None:
        """Bring a home file on the page that offers the ways to begin."""
        self.page.get_by_role("tab", name="Home file").click()
        self.page.get_by_role("tabpanel", name="Home file").locator(
            "input[type=file]").set_input_files(
                {"name": name, "mimeType": "application/toml", "buffer": content})

    def open_file(self, name: str, content: bytes) -> None:
        """Bring a home file and put it on the table."""
        self.bring_file(name, content)
        self.press("Open this home")

    def open_case(self, name: str) -> None:
        """Bring one of the homes in `cases/`."""
        self.open_file(name, (ROOT / "cases" / name).read_bytes())

    def sees(self, text: str | re.Pattern[str]) -> None:
        """Wait until a text stands on the page."""
        self.page.get_by_text(text).first.wait_for()

    def table(self, name: str) -> Grid:
        """A table by the name that it has for a screen reader."""
        return Grid(self.page, name)

    def file_as_text(self) -> str:
        """What the page of the home shows as the text of the file; opens it if it is shut."""
        area = self.page.get_by_role("textbox", name="The home file")
        if not area.is_visible():
            self.page.get_by_text("The file as text", exact=True).click()
        return area.input_value()
