"""``planner new``: a list in everyday words becomes a home file that the other commands take."""

from __future__ import annotations

import io
from types import SimpleNamespace

import pytest

from planner.case.read import read_home
from tests.cli.processes import BOOK

WORDS = "central air, 3 ton\nelectric water heater, 50 gal\nwell pump 1 hp\n"


@pytest.fixture
def made(tmp_path, planner):
    """Write a list and run the command on it."""

    def make(text, *arguments):
        (tmp_path / "list.txt").write_text(text, "utf-8")
        return planner("new", tmp_path / "list.txt", *arguments)

    return make


def test_the_file_is_a_home_and_can_be_planned(made, planner, tmp_path):
    """It names its price book by a path that holds from where it stands, and `plan` takes it."""
    home_path = tmp_path / "house" / "home.toml"
    home_path.parent.mkdir()
    outcome = made(WORDS, "-o", home_path, "--book", BOOK, "--label", "Mill house")
    assert outcome.code == 0
    home, _ = read_home(home_path)
    assert home.label == "Mill house"
    assert [load.kind for load in home.loads] == [
        "lighting and receptacles", "central air conditioner", "electric water heater", "well pump"]
    assert home.price_book.resolve() == BOOK.resolve()
    assert "4 loads" in outcome.out
    assert f"planner check {home_path} --assumed".replace(" ", "") in "".join(outcome.out.split())
    assert planner("plan", home_path).code == 0


def test_what_was_assumed_is_shown_by_check(made, planner, tmp_path):
    """The house's values that nobody said stand in the table of assumed values and in the JSON."""
    home_path = tmp_path / "home.toml"
    made(WORDS, "-o", home_path)
    shown = planner("check", home_path, "--assumed")
    for part in ("New home", "service", "200 A", "marked in the file"):
        assert part in shown.out
    keys = {one["key"] for one in planner("check", home_path, "--json").data["assumed"]}
    assert {"home.service", "home.fuel", "panels.main.feeder", "days.hot.high"} <= keys


def test_without_a_name_it_goes_to_standard_output(made, tmp_path, planner):
    """Nothing but the file is there, so that it can be kept by a redirection."""
    outcome = made(WORDS)
    (tmp_path / "kept.toml").write_text(outcome.out, "utf-8")
    assert planner("check", tmp_path / "kept.toml").code == 0


def test_a_list_is_read_from_standard_input(planner, monkeypatch):
    """A dash stands for it."""
    given = SimpleNamespace(buffer=io.BytesIO(b"fridge\n"))
    monkeypatch.setattr("planner.cli.new.sys", SimpleNamespace(stdin=given))
    outcome = planner("new", "-", "--json")
    assert outcome.data["loads"] == ["lighting", "fridge"]
    assert outcome.data["written"] is None


def test_a_file_is_written_over_only_when_that_is_asked_for(made, tmp_path):
    """The sentence names the remedy, and the remedy works."""
    there = tmp_path / "home.toml"
    there.write_text("mine", "utf-8")
    refused = made(WORDS, "-o", there)
    assert refused.code == 2
    assert "--force" in refused.err
    assert there.read_text("utf-8") == "mine"
    assert made(WORDS, "-o", there, "--force").code == 0
    assert read_home(there)[0].label == "New home"


def test_what_was_not_understood_is_said_and_kept(made, tmp_path):
    """A warning with its line, and a comment in the file."""
    outcome = made(WORDS + "unicorn polisher\n", "-o", tmp_path / "home.toml")
    assert outcome.code == 0
    assert '"unicorn polisher" is not understood' in " ".join(outcome.err.split())
    assert "unicorn polisher" in (tmp_path / "home.toml").read_text("utf-8")
    assert "1 warning about the list" in outcome.out


@pytest.mark.parametrize(("arguments", "said"), [
    (("-o", "{}/nowhere/home.toml"), "cannot be written"),
    (("-o", "{}", "--force"), "cannot be written"),
    (("--book", "{}/no_book.toml"), "there is no such file")])
def test_a_path_that_does_not_work_is_a_sentence(made, tmp_path, arguments, said):
    """No directory, a directory, no such book: exit 2, nothing written."""
    outcome = made(WORDS, *(one.format(tmp_path) for one in arguments))
    assert outcome.code == 2
    assert said in outcome.err
    assert outcome.out == ""


def test_an_empty_list_is_a_sentence(made):
    """Nothing to make a home of."""
    assert made("\n\n").code == 2


def test_one_size_that_does_not_exist_loses_nothing_else(made, tmp_path):
    """It is left out with a warning that says what sizes there are; the other loads stay."""
    outcome = made("range 50 kW\nwell pump 1 hp\n", "-o", tmp_path / "home.toml")
    assert outcome.code == 0
    said = " ".join(outcome.err.split())
    assert '"50 kW" is no size of kind "range": sizes run from 7 to 24 kW.' in said
    home, _ = read_home(tmp_path / "home.toml")
    assert [load.kind for load in home.loads] == ["lighting and receptacles", "range", "well pump"]
