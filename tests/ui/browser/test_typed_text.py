"""What a visitor types is text, whatever it looks like."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

TYPED = ('<script>window.ran = 1</script><img src="/nowhere.png" onerror="window.ran = 1"> '
         "**b** [l](/nowhere.html) ![i](/nowhere.png) :red[r] $x$")
ADDRESS = "https://nowhere.invalid/a.png"
AS_TEXT = re.compile("^https:/\u2060?/nowhere.invalid/a.png — ")  # the joiner unmakes a link
PAGES = ("What matters", "Options", "For the family", "Home and loads")


def begin(visitor, name):
    """Begin with a home and a water heater that both bear a name; give the main part of pages."""
    visitor.begin_empty()
    label = visitor.page.get_by_role("textbox", name="Name of the home")
    label.fill(name)
    label.press("Enter")
    visitor.settled()
    visitor.choose("Kind", "electric water heater")
    visitor.choose("Size", "50 gal")
    visitor.page.get_by_role("textbox", name="Name", exact=True).fill(name)
    visitor.press("Add")
    return visitor.page.get_by_test_id("stMain")


def test_markup_is_shown_as_it_was_typed(visit):
    """Names of the home and of a load stand literally on every page; nothing is run or fetched."""
    visitor = visit().arrive()
    page, asked = visitor.page, []
    page.on("request", lambda request: asked.append(request.url))
    main = begin(visitor, TYPED)
    for name in PAGES:
        visitor.go(name, working=True)
        expect(main.get_by_text(TYPED).first).to_be_visible()
        assert main.locator("script, img, strong:text-is('b'), .katex").count() == 0
        assert main.locator("a[href*='nowhere']").count() == 0
    assert page.evaluate("window.ran") is None
    assert asked
    assert not [url for url in asked if "nowhere" in url]


def test_an_address_stays_text(visit):
    """An address in a name is no link: nobody follows what a file made up."""
    visitor = visit().arrive()
    main = begin(visitor, ADDRESS)
    visitor.go("What matters", working=True)
    expect(main.get_by_text(AS_TEXT).first).to_be_visible()
    assert main.locator("a[href*='nowhere.invalid']").count() == 0


SIGNS = (":material/home: :rocket: :+1: :streamlit: :small[s] :red-badge[b] a -> b <- c -- d >= e "
         "<= f ~= g <-> h")
AFTER = "0. # - > 1) \\ _u_ *i* ==m== [ ] | & &amp; {x} \\[y\\] $$z$$ ~s~"


@pytest.mark.parametrize("typed", [SIGNS, AFTER], ids=["signs", "after"])
def test_signs_for_icons_and_arrows_are_shown_as_they_were_typed(visit, typed):
    """No icon, no emoji, no logo and no arrow is made of a name, in texts, choices and labels."""
    visitor = visit().arrive()
    main = begin(visitor, typed)
    for name in (*PAGES, "The outage"):
        visitor.go(name, working=True)
        seen = [one.replace("\u2060", "") for one in main.all_inner_texts()]
        assert any(typed in " ".join(one.split()) for one in seen), name
        icons = main.get_by_test_id("stIconMaterial")
        assert icons.filter(has_text=re.compile("^home$")).count() == 0
        assert main.locator("img").count() == 0
        assert not any(sign in one for one in seen for sign in "🚀👍→←≥≤≈↔"), name


def test_a_choice_of_a_load_shows_its_name_as_it_was_typed(visit):
    """Lists that open, chips and buttons that choose hold plain text as well."""
    visitor = visit().arrive()
    main = begin(visitor, SIGNS)
    box = visitor.page.get_by_role("combobox", name="Remove loads", exact=True)
    box.click()
    box.fill("rocket")  # scrolling to the list may shut it again; typing opens it
    option = visitor.page.get_by_role("option").filter(has_text="rocket")
    assert option.inner_text().replace("\u2060", "").strip() == SIGNS
    option.click()
    visitor.settled()
    assert SIGNS in " ".join(main.inner_text().replace("\u2060", "").split())
