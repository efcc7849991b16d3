"""Homes that are broken, or that nothing can serve: every page says what stands in the way."""

from __future__ import annotations

import pytest

from planner.case.book.read import read_book_text
from planner.case.read import read_home_text
from planner.errors import CaseError, NoPlanError, Severity
from tests.homes import cheapest
from tests.ui.opening import CASES, PAGES, on_the_table, opened, said, settled, turned
from ui.demos import DEMO_BOOK, demo_text

BROKEN = tuple(sorted(path.name for path in CASES.glob("broken_*.toml")))
BOOKS = tuple(name for name in BROKEN if "price_book" in name)
WITHOUT = tuple(sorted(path.name for path in CASES.glob("no_plan_*.toml")))
LONG_LIST = 200
ANSWERING = tuple(page for page in PAGES if page not in ("home", "price_book", "jobs"))


def refusal(read, name):
    """Give every finding for which a file is refused."""
    with pytest.raises(CaseError) as refused:
        read(demo_text(name), name)
    assert refused.value.findings
    return refused.value


def whole(finding):
    """Write what is wrong and how it is mended on one line; a very long list may end early."""
    return " ".join(f"{finding.sentence} {finding.remedy[:LONG_LIST]}".split())


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_home_shows_every_finding(name):
    """The home page and all that would answer show each error with the way to mend it."""
    findings = refusal(read_home_text, name).findings
    errors = [one for one in findings if one.severity is not Severity.NOTE]
    at = opened(on_the_table(name))
    assert not at.exception
    words = said(at)
    assert [whole(one) for one in errors if whole(one) not in words] == []
    for page in ANSWERING:
        turned(at, page)
        assert not at.exception, page
        words = said(at)
        assert [whole(one) for one in findings if whole(one) not in words] == [], page
        assert "Nothing can be planned before that is corrected." in words
        assert "Go to the home and correct it" in words


@pytest.mark.parametrize("name", BOOKS)
def test_a_broken_price_book_shows_every_finding(name):
    """The page of the book and all that would answer show each error with the way to mend it."""
    problem = refusal(read_book_text, name)
    found = on_the_table()
    found.open_book(name, demo_text(name))
    at = opened(found, "price_book")
    assert not at.exception
    words = said(at)
    errors = [one for one in problem.findings if one.severity is not Severity.NOTE]
    assert [whole(one) for one in errors if whole(one) not in words] == []
    for page in ANSWERING:
        turned(at, page)
        assert not at.exception, page
        words = said(at)
        assert [whole(one) for one in problem.findings if whole(one) not in words] == [], page
        assert "Nothing can be priced before that is corrected." in words
        assert "Go to the price book and correct it" in words


@pytest.mark.parametrize("name", WITHOUT)
def test_a_home_without_a_plan_says_why(name):
    """Every page that would answer shows the conflict and the remedies, in sentences."""
    home, _ = read_home_text(demo_text(name), name)
    book, _ = read_book_text(demo_text(DEMO_BOOK), DEMO_BOOK)
    with pytest.raises(NoPlanError) as no_plan:
        cheapest(home, book, 0.9)
    at = opened(on_the_table(name))
    assert not at.exception
    assert not at.error
    for page in ANSWERING:
        settled(turned(at, page))
        assert not at.exception, page
        problem = no_plan.value
        words = said(at)
        assert " ".join(problem.message.split()) in words, page
        assert [whole(one) for one in problem.findings if whole(one) not in words] == [], page
