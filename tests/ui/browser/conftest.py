"""A front end and a browser for the tests that use it as a visitor does."""

from __future__ import annotations

import pytest

from tests.ui.browser import chromium
from tests.ui.browser.server import serving
from tests.ui.browser.visitor import Visitor


@pytest.fixture(scope="session")
def address():
    """Address of a front end that serves until the last test; each worker has its own."""
    with serving() as found:
        yield found


@pytest.fixture(scope="module")
def browser():
    """Chromium; closed after each file, as its driver keeps the event loop of the thread."""
    if chromium.found() is None:
        pytest.skip(chromium.WITHOUT)
    with chromium.running() as one:
        yield one


@pytest.fixture
def visit(address, browser):
    """A function that lets one more visitor come, with cookies and memory of their own."""
    contexts = []

    def come(width=1280, height=900):
        context = browser.new_context(viewport={"width": width, "height": height},
                                      accept_downloads=True)
        contexts.append(context)
        return Visitor(context.new_page(), address)

    yield come
    for context in contexts:
        context.close()
