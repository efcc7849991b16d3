"""An order of one's own: moved by keyboard and by buttons, answered at once."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

ANSWERED = re.compile(r"With this order the same equipment keeps |This order does not work: ")
FOUND = "This is the order that was found."


def test_the_order_is_changed_by_keyboard_and_by_buttons(visit):
    """Alt+ArrowDown moves an item and stays on it; a button moves it back; both are answered."""
    visitor = visit().arrive()
    visitor.open_case("suburban.toml")
    visitor.go("What matters", working=True)
    page = visitor.page
    page.get_by_text("Priority order: why this one", exact=False).click()
    visitor.sees(FOUND)
    rows = page.get_by_role("list", name="Priority order").get_by_role("listitem")

    def order():
        return [row.locator("span").inner_text() for row in rows.all()]

    expect(rows.nth(2)).to_be_visible()
    first, second, *rest = order()
    rows.first.focus()
    page.keyboard.press("Alt+ArrowDown")
    expect(page.get_by_text(ANSWERED).first).to_be_visible()
    assert order() == [second, first, *rest]
    expect(rows.nth(1)).to_be_focused()
    expect(rows.nth(1)).to_have_attribute("aria-label", re.compile(f"^{first}, number 2 of "))

    page.get_by_role("button", name=f"Move {first} up", exact=True).click()
    visitor.sees(FOUND)
    assert order() == [first, second, *rest]
    expect(rows.first).to_be_focused()

    page.get_by_role("button", name=f"Move {second} down", exact=True).click()
    expect(page.get_by_text(ANSWERED).first).to_be_visible()
    assert order() == [first, rest[0], second, *rest[1:]]
    expect(rows.nth(2)).to_be_focused()
