"""Chromium without a screen: where it is, and how it is started."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Browser

NAMES = ("chromium", "chromium-browser")
WITHOUT = "Chromium is not installed: apt-get install chromium."
FLAGS = ["--no-sandbox", "--disable-gpu", "--disable-background-networking"]


def found() -> str | None:
    """Give the path of Chromium; None where there is none."""
    return next((path for path in map(shutil.which, NAMES) if path), None)


@contextmanager
def running() -> Iterator[Browser]:
    """Run Chromium and close it at the end."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=found(), headless=True, args=FLAGS)
        try:
            yield browser
        finally:
            browser.close()
