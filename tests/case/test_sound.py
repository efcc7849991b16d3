"""A home or a price book read from text is the one that is read from its path."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.case.book.read import read_book, read_book_text
from planner.case.read import read_home, read_home_text
from planner.editing.items import with_cells, with_items
from planner.editing.new_home import EMPTY_HOME
from planner.errors import CaseError, Severity
from planner.wiring.checks import check_wiring

CASES = Path(__file__).parents[2] / "cases"
FILES = sorted(CASES.glob("*.toml"))
READERS = {
    "home": (read_home, read_home_text),
    "price book": (read_book, read_book_text),
}


def outcome(read, *arguments):
    """What reading leaves: its answer, or the message and findings of its refusal."""
    try:
        return read(*arguments)
    except CaseError as problem:
        return problem.message, problem.findings


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
@pytest.mark.parametrize("what", list(READERS))
def test_text_and_path_are_read_alike(path, what):
    """Every case, sound or broken, home or price book: the same answer, message and findings."""
    from_path, from_text = READERS[what]
    text = path.read_text("utf-8")
    assert outcome(from_text, text, path.name) == outcome(from_path, path)
    assert outcome(from_path, str(path)) == outcome(from_path, path)


def test_each_reader_answers_some_case_and_refuses_another():
    """The comparison above is about answers and about refusals."""
    for from_path, _ in READERS.values():
        kinds = {isinstance(outcome(from_path, path)[0], str) for path in FILES}
        assert kinds == {True, False}


@pytest.mark.parametrize("text", ["[home", "", "a = 1\na = 2", "\x00"])
@pytest.mark.parametrize("what", list(READERS))
def test_a_text_that_is_no_file_of_ours_is_refused_by_its_name(tmp_path, what, text):
    """What is no TOML, or says nothing, is refused as the file itself would be."""
    from_path, from_text = READERS[what]
    path = tmp_path / "odd.toml"
    path.write_bytes(text.encode("utf-8"))
    with pytest.raises(CaseError, match=r"odd\.toml") as caught:
        from_text(text, "odd.toml")
    assert caught.value.findings
    assert all(one.where.startswith("odd.toml") for one in caught.value.findings)
    assert outcome(from_path, path) == (caught.value.message, caught.value.findings)


def test_the_id_is_the_name_without_its_ending():
    """A text has the id that its file would have."""
    assert read_home_text(EMPTY_HOME, "our-house.toml")[0].id == "our-house"
    text = (CASES / "demo_price_book.toml").read_text("utf-8")
    assert read_book_text(text, "our-prices.toml")[0].id == "our-prices"


def two_pumps(**changes):
    """The text of an empty home with two pumps of which the second needs the first."""
    text = with_items(EMPTY_HOME, "loads", [
        {"id": "one", "kind": "sump pump"},
        {"id": "two", "kind": "sump pump", "requires": ["one"]}])
    return with_cells(text, "loads", {1: {(key,): value for key, value in changes.items()}})


def test_a_home_whose_wiring_contradicts_itself_is_not_sound():
    """Every table reads; the circle in its wiring is an error that names the file."""
    text = two_pumps(requires=["two"])
    with pytest.raises(CaseError) as caught:
        read_home_text(text, "house.toml")
    assert caught.value.message == "house.toml contradicts itself: 1 error."
    first = caught.value.findings[0]
    assert (first.severity, first.where) == (Severity.ERROR, "house.toml: load one: requires")


def test_several_contradictions_are_counted():
    """Two circles are two errors, said at once, ahead of all notes."""
    text = two_pumps(requires=["two"]).replace(
        "[wishes]", '[wishes]\nnever_before = [["one", "two"], ["two", "one"]]')
    with pytest.raises(CaseError, match=r"contradicts itself: 2 errors\.") as caught:
        read_home_text(text, "house.toml")
    severities = [one.severity for one in caught.value.findings]
    assert severities[:2] == [Severity.ERROR] * 2
    assert severities == sorted(severities, key=list(Severity).index)
    assert Severity.NOTE in severities


@pytest.mark.parametrize("path", [path for path in FILES
                                  if not path.name.startswith(("broken", "demo"))],
                         ids=lambda path: path.stem)
def test_a_sound_home_carries_what_file_and_wiring_say(path):
    """The findings of both, none lost, the wiring's under the name of the file, worst first."""
    home, findings = read_home(path)
    of_wiring = check_wiring(home)
    said = {(one.where, one.sentence) for one in findings}
    assert {(f"{path.name}: {one.where}", one.sentence) for one in of_wiring} <= said
    severities = [one.severity for one in findings]
    assert severities == sorted(severities, key=list(Severity).index)
    assert Severity.ERROR not in severities
