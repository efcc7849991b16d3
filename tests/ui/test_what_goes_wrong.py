"""What goes wrong: bad files are refused in sentences, markup is text, nothing typed is lost."""

from __future__ import annotations

import tomllib

import pytest

from planner.errors import NoPlanError, NotFoundError
from tests.ui.opening import (
    PAGES,
    keys,
    left,
    markup,
    on_the_table,
    opened,
    said,
    settled,
    told,
    turned,
    unescaped,
    visitor,
)
from ui import answers
from ui.demos import DEMO_BOOK, demo_text
from ui.parts.sheets.ways_to_begin import MOST_BYTES

SMALL = "gas_heated_small.toml"
NASTY = (":material/home:", ":rocket:", ":streamlit:", "<script>alert(1)</script>",
         "![x](http://example.invalid/b.png)", ":red[x]", "$x$", "**b**", "[a](http://example.invalid)",
         "`code`", "# head", "&lt;b&gt;", "~~gone~~")
TOO_LARGE = b"# " + b"x" * MOST_BYTES
BAD_FILES = {
    "too large": (TOO_LARGE, "is too large"),
    "not UTF-8": (b"\xff\xfe\x00\x80", "is not a text file"),
    "not TOML": (b"[home\nlabel = 3", "is not a home or price book file"),
}


def uploaded(at, key, name, content):
    """Hand a file to the page."""
    at.get("file_uploader")
    at.file_uploader(key=key).set_value((name, content, "application/toml")).run()
    return at


@pytest.mark.parametrize("what", BAD_FILES)
@pytest.mark.parametrize(("page", "key", "button"), [
    ("home", "home file", "open file"), ("price_book", "book file", "use book")])
def test_a_bad_file_is_refused(what, page, key, button):
    """The reason stands in a sentence, no button takes the file, the table stays as it is."""
    content, words = BAD_FILES[what]
    found = on_the_table(SMALL)
    before = (found.home_text, found.book_text)
    at = uploaded(opened(found, page), key, "brought.toml", content)
    assert not at.exception
    assert [one for one in at.error if "brought.toml" in unescaped(one.value)]
    assert what == "not TOML" or words in told(at)
    assert button not in keys(at)
    assert (found.home_text, found.book_text) == before


def test_a_price_book_in_place_of_a_home_is_said_to_be_none():
    """A price book opened as a home draws every page, says what is missing, and can be left."""
    found = on_the_table(SMALL)
    before, job = found.home_text, found.keeper.job.id
    at = uploaded(opened(found), "home file", DEMO_BOOK, demo_text(DEMO_BOOK).encode())
    at.button(key="open file").click().run()
    assert not at.exception
    assert at.error
    for page in PAGES:
        assert not turned(at, page).exception, page
    turned(at, "jobs").button(key=f"open {job}").click().run()
    assert visitor(at).home_text == before
    assert not turned(at, "home").error


def test_a_home_in_place_of_a_price_book_is_said_to_be_none():
    """A home used as the price book: every page says that nothing can be priced, none fails."""
    found = on_the_table(SMALL)
    at = uploaded(opened(found, "price_book"), "book file", SMALL, demo_text(SMALL).encode())
    at.button(key="use book").click().run()
    assert not at.exception
    assert at.error
    turned(at, "wishes")
    assert not at.exception
    assert "Nothing can be priced before that is corrected." in told(at)
    turned(at, "price_book").button(key="demo book").click().run()
    assert found.book_text == demo_text(DEMO_BOOK)
    assert not at.error


def nasty_text():
    """A sound home whose every label is markup of some sort."""
    lines, number = [], 0
    for line in demo_text(SMALL).splitlines():
        if line.startswith("label = "):
            lines.append(f"label = '''{NASTY[number % len(NASTY)]} {number}'''")
            number += 1
        else:
            lines.append(line)
        if line.startswith("id = ") and "[[loads]]" in lines[-2]:
            lines.append(f"label = '''{NASTY[number % len(NASTY)]} {number}'''")
            number += 1
    found, seen = [], False
    for line in lines:  # one label to a load
        if line.startswith("[["):
            seen = False
        if line.startswith("label = ") and seen:
            continue
        seen = seen or line.startswith("label = ")
        found.append(line)
    return "\n".join(found) + "\n"


@pytest.mark.parametrize("page", PAGES)
def test_markup_in_a_name_is_text(page):
    """No page lets the name of the home or of a load be read as markup; they stand as typed."""
    found = on_the_table("nasty.toml", nasty_text())
    at = settled(opened(found, page))
    assert not at.exception
    assert any(name in said(at) for name in NASTY) or page == "price_book"
    days = {day["label"] for day in tomllib.loads(found.home_text)["days"]}
    texts = [text for text in markup(at) if text not in days]
    assert [text for text in texts if any(name in text for name in NASTY[:10])] == []


@pytest.mark.parametrize("page", PAGES)
def test_days_and_loads_of_one_label_are_told_apart(page):
    """Every page is drawn; where days or loads are listed, both have a name of their own."""
    text = demo_text(SMALL)
    for old in tomllib.loads(text)["days"]:
        text = text.replace(f'label = "{old["label"]}"', 'label = "A day"')
    text = text.replace('id = "refrigerator"\n', 'id = "refrigerator"\nlabel = "Cold"\n')
    text = text.replace('label = "Kitchen receptacles"', 'label = "Cold"')
    days = [day["id"] for day in tomllib.loads(text)["days"]]
    assert text.count('"A day"') == len(days) > 1
    assert text.count('"Cold"') == 2
    at = settled(opened(on_the_table("twins.toml", text), page))
    assert not at.exception
    if page in ("options", "outage"):
        assert all(f"A day ({name})" in told(at) for name in days)
    if page in ("home", "wishes", "options", "outage"):
        assert all(f"Cold ({name})" in said(at) for name in ("refrigerator", "kitchen"))


def test_markup_in_a_price_book_is_text():
    """Names of sets and the notice of the book are shown as typed wherever prices are."""
    book = demo_text(DEMO_BOOK)
    name, notice = "**16 kW** <b>set</b> :red[x]", "![x](http://example.invalid/b.png) $5$"
    lines = book.splitlines()
    place = next(n for n, line in enumerate(lines) if line.startswith("label") and n > 20)
    lines[place] = f'label = "{name}"'
    place = next(n for n, line in enumerate(lines) if line.startswith("notice"))
    lines[place] = f'notice = "{notice}"'
    found = on_the_table(SMALL)
    found.open_book("nasty.toml", "\n".join(lines))
    at = opened(found)
    for page in ("wishes", "options", "outage", "price_book", "family"):
        settled(turned(at, page))
        assert not at.exception, page
        assert notice in told(at), page
        assert [text for text in markup(at) if name in text or notice in text] == [], page


@pytest.mark.parametrize("page", ["wishes", "options", "outage", "family"])
def test_a_mistake_of_the_engine_is_a_sentence(page, monkeypatch):
    """Whatever the engine raises, the page says so in words and draws the rest of itself."""

    def stumble(*args, **changes):
        raise RuntimeError("a wheel came off")

    for name in ("recommend", "frontier", "plan_of_size", "everything_direct"):
        monkeypatch.setattr(answers, name, stumble)
    found = on_the_table(SMALL)
    at = settled(opened(found, page))
    assert not at.exception
    assert "A mistake of the planner, not yours" in told(at)
    assert "a wheel came off" in told(at)
    assert "Before anyone acts on this" in told(at)
    assert found.home_text == demo_text(SMALL)


@pytest.mark.parametrize(("problem", "head", "words"), [
    (NoPlanError("Nothing serves it."), "No plan is possible yet", "Nothing in the price book can"),
    (NotFoundError("Nothing was found."), "No plan was found yet", "It is not known whether")])
def test_the_family_is_not_told_that_something_is_impossible_that_was_only_not_found(
        problem, head, words, monkeypatch):
    """Impossible is what is proven to be."""

    def refuse(*args, **changes):
        raise problem

    monkeypatch.setattr(answers, "recommend", refuse)
    at = settled(opened(on_the_table(SMALL), "family"))
    assert not at.exception
    assert head in told(at)
    assert words in told(at)


def test_what_was_typed_outlives_a_page_change_and_an_error():
    """Goal, wishes, list and fields are as they were typed after other pages and after an error."""
    found = on_the_table(SMALL)
    at = opened(found)
    at.text_input(key="field home altitude").set_value("2345 ft").run()
    at.text_input(key="field home service").set_value("much").run()
    assert at.error
    turned(at, "wishes")
    assert not at.exception
    turned(at, "home")
    assert at.text_input(key="field home altitude").value == "2345 ft"
    assert at.text_input(key="field home service").value == "much"
    at.text_input(key="field home service").set_value("100 A").run()
    assert not at.error
    assert 'altitude = "2345 ft"' in found.home_text
    settled(turned(at, "options"))
    at.number_input(key="coverage typed").set_value(77.5).run()
    settled(turned(turned(at, "price_book"), "wishes"))
    assert at.number_input(key="coverage typed").value == 77.5
    assert at.slider(key="coverage slide").value == 77.5
    left(found)


def test_a_file_that_is_no_toml_any_more_is_kept_and_can_be_mended():
    """Text that breaks the file stays in its box on every page, until it is mended there."""
    found = on_the_table(SMALL)
    at = opened(found)
    broken = found.home_text.replace('[home]', "[home", 1)
    at.text_area(key="home text").set_value(broken).run()
    for page in PAGES:
        turned(at, page)
        assert not at.exception, page
        assert page in ("price_book", "jobs") or at.error, page
    turned(at, "home")
    assert at.text_area(key="home text").value == broken
    at.text_area(key="home text").set_value(demo_text(SMALL)).run()
    assert not at.error
    assert found.home_text == demo_text(SMALL)
