"""How long a visitor waits: for the first page, and for the answer to a changed wish."""

from __future__ import annotations

import time
from typing import TYPE_CHECKING

from tests.ui.browser.server import serving
from tests.ui.browser.visitor import Visitor

if TYPE_CHECKING:
    from playwright.sync_api import Browser

COMFORT = "Clean clothes"
SCROLLED_MS = 500.0  # a list that is opened while the page still scrolls closes again
CHOICES = ("Must always work", "Nice to have")  # each of them changes the plan of the other
PLAN = """() => {
  const main = document.querySelector("[data-testid=stMain]");
  const text = main.innerText;
  const begin = text.indexOf("What would happen"), chart = text.indexOf("Comfort by comfort");
  const cost = text.indexOf("What it would cost"), end = text.indexOf("What matters to you?");
  const outdated = text.lastIndexOf("Out of date", end) >= 0  // what stands below may yet be
    || text.lastIndexOf("Provisional", end) >= 0;
  const moving = outdated || main.querySelector("[data-stale=true]");
  const there = !moving && 0 <= begin && begin < chart && chart < cost && cost < end;
  return there ? text.slice(begin, chart).trim() + text.slice(cost, end).trim() : "";
}"""


def first_page_s(browser: Browser) -> float:
    """Seconds from the start of a front end to its first page."""
    begun = time.perf_counter()
    with serving() as address:
        page = browser.new_page()
        Visitor(page, address).arrive()
        seconds = time.perf_counter() - begun
        page.close()
    return seconds


def at_the_family_page(visitor: Visitor) -> Visitor:
    """Bring the suburban home, go to the page for the family, wait until a plan is there."""
    visitor.arrive().open_case("suburban.toml")
    visitor.go("For the family", working=True)
    visitor.page.wait_for_function(PLAN)
    return visitor


def changed_wish_s(visitor: Visitor, choice: str) -> float:
    """Seconds from a click on what a comfort means to the family to another plan on the page.

    The plan is another one when what would happen and what it costs reads otherwise, with nothing
    left from before and nothing marked as out of date or provisional.
    """
    page = visitor.page
    before = page.wait_for_function(PLAN).json_value()
    chosen = page.get_by_role("combobox", name=COMFORT, exact=True)
    chosen.scroll_into_view_if_needed()
    page.wait_for_timeout(SCROLLED_MS)
    chosen.click()
    option = page.get_by_role("option", name=choice, exact=True)
    option.wait_for()
    begun = time.perf_counter()
    option.click()
    page.wait_for_function(f"before => !['', before].includes(({PLAN})())", arg=before, polling=20)
    return time.perf_counter() - begun
