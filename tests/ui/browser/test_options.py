"""The page of the options as a visitor sees it: answer above the fold, short, within reach."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.ui.browser.test_reach import FOCUSED

pytestmark = pytest.mark.browser

WIDE, HIGH = 1440, 900
MOST_PX, MOST_WORDS = 2000, 250
LEAST_CONTRAST = 4.5  # WCAG 2, 1.4.3 (from memory)
WORDS = """() => {
  const main = document.querySelector("[data-testid=stMainBlockContainer]");
  const walk = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
  const not = "table, svg, button, a, label, summary, style, script, h1, h3, [role=radiogroup]";
  let words = 0;
  while (walk.nextNode()) {
    const one = walk.currentNode.parentElement;
    if (one.closest(not) || one.closest("details:not([open])")) continue;
    if (!one.checkVisibility() || !one.getClientRects().length) continue;
    words += walk.currentNode.textContent.split(/\\s+/).filter(word => /\\w/.test(word)).length;
  }
  return words;
}"""
HIGH_IS = """() => document.querySelector("[data-testid=stMainBlockContainer]").scrollHeight"""
FAINT = """(least) => {
  const light = (text) => {
    const [r, g, b] = text.match(/[\\d.]+/g).map(Number).map(one => one / 255)
      .map(one => one <= 0.04045 ? one / 12.92 : ((one + 0.055) / 1.055) ** 2.4);
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const ground = light(getComputedStyle(document.querySelector(".stApp")).backgroundColor);
  const found = [];
  for (const one of document.querySelectorAll(".st-key-cards p, .st-key-cards h3")) {
    const style = getComputedStyle(one);
    if (one.closest("button[disabled]")) continue;
    const [low, high] = [light(style.color), ground].sort((a, b) => a - b);
    const alpha = Number((style.color.match(/[\\d.]+/g) || [])[3] ?? 1);
    if (alpha === 1 && (high + 0.05) / (low + 0.05) < least) found.push(one.innerText);
  }
  return found;
}"""


@pytest.fixture(scope="module")
def looked(address, browser):
    """The suburban home's page with all its answers, in a window of 1440 by 900."""
    from tests.ui.browser.visitor import Visitor

    context = browser.new_context(viewport={"width": WIDE, "height": HIGH})
    visitor = Visitor(context.new_page(), address).arrive()
    visitor.page.set_default_timeout(120_000)
    visitor.open_case("suburban.toml")
    visitor.go("Options", working=True)
    visitor.page.get_by_role("button", name="Choose “for less”").wait_for()
    expect(visitor.page.get_by_text("Being looked for.")).to_have_count(0)
    visitor.settled()
    yield visitor
    context.close()


def test_the_answer_stands_above_the_fold(looked):
    """First line and all four cards with their buttons end within the window, equally high."""
    first = looked.page.get_by_role("heading", level=4).bounding_box()
    cards = [one.bounding_box() for one in
             looked.page.locator("[class*=st-key-chosen-], [class*=st-key-card-]").all()]
    assert len(cards) == 4
    assert first["y"] + first["height"] <= min(card["y"] for card in cards)
    assert max(card["y"] + card["height"] for card in cards) <= HIGH
    assert max(card["height"] for card in cards) - min(card["height"] for card in cards) < 1.0


def test_the_page_is_short(looked):
    """With all folds shut it is under 2,000 pixels high and has 250 words at most.

    Tables, charts, labels, titles and prices are not counted.
    """
    assert looked.page.evaluate(HIGH_IS) < MOST_PX
    assert looked.page.evaluate(WORDS) <= MOST_WORDS


def test_one_button_is_filled(looked):
    """It leads to the outage."""
    filled = looked.page.get_by_test_id("stBaseButton-primary")
    expect(filled).to_have_count(1)
    expect(filled).to_have_text("Watch an outage")


def test_text_of_the_cards_stands_out(looked):
    """Text that is not faded by the theme has a contrast of 4.5 : 1 to the page."""
    assert looked.page.evaluate(FAINT, LEAST_CONTRAST) == []


def test_the_keyboard_chooses_an_option_and_takes_it_back(looked):
    """Tab goes from card to card; Enter chooses, the day below is that of the chosen plan."""
    page = looked.page
    page.get_by_role("button", name=re.compile("^Goal: ")).focus()
    seen = []
    for _ in range(3):
        page.keyboard.press("Tab")
        seen.append(page.evaluate(FOCUSED))
    assert seen == ["Choose “for less”", "Choose “everything as usual”",
                    "Choose “everything at once”"]
    page.keyboard.press("Enter")
    page.get_by_text("An outage day: 47.5 kW", exact=True).wait_for()
    looked.settled()
    page.get_by_role("button", name="Choose “recommended”").focus()
    page.keyboard.press("Enter")
    expect(page.get_by_text("An outage day: 47.5 kW", exact=True)).to_have_count(0)
