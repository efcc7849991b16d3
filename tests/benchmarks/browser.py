"""What a visitor waits for, measured in a browser: the first page, the answer to a changed wish."""

from __future__ import annotations

from itertools import cycle, islice
from statistics import median

from tests.ui.browser import chromium
from tests.ui.browser.server import serving
from tests.ui.browser.times import CHOICES, at_the_family_page, changed_wish_s, first_page_s
from tests.ui.browser.visitor import Visitor

REPEATS = 5
PATIENCE_MS = 300_000  # until nothing is in work any more, between two repeats


def waits():
    """Measure each wait several times.

    Returns
    -------
    dict of str to list of float
        What is waited for, and every wait [s].
    """
    if chromium.found() is None:
        raise RuntimeError(chromium.WITHOUT)
    with chromium.running() as browser:
        first = [first_page_s(browser) for _ in range(REPEATS)]
        with serving() as address:
            visitor = Visitor(browser.new_page(), address)
            visitor.page.set_default_timeout(PATIENCE_MS)
            at_the_family_page(visitor)
            visitor.settled()
            wishes = []
            for choice in islice(cycle(CHOICES), REPEATS):
                wishes.append(changed_wish_s(visitor, choice))
                visitor.settled()
    return {"start of the program to its first page": first,
            "a wish changed, suburban home, to the new plan": wishes}


def wait_table(found):
    """Lay the waits out in markdown: the median and the worst of the repeats."""
    rows = ["| in the browser | median, s | worst, s | repeats |", "|---|---|---|---|"]
    rows += [f"| {what} | {median(times):.2f} | {max(times):.2f} | {len(times)} |"
             for what, times in found.items()]
    return "\n".join(rows)
