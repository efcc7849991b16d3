"""What a file marks as assumed is known as assumed; nothing else is."""

from __future__ import annotations

from planner.case.marks import SOURCE, marked
from planner.case.read import read_home_text
from tests.case.files import HEAD, load_text

FRIDGE = load_text("fridge", "refrigerator")


def test_a_marked_value_is_assumed_and_told():
    """Of the house and of a load, with the table, the row's id and the key; the note says them."""
    text = HEAD.replace('service = "200 A"', 'service = "200 A" # assumed')
    text += load_text("well", "well pump", 'size = "1 hp"  # assumed')
    assert "# assumed" in text.partition("\n[code]")[0]
    home, findings = read_home_text(text, "it.toml")
    assert [(one.key, one.text, one.source) for one in home.assumed] == [
        ("home.service", "200 A", SOURCE), ("loads.well.size", "1 hp", SOURCE)]
    assert any("service 200 A; loads well size 1 hp" in one.sentence for one in findings)


def test_other_comments_and_texts_are_no_marks():
    """The words within a text, in a line of their own or with more behind them mark nothing."""
    text = (HEAD.replace('service = "200 A"', 'service = "200 A"  # assumed by nobody')
            + "# assumed\n" + load_text("odd", "refrigerator", 'label = "Fridge # assumed"'))
    home, _ = read_home_text(text, "it.toml")
    assert home.assumed == ()


def test_a_list_is_told_as_its_parts():
    """A value of several is shown without brackets."""
    found = marked('[home]\ntransfer = ["whole-house", "selected-circuits"]  # assumed\n')
    assert [one.text for one in found] == ["whole-house, selected-circuits"]


def test_a_whole_file_without_marks_has_none():
    """Nothing is made up."""
    assert marked(HEAD + FRIDGE) == ()
