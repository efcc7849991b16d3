"""Everything is within reach: of the Tab key, and of a narrow screen."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.browser

TABLET = 820  # pixels, a tablet held upright
PAGES = ("Home and loads", "What matters", "Options", "The outage",
         "Price book", "For the family")
FOCUSED = """() => {
  const one = document.activeElement;
  return one === document.body ? "" : (one.getAttribute("aria-label") || one.innerText
    || one.labels?.[0]?.innerText || one.tagName).trim().split("\\n")[0];
}"""
SCROLLS = """() => [document.documentElement, document.querySelector("[data-testid=stMain]")]
  .map(one => one.scrollWidth)"""
IN_EACH_WAY = {
    "List of appliances": ["Appliances", "Begin with these appliances", "upload",
                           "Template for such a file"],
    "Empty home": ["Begin with an empty home"],
    "Home file": ["upload"],
    "Demo home": ["Invented homes", "Open this demo home"],
}


def tabbed(page):
    """Press Tab from the first link until the focus leaves the page; give what it was on."""
    page.get_by_role("link", name="Skip to main content").focus()
    seen = []
    for _ in range(40):
        page.keyboard.press("Tab")
        seen.append(page.evaluate(FOCUSED))
        if seen[-1] == "":
            return seen[:-1]
    raise AssertionError(f"The Tab key never leaves the page: {seen}.")


@pytest.mark.parametrize("way", IN_EACH_WAY)
def test_the_tab_key_reaches_every_way_to_begin(visit, way):
    """Pages in their order, then the ways to begin, then what the chosen way offers."""
    visitor = visit().arrive()
    visitor.page.get_by_role("tab", name=way).click()
    visitor.page.get_by_role("tab", name=way, selected=True).wait_for()
    visitor.page.get_by_role("tabpanel", name=way).get_by_role("button").last.wait_for()
    visitor.settled()
    seen = tabbed(visitor.page)
    places = [next((at for at, name in enumerate(seen) if name.startswith(wanted)), None)
              for wanted in (*PAGES, way, *IN_EACH_WAY[way])]
    assert None not in places, seen
    assert places == sorted(places)


def test_arrow_keys_go_from_one_way_to_begin_to_the_next(visit):
    """The ways are one stop of the Tab key; arrows go on inside it."""
    visitor = visit().arrive()
    visitor.settled()
    visitor.page.get_by_role("tab", name=next(iter(IN_EACH_WAY))).focus()
    seen = []
    for _ in IN_EACH_WAY:
        seen.append(visitor.page.evaluate(FOCUSED))
        visitor.page.keyboard.press("ArrowRight")
    assert seen == list(IN_EACH_WAY)


def test_no_page_scrolls_sideways_on_a_tablet(visit):
    """At 820 pixels every page of the suburban home fits."""
    visitor = visit(width=TABLET, height=1180).arrive()
    visitor.open_case("suburban.toml")
    wide = {}
    for name in PAGES:
        visitor.go(name, working=True)
        found = visitor.page.evaluate(SCROLLS)
        if max(found) > TABLET:
            wide[name] = found
    assert wide == {}
