"""What becomes of an answer whose reader has left, that finds no room, or that nobody can get."""

from __future__ import annotations

import os

import pytest

from tests.cli.processes import BOOK, SIGNS_OF_A_CRASH, written_to

FULL = "/dev/full"
QUICK = (("check", "{home}"), ("check", "{home}", "--json"), ("demand", "{home}"),
         ("demand", "{home}", "--json"), ("--help",), ("plan", "--help"), ("--version",))
PRICED = tuple((command, "{home}", "--book", BOOK, *more, *form)
               for command, more in (("plan", ()), ("frontier", ()), ("compare", ()),
                                     ("explain", ()), ("simulate", ("--hours", 1, "--seeds", 1)))
               for form in ((), ("--json",)) if not form or command in {"plan", "frontier"})


@pytest.fixture
def without_reader():
    """The end of a pipe that nobody reads any more."""
    reader, writer = os.pipe()
    os.close(reader)
    yield writer
    os.close(writer)


@pytest.fixture
def full():
    """A file without any room left."""
    room = os.open(FULL, os.O_WRONLY)
    yield room
    os.close(room)


@pytest.fixture
def somewhere(tmp_path):
    """A file with room, and a function that reads what was written to it."""
    path = tmp_path / "answer"
    with path.open("wb") as stream:
        yield stream.fileno(), lambda: path.read_text("utf-8")


@pytest.fixture
def filled(home_file):
    """Put the home's path into arguments."""
    path = home_file()
    return lambda given: [path if one == "{home}" else one for one in given]


def quiet(said):
    """Whether nothing of the interpreter's inside was said."""
    return not any(sign in said for sign in SIGNS_OF_A_CRASH)


@pytest.mark.parametrize("given", QUICK + PRICED, ids=lambda given: " ".join(map(str, given)))
def test_a_reader_that_has_left_ends_it_quietly(filled, without_reader, given):
    """Code 141, as for any program in a pipe; nothing is said about it, in the middle or after."""
    code, said = written_to(without_reader, -1, *filled(given))
    assert code == 141
    assert quiet(said)
    assert "cannot be written" not in said


@pytest.mark.parametrize("given", [*QUICK, PRICED[2], PRICED[3]],
                         ids=lambda given: " ".join(map(str, given)))
def test_an_answer_without_room_is_a_sentence(filled, full, given):
    """Code 5 and what the system says, on standard error."""
    code, said = written_to(full, -1, *filled(given))
    assert code == 5
    assert quiet(said)
    assert said.splitlines()[-1] == (
        "The answer cannot be written to standard output: No space left on device.")


@pytest.mark.parametrize("given", QUICK, ids=lambda given: " ".join(map(str, given)))
def test_a_closed_standard_output_is_a_sentence(filled, given):
    """Nothing can be answered: that is said before anything is worked out."""
    assert written_to(None, -1, *filled(given)) == (
        5, "The answer cannot be written to standard output: it is closed.\n")


def test_findings_without_room_leave_the_answer_as_it_is(filled, full, somewhere):
    """What cannot be said on standard error, full or closed, is left out; the answer is whole."""
    place, written = somewhere
    answers = []
    for err in (-1, full, None):
        os.truncate(place, 0)
        os.lseek(place, 0, os.SEEK_SET)
        code, _ = written_to(place, err, *filled(("check", "{home}", "--json")))
        assert code == 0
        answers.append(written())
    assert answers[0].startswith("{")
    assert answers[1] == answers[2] == answers[0]


def test_a_failure_keeps_its_code_where_it_cannot_be_said(full, somewhere, tmp_path):
    """A home that is not there is code 2 with standard error full or closed."""
    for err in (full, None):
        code, _ = written_to(somewhere[0], err, "check", tmp_path / "nowhere.toml")
        assert code == 2


def test_with_both_closed_the_code_is_all_there_is(filled):
    """Nobody hears anything; the code still says that there is no answer."""
    assert written_to(None, None, *filled(("check", "{home}"))) == (5, "")


def test_a_file_that_is_opened_never_becomes_a_standard_stream(filled, somewhere):
    """With all streams closed at the start no file of ours gets their numbers and their text."""
    place, written = somewhere
    code, _ = written_to(place, None, *filled(("demand", "{home}")))
    assert code == 0
    assert "Calculated load" in written()
    assert "note:" not in written()
