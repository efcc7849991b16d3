"""No two loads, days or parts are called alike wherever they are listed."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.case.book.read import read_book_text
from planner.case.names import told_apart
from planner.case.read import read_home_text
from planner.editing.items import names_of
from planner.errors import Severity
from tests.case.files import HEAD, load_text

BOOK = (Path(__file__).parents[2] / "cases" / "demo_price_book.toml").read_text("utf-8")
FRIDGES = (load_text("fridge", "refrigerator", 'label = "Refrigerator"')
           + load_text("fridge-2", "refrigerator", 'label = "refrigerator "')
           + load_text("range", "range"))


def test_loads_of_one_label_have_their_ids_behind_it():
    """Capitals and spaces tell nobody apart; a note says which ones, what is alone stays."""
    home, findings = read_home_text(HEAD + FRIDGES, "house.toml")
    assert [load.label for load in home.loads] == [
        "Refrigerator (fridge)", "refrigerator (fridge-2)", "Range"]
    assert [(one.severity, one.where, one.sentence) for one in findings
            if "are called" in one.sentence] == [
        (Severity.NOTE, "house.toml: load fridge: label",
         '2 loads are called "Refrigerator"; their ids stand behind their names.')]
    assert names_of(HEAD + FRIDGES)["fridge-2"] == "refrigerator (fridge-2)"


def test_days_of_one_label_have_their_ids_behind_it():
    """Two hot days are two rows of every table."""
    text = HEAD.replace('season = "', 'label = "A hard day"\nseason = "') + FRIDGES
    home, findings = read_home_text(text, "house.toml")
    assert [day.label for day in home.days] == ["A hard day (hot)", "A hard day (cold)"]
    assert any("2 design days are called" in one.sentence for one in findings)


def test_a_label_that_looks_like_the_usual_name_of_another_is_told_apart():
    """A load without a label is called after its id, and that counts as a name too."""
    text = HEAD + load_text("range", "range") + load_text("oven", "wall oven", 'label = "Range"')
    assert [load.label for load in read_home_text(text, "house.toml")[0].loads] == [
        "Range (range)", "Range (oven)"]


@pytest.mark.parametrize("header", ["generators", "transfers", "modules", "controllers",
                                    "soft_starters"])
def test_parts_of_one_label_have_their_ids_behind_it(header):
    """In each list of a price book; the lists do not disturb one another."""
    before, start, rest = BOOK.partition(f"[[{header}]]")
    body, following, after = rest.partition("\n[[")
    lines = [line for line in body.splitlines() if not line.startswith("id =")]
    twin = "\n".join([start, 'id = "twin"', *lines, start])
    twin = f"{before}{twin}{body}{following}{after}"
    book, findings = read_book_text(twin, "book.toml")
    first, second = getattr(book, header)[:2]
    assert first.label == f"{second.label.rpartition(' (')[0]} (twin)"
    assert second.label.endswith(f"({second.id})")
    assert sum("are called" in one.sentence for one in findings) == 1
    as_it_is = read_book_text(BOOK, "book.toml")[1]
    assert [one for one in as_it_is if "are called" in one.sentence] == []


@given(st.lists(st.sampled_from(["a", "A", "a ", "a (x)", "a (x) (x)", "b", "a (y)"]), max_size=7))
def test_any_labels_are_told_apart_by_ids(labels):
    """However odd: as many looks as items, in their order, each beginning with its label."""
    ids = list("xyzuvwt")[: len(labels)]
    found = told_apart(labels, ids)
    assert len({" ".join(one.split()).casefold() for one in found}) == len(labels)
    assert all(one.startswith(label) for one, label in zip(found, labels, strict=True))
    assert told_apart(labels[::-1], ids[::-1]) == found[::-1]


def test_items_of_one_id_are_named_once():
    """A file that is not sound yet: the page lists it all the same."""
    assert told_apart(["a", "a"], ["x", "x"]) == ("a (x)", "a (x)")
