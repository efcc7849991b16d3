"""Every page with every home that can be planned: it draws, answers, warns and says its prices."""

from __future__ import annotations

import pytest

from planner.case.book.read import read_book_text
from planner.report.cautions import CAUTIONS, price_notice
from tests.ui.opening import (
    CASES,
    PAGES,
    SMALL,
    left,
    on_the_table,
    opened,
    said,
    settled,
    told,
    turned,
)
from ui import answers
from ui.demos import DEMO_BOOK, demo_homes, demo_text

HOMES = tuple(sorted(demo_homes()))
LONG = "large_estate.toml"
HOME = "suburban.toml"
ANSWERS = {
    "home": ("What the planner understands", "Calculated load by code"),
    "wishes": ("Recommended", "Who goes first", "On the hardest day", "Always on"),
    "options": ("Recommended", "An outage day", "Every mark is a plan", "Hours",
                "Pinned for the comparison", "Price, line by line", "Why not smaller"),
    "outage": ("Demand under the generator's limit", "Load by load", "What happened"),
    "site": ("What is known of the place", "Conductors", "missing to know", "One-line diagram",
             "Sketch of the place"),
    "portable": ("Not recommended for this home", "counted over all comforts",
                 "Manual transfer", "Carbon monoxide"),
    "price_book": ("The book is sound", "Generators", "Shedding modules"),
    "jobs": ("All jobs", "Customer", "Quotes that went out"),
    "family": ("What would happen", "What it would cost", "Ways to do it"),
}
PRICED = tuple(page for page in PAGES if page not in ("home", "jobs"))


def notice():
    """What stands wherever a price of the demonstration book is shown."""
    return price_notice(read_book_text(demo_text(DEMO_BOOK), DEMO_BOOK)[0])


def test_every_home_of_the_cases_is_tried():
    """Homes with and without a plan and broken ones are all covered by some test of a page."""
    names = {path.name for path in CASES.glob("*.toml")} - {DEMO_BOOK}
    assert set(HOMES) == {one for one in names if not one.startswith(("broken_", "no_plan_"))}
    assert len(HOMES) >= 7


@pytest.mark.parametrize("name", [SMALL, HOME])
def test_every_page_answers(name):
    """No page fails; each shows its answer, every caution, and the notice beside its prices.

    The side answers of the larger home, which take long, are left, not waited for.
    """
    found = on_the_table(name)
    at = opened(found)
    for page in PAGES:
        turned(at, page)
        settled(at, leaving=("wishes", "reasons", "smaller", "options") if name == HOME else ())
        assert not at.exception, page
        assert not at.error, page
        words = told(at)
        assert [part for part in ANSWERS[page] if part not in words] == [], page
        assert [caution for caution in CAUTIONS if caution not in words] == [], page
        assert page not in PRICED or notice() in words, page
    left(found)


@pytest.mark.parametrize("name", HOMES)
def test_every_page_is_drawn_with_every_home(name, monkeypatch):
    """Before any answer is there: what is asked for stands, and every caution."""
    monkeypatch.setattr(answers, "AT_ONCE_S", 0.0)
    found = on_the_table(name)
    at = opened(found)
    for page in PAGES:
        turned(at, page)
        left(found)
        assert not at.exception, page
        assert not at.error, page
        assert [caution for caution in CAUTIONS if caution not in told(at)] == [], page


@pytest.mark.parametrize("page", PAGES)
def test_a_page_without_a_home_says_where_to_begin(page):
    """With nothing on the table a page draws and leads to the home, or offers ways to begin."""
    found = on_the_table("", "")
    at = opened(found, page)
    assert not at.exception
    words = said(at)
    assert any(part in words for part in ("Begin with a home", "Begin with an empty home",
                                          "The book is sound"))


def test_long_work_shows_how_far_it_is_and_can_be_left():
    """The estate's pages are drawn at once; progress grows, and another page can be read."""
    found = on_the_table(LONG)
    at = opened(found)
    assert not at.exception
    turned(at, "options")
    assert not at.exception
    assert "being calculated; you can go on meanwhile" in told(at)
    assert all(caution in told(at) for caution in CAUTIONS)
    for page in PAGES[3:-1]:
        turned(at, page)
        assert not at.exception, page
        assert not at.error, page
        assert page == "price_book" or at.get("progress") or "coverage" in told(at).casefold(), page
    left(found)
    assert not found.desk.busy
