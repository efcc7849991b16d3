"""The price book: marked as invented, checked, edited, brought and taken along."""

from __future__ import annotations

import tomllib

from streamlit.delta_generator import DeltaGenerator

from planner.jobs.content import Goal
from planner.report.words import money
from tests.homes import cheapest
from tests.ui.opening import on_the_table, opened, settled, told, turned
from ui.demos import DEMO_BOOK, demo_text
from ui.readings import book_of, home_of

SMALL = "gas_heated_small.toml"


def test_the_demonstration_book_is_marked_as_invented():
    """The mark stands while the book is as it came, and goes when it is changed."""
    found = on_the_table(SMALL)
    at = opened(found, "price_book")
    assert [one for one in at.warning if "Invented" in one.value]
    assert "The book is sound" in told(at)
    at.text_input(key="field book label").set_value("Our prices").run()
    assert tomllib.loads(found.book_text)["book"]["label"] == "Our prices"
    assert not [one for one in at.warning if "every set" in one.value]
    at.button(key="demo book").click().run()
    assert found.book_text == demo_text(DEMO_BOOK)
    assert at.button(key="demo book").disabled


def test_a_price_that_is_changed_changes_the_plan():
    """A dearer permit makes the plan dearer by as much, and the old price is gone."""
    found = on_the_table(SMALL)
    found.goal = Goal(sturdy=False)
    home = home_of(found).facts
    plan = cheapest(home, book_of(found).facts, 0.9)
    at = settled(opened(found, "wishes"), leaving=("wishes",))
    assert money(plan.cost_usd) in told(at)
    permits_usd = book_of(found).facts.permits
    settled(turned(at, "price_book"))
    at.text_input(key="field book permits").set_value(f"{permits_usd + 1000.0:g} USD").run()
    settled(turned(at, "wishes"), leaving=("wishes",))
    assert not at.exception
    assert money(plan.cost_usd + 1000.0) in told(at)
    assert money(plan.cost_usd) not in told(at)


def test_a_value_that_is_no_price_is_said_beside_its_field():
    """A wrong price is refused in a sentence, and nothing can be priced until it is mended."""
    found = on_the_table(SMALL)
    at = opened(found, "price_book")
    at.text_input(key="field book permits").set_value("a lot").run()
    assert not at.exception
    assert [one for one in at.error if "a lot" in one.value]
    assert "The book is sound" not in told(at)
    turned(at, "options")
    assert "Nothing can be priced before that is corrected." in told(at)
    turned(at, "price_book").text_input(key="field book permits").set_value("350 USD").run()
    assert not at.error


def test_a_book_is_brought_and_saved_as_it_is(monkeypatch):
    """An uploaded book is on the table to the byte, and the file saved is that book."""
    caught = {}
    plain = DeltaGenerator.download_button

    def catching(self, label, data, file_name=None, *args, **changes):
        caught[changes.get("key")] = (file_name, data)
        return plain(self, label, data, file_name, *args, **changes)

    monkeypatch.setattr(DeltaGenerator, "download_button", catching)
    text = demo_text(DEMO_BOOK).replace("Demonstration price book", "A book of our own")
    assert text != demo_text(DEMO_BOOK)
    found = on_the_table(SMALL)
    at = opened(found, "price_book")
    assert caught["save book"] == (DEMO_BOOK, demo_text(DEMO_BOOK))
    at.file_uploader(key="book file").set_value(
        ("ours.toml", text.encode(), "application/toml")).run()
    at.button(key="use book").click().run()
    assert not at.exception
    assert not at.error
    assert (found.book_name, found.book_text) == ("ours.toml", text)
    assert caught["save book"] == ("ours.toml", text)
    settled(turned(at, "wishes"))
    assert "Prices from A book of our own" in told(at)


def test_the_books_text_can_be_written_in():
    """What is typed in the text of the book is the book; broken, it stays to be mended."""
    found = on_the_table(SMALL)
    at = opened(found, "price_book")
    at.text_area(key="book text").set_value("[book\n").run()
    assert not at.exception
    assert at.error
    assert at.text_area(key="book text").value == "[book\n"
    turned(turned(at, "wishes"), "price_book")
    assert at.text_area(key="book text").value == "[book\n"
    at.text_area(key="book text").set_value(demo_text(DEMO_BOOK)).run()
    assert not at.error
