"""From an empty page to a saved home, as an estimator goes about it."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import expect

pytestmark = pytest.mark.browser

LOADS = (("central air conditioner", "3 ton"), ("electric water heater", "50 gal"),
         ("sump pump", None), ("range", None))
HEATER, SUMP_PUMP = 2, 3  # rows; the lighting that every home has is the first
LOAD, MUST_RUN = 0, 1  # columns
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


def mark_must_run(visitor):
    """Mark the heater in the family's words, take it back in the table, mark the pump there."""
    visitor.go("For the family")
    heater = visitor.page.get_by_role("radiogroup", name="Electric water heater")
    heater.get_by_text("Must always work", exact=True).click()
    visitor.settled()
    visitor.go("What matters")
    wishes = visitor.table("Wishes about each load")
    for row, load in ((HEATER, "Electric water heater"), (SUMP_PUMP, "Sump pump")):
        expect(wishes.cell(row, LOAD)).to_have_text(load)
    for row, before, after in ((HEATER, "true", "false"), (SUMP_PUMP, "false", "true")):
        expect(wishes.cell(row, MUST_RUN)).to_have_text(before)
        wishes.press(row, MUST_RUN, "Enter")
        expect(wishes.cell(row, MUST_RUN)).to_have_text(after)
        visitor.settled()


def pin_two(visitor):
    """Click two marks of the curve, pin their plans, and give the names of their generators."""
    visitor.go("Cost and coverage")
    chart = visitor.page.get_by_test_id("stVegaLiteChart")
    expect(chart).to_have_attribute("aria-label", re.compile(r"^Cost against coverage, \d+ plans:"))
    expect(chart.locator("path[aria-roledescription='line mark']")).to_be_visible()
    marks = chart.locator(POINT)
    expect(marks.nth(1)).to_be_visible()
    shown = visitor.page.get_by_role("combobox", name="Plan shown")
    names = []
    for place in (0, marks.count() - 1):
        number, cost = re.match(r"Plan (\d+): (.+? USD),",
                                marks.nth(place).get_attribute("aria-label")).groups()
        marks.nth(place).click()
        expect(shown).to_have_value(re.compile(rf"^{number}: {cost}, "))
        size = shown.input_value().split(", ", 2)[2]  # a label may hold commas
        expect(visitor.page.get_by_role("heading", name=size, level=3)).to_be_visible()
        visitor.press("Pin this plan for the comparison")
        names.append(size)
    visitor.sees("Pinned for the comparison: 2 of 4")
    return names


def save(visitor):
    """Save the home; give its name, its bytes and the text that the page shows."""
    visitor.go("Home and loads")
    with visitor.page.expect_download() as download:
        visitor.button("Save the home as a file").click()
    saved = download.value
    return saved.suggested_filename, Path(saved.path()).read_bytes(), visitor.file_as_text()


def test_from_nothing_to_a_saved_home_and_back(visit, tmp_path):
    """Loads, wishes, curve, pins, comparison, download: the file that comes back is the same."""
    visitor = visit().arrive()
    add_loads(visitor)
    mark_must_run(visitor)
    names = pin_two(visitor)
    assert len(set(names)) == 2

    visitor.go("Side by side")
    for name in names:
        expect(visitor.page.get_by_role("heading", name=name, level=3)).to_be_visible()
    visitor.sees(re.compile("with no load shedding$"))
    headings = visitor.table("Side by side").headings()
    assert [heading for heading in headings if any(map(heading.startswith, names))] == names
    assert any(heading.startswith("No load shedding") for heading in headings)

    name, content, shown = save(visitor)
    assert content.decode("utf-8") == shown
    assert all(f'kind = "{kind}"' in shown for kind, _ in LOADS)
    assert shown.count("must_run = true") == 1
    assert 'size = "0.3333 hp"\nmust_run = true' in shown

    file = tmp_path / name
    file.write_bytes(content)
    checked = subprocess.run([sys.executable, "-m", "planner", "check", str(file)], check=False,
                             capture_output=True, text=True)
    assert checked.returncode == 0, checked.stderr

    again = visit().arrive()
    again.open_file(name, content)
    assert again.file_as_text() == shown
    again.go("Cost and coverage")
    expect(again.page.get_by_test_id("stVegaLiteChart").locator(POINT).nth(1)).to_be_visible()
