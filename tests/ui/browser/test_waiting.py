"""Nobody waits for long; how long exactly is measured by `python -m tests.benchmarks browser`."""

from __future__ import annotations

import pytest

from tests.ui.browser.times import CHOICES, at_the_family_page, changed_wish_s, first_page_s

pytestmark = pytest.mark.browser

CEILING_S = 30.0  # generous: whatever else the machine is doing


def test_the_first_page_comes_soon_after_the_start(browser):
    """From the start of the program to a page that can be used."""
    assert first_page_s(browser) < CEILING_S


def test_a_changed_wish_is_answered_soon(visit):
    """Another plan stands on the page of the suburban home after its family's wish has changed."""
    visitor = at_the_family_page(visit())
    for choice in CHOICES:
        assert changed_wish_s(visitor, choice) < CEILING_S
