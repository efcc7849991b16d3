"""What a visitor does is kept through a reload, a second tab, and a server that is killed."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path

import pytest

from tests.ui.browser.server import running
from tests.ui.browser.visitor import Visitor
from ui.keeping import COOKIE

pytestmark = pytest.mark.browser

LABEL = "House by the lake"


def begun(page, address):
    """Begin with an empty home, call it by a name, and wait until that is kept."""
    visitor = Visitor(page, address).arrive()
    visitor.begin_empty()
    renamed(page, visitor, LABEL)
    return visitor


def renamed(page, visitor, label):
    """Call the home otherwise on its page."""
    field = page.get_by_label("Name of the home")
    field.fill(label)
    field.press("Enter")
    visitor.settled()
    page.get_by_text(f"{label} —").wait_for()


def test_a_killed_server_goes_on_where_it_was(browser, tmp_path: Path) -> None:
    """After kill -9 and a new start the page that stayed open, a reload and a new tab go on."""
    store = str(tmp_path)
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    try:
        with running(store) as (address, process):
            begun(page, address)
            os.kill(process, signal.SIGKILL)
        port = int(address.rpartition(":")[2])
        with running(store, port=port) as (address, _):
            visitor = Visitor(page, address)
            page.reload()
            page.get_by_text(f"{LABEL} —").wait_for()
            visitor.settled()
            renamed(page, visitor, f"{LABEL}, again")
            other = context.new_page()
            other.goto(address)
            other.get_by_text(f"{LABEL}, again —").wait_for()
    finally:
        context.close()


def test_every_browser_has_jobs_of_its_own(browser, tmp_path: Path) -> None:
    """On a server of several visitors a second tab goes on, another browser begins anew.

    The token is out of reach of scripts, and the address of a job opens it for nobody else.
    """
    mine, theirs = browser.new_context(), browser.new_context()
    try:
        with running(str(tmp_path), visitors=True) as (address, _):
            page = mine.new_page()
            begun(page, address)
            (cookie,) = [one for one in mine.cookies() if one["name"] == COOKIE]
            assert cookie["httpOnly"]
            assert cookie["sameSite"] == "Lax"
            assert cookie["expires"] > time.time() + 365 * 24 * 3600
            assert cookie["value"] not in page.evaluate("document.cookie")
            second = mine.new_page()
            second.goto(address)
            second.get_by_text(f"{LABEL} —").wait_for()
            stranger = theirs.new_page()
            stranger.goto(page.url)
            stranger.get_by_role("tab", name="Empty home").wait_for()
            assert not stranger.get_by_text(LABEL).count()
    finally:
        mine.close()
        theirs.close()
