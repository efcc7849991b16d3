"""From an empty page to a saved home, as an estimator goes about it."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

LOADS = (("central air conditioner", "3 ton"), ("electric water heater", "50 gal"),
         ("sump pump", None), ("range", None))
HOT_WATER, MEALS = 1, 2  # rows; the room comes first
COMFORT, MUST_HAVE = 0, 3  # columns
LARGER = "Demo generator, 21.2 kW, air-cooled"
POINT = "path[aria-roledescription=point][aria-label^='Plan ']"


def add_loads(visitor):
    """Begin with an empty home and add the four loads by kind and size."""
    visitor.begin_empty()
    for kind, size in LOADS:
        visitor.choose("Kind", kind)
        if size is not None:
            visitor.choose("Size", size)
        visitor.press("Add")
        visitor.sees(f"{kind.capitalize()} was added.")


def mark_must_haves(visitor):
    """Mark hot water in the family's words, take it back in the table, mark meals there."""
    visitor.go("For the family", working=True)
    visitor.choose("Hot water", "Must always work", working=True)
    visitor.go("What matters", working=True)
    wishes = visitor.table("Wishes about each comfort")
    for row, comfort in ((HOT_WATER, "Hot water"), (MEALS, "Meals")):
        expect(wishes.cell(row, COMFORT)).to_have_text(comfort)
    for row, before, after in ((HOT_WATER, "true", "false"), (MEALS, "false", "true")):
        expect(wishes.cell(row, MUST_HAVE)).to_have_text(before)
        wishes.press(row, MUST_HAVE, "Enter")
        expect(wishes.cell(row, MUST_HAVE)).to_have_text(after)
        visitor.settled(working=True)


def pin_two(visitor):
    """Click a mark of the curve, pin its plan and a larger size; give their generators' names."""
    visitor.go("Options")
    chart = visitor.page.get_by_test_id("stVegaLiteChart").first
    expect(chart).to_have_attribute("aria-label",
                                    re.compile(r"^Cost against coverage, \d+ plans?:"))
    mark = chart.locator(POINT).first
    expect(mark).to_be_visible()
    price, size = re.match(r"Plan \d+: (.+? USD), coverage [\d.]+ %, (.+), would not run",
                           mark.get_attribute("aria-label")).groups()
    mark.click()
    visitor.settled()
    visitor.page.get_by_text("Price, line by line", exact=True).click()
    visitor.sees(f"Total {price}.")
    visitor.page.get_by_text("Compare other sizes", exact=True).click()
    pin = visitor.button("Pin the chosen plan")
    expect(pin).to_have_count(1)  # while the page is drawn anew the old one may stand beside it
    pin.click()
    visitor.sees("Pinned for the comparison: 1 of 4")
    visitor.settled()
    visitor.choose("Generator", LARGER)
    visitor.button("Pin").click()
    visitor.sees("Pinned for the comparison: 2 of 4")
    visitor.settled()
    return [size, LARGER]


def save(visitor):
    """Save the home; give its name, its bytes and the text that the page shows."""
    visitor.go("Home and loads", working=True)
    with visitor.page.expect_download() as download:
        visitor.button("Save the home as a file").click()
    saved = download.value
    return saved.suggested_filename, Path(saved.path()).read_bytes(), visitor.file_as_text()


def test_from_nothing_to_a_saved_home_and_back(visit, tmp_path):
    """Loads, wishes, curve, pins, comparison, download: the file that comes back is the same."""
    visitor = visit().arrive()
    add_loads(visitor)
    mark_must_haves(visitor)
    names = pin_two(visitor)
    assert len(set(names)) == 2

    visitor.sees("The pinned plans, comfort by comfort")
    visitor.page.get_by_text(re.compile("^Option by option")).click()
    headings = visitor.table("Side by side").headings()
    assert [heading for heading in headings if any(map(heading.startswith, names))] == names
    assert any(heading.startswith("No load shedding") for heading in headings)

    name, content, shown = save(visitor)
    assert content.decode("utf-8") == shown
    assert all(f'kind = "{kind}"' in shown for kind, _ in LOADS)
    wished = {one["id"]: one for one in tomllib.loads(shown)["comforts"]}
    assert wished["hot-water"]["must_run"] is False
    assert wished["meals"]["must_run"] is True

    file = tmp_path / name
    file.write_bytes(content)
    checked = subprocess.run([sys.executable, "-m", "planner", "check", str(file)], check=False,
                             capture_output=True, text=True)
    assert checked.returncode == 0, checked.stderr

    again = visit().arrive()
    again.open_file(name, content)
    assert again.file_as_text() == shown
    again.go("Options")
    expect(again.page.get_by_test_id("stVegaLiteChart").first.locator(
        POINT).first).to_be_visible()
