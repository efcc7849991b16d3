"""Files that are no home, of every sort: each is refused in a sentence, at once."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home, read_home_text
from planner.case.text import MOST_BYTES, parse_toml, read_text
from planner.editing.items import items, with_items
from planner.editing.values import edited
from planner.errors import CaseError
from tests.case.files import HEAD, load_text

HOME = HEAD + load_text("it", "range")
DEEP = {
    "2,000 brackets": "x = " + "[" * 2000 + "]" * 2000,
    "2,000 brackets that are not closed": "x = " + "[" * 2000,
    "2,000 inline tables": "x = " + "{a = " * 2000 + "1" + "}" * 2000,
    "a dotted key of 5,000 parts": ".".join("a" * 5000) + " = 1",
    "a dotted key of 5,000 quoted parts": ".".join(["'a b'"] * 5000) + " = 1",
    "a header of 5,000 parts": f"[{'.'.join('a' * 5000)}]",
    "a header of 5,000 parts for a list": f"[[{'.'.join('a' * 5000)}]]",
    "a dotted key of 400,000 parts": ".".join("a" * 400_000) + " = 1",
    "a dotted key in an inline table": "x = {y = 1, " + ".".join("a" * 5000) + " = 1}",
    "brackets in an array of lines": "x = [\n" * 300 + "]\n" * 300,
}
SHALLOW = {
    "brackets in a text": 'x = "' + "[" * 2000 + '"',
    "brackets in a text of many lines": 'x = """\n' + "[\n" * 2000 + '"""',
    "brackets in a literal text": "x = '''\n" + "{[\n" * 2000 + "'''",
    "brackets in a comment": "# " + "[" * 2000,
    "dots in a text": 'x = "' + "a." * 2000 + '"',
    "marks of quotation in a text": r'x = "\"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[" # "[[[[[[[[[[[[[[[[',
    "many short lists": "x = [" + "[1], " * 2000 + "]",
    "many fractions": "x = [" + "1.5, " * 2000 + "]",
    "sixteen levels": "x = " + "[" * 16 + "]" * 16,
}


def refused(act, *arguments):
    """Do what must be refused within seconds, and give the refusal."""
    start_s = time.perf_counter()
    with pytest.raises(CaseError) as refusal:
        act(*arguments)
    assert time.perf_counter() - start_s < 5.0
    assert refusal.value.exit_code == 2
    assert len(str(refusal.value)) < 2000
    return refusal.value


@pytest.mark.parametrize("what", DEEP)
def test_what_nests_deeper_than_any_home_is_refused(tmp_path, what):
    """By the readers and by the editors alike, with the line and what is allowed."""
    path = tmp_path / "deep.toml"
    path.write_text(f"# first\n{DEEP[what]}\n", encoding="utf-8")
    for act, *arguments in [(read_home, path), (read_book, path),
                            (items, path.read_text("utf-8"), "loads"),
                            (with_items, path.read_text("utf-8"), "loads", [{"kind": "range"}]),
                            (edited, path.read_text("utf-8"), {("x",): 1})]:
        refusal = refused(act, *arguments)
        assert "goes too deep" in refusal.findings[0].sentence
        assert "At most 16 levels" in refusal.findings[0].remedy
        assert "line " in refusal.findings[0].sentence


@pytest.mark.parametrize("what", SHALLOW)
def test_brackets_that_do_not_nest_are_read(what):
    """In texts and comments they mean nothing; side by side they are no levels."""
    assert isinstance(parse_toml(SHALLOW[what] + "\n", "flat.toml"), dict)


@pytest.mark.parametrize(("lines", "where"), [
    ('label = "{}"', "home: label"), ('price_book = "{}"', "home: price_book")])
def test_a_name_of_thousands_of_characters_is_refused(lines, where):
    """The finding quotes its beginning and says how long it may be."""
    text = HOME.replace('label = "A house for a test"', lines.format("n" * 3000))
    if "label" not in lines:
        text = text.replace("[home]\n", '[home]\nlabel = "A house"\n')
    refusal = refused(read_home_text, text, "long.toml")
    finding = refusal.findings[0]
    assert finding.where == f"long.toml: {where}"
    assert finding.sentence.startswith('"nnnnnnnn')
    assert "3,000 characters" in finding.sentence
    assert "At most " in finding.remedy


def test_the_character_0_is_refused_in_texts_and_paths(tmp_path):
    """In the file as it is, written as an escape, and in a path."""
    path = tmp_path / "zero.toml"
    path.write_text(HOME.replace("A house", "A\\u0000house"), encoding="utf-8")
    assert "holds the character 0" in refused(read_home, path).findings[0].sentence
    path.write_bytes(HOME.replace("A house", "A\0house").encode())
    assert "this is not TOML" in refused(read_home, path).findings[0].sentence
    assert "character 0" in str(refused(read_home, tmp_path / "a\0b.toml"))


def test_a_path_that_no_system_takes_is_refused(tmp_path):
    """A name of 300 characters, and a path of thousands; messages repeat a part of it."""
    assert "File name too long" in str(refused(read_home, tmp_path / ("n" * 300)))
    refused(read_home, tmp_path / "/".join(["n" * 200] * 60))
    refused(read_home, tmp_path / "house.toml" / "x" / "y.toml")


def test_a_price_book_of_300_characters_is_not_there(tmp_path):
    """The home is sound, and what it names is refused as a file."""
    path = tmp_path / "house.toml"
    path.write_text(HOME.replace("[home]\n", f'[home]\nprice_book = "{"n" * 300}.toml"\n'),
                    encoding="utf-8")
    book = read_home(path)[0].price_book
    assert "File name too long" in str(refused(read_book, book))


def test_devices_and_pipes_are_refused_without_being_read(tmp_path):
    """An endless device, one that gives nothing, a pipe that nobody writes to."""
    os.mkfifo(tmp_path / "pipe.toml")
    for path in (Path("/dev/zero"), Path("/dev/null"), tmp_path / "pipe.toml"):
        assert "this is a device or a pipe" in str(refused(read_home, path))


def test_a_file_that_may_not_be_read_is_refused(tmp_path, monkeypatch):
    """What the system says is said, whatever it is."""
    path = tmp_path / "locked.toml"
    path.write_text(HOME, encoding="utf-8")

    def deny(*_):
        raise PermissionError(13, "Permission denied", str(path))

    monkeypatch.setattr("planner.importing.content.os.open", deny)
    assert "it cannot be read (Permission denied)" in str(refused(read_home, path))


def test_a_file_that_becomes_a_pipe_after_the_look_at_it_does_not_hang(tmp_path, monkeypatch):
    """It is opened without waiting and gives nothing."""
    os.mkfifo(tmp_path / "pipe.toml")
    plain = tmp_path / "plain.toml"
    plain.write_text(HOME, encoding="utf-8")
    looked_at = plain.stat()
    monkeypatch.setattr(Path, "stat", lambda *_, **__: looked_at)
    assert read_text(tmp_path / "pipe.toml") == ""


def test_a_file_larger_than_any_home_is_refused(tmp_path):
    """Its size is bounded; a file just at the bound is read."""
    path = tmp_path / "large.toml"
    text = HOME + "# " + "x" * (MOST_BYTES - len(HOME) - 3) + "\n"
    path.write_text(text, encoding="utf-8")
    assert path.stat().st_size == MOST_BYTES
    assert read_home(path)[0].loads
    path.write_text(text + "\n", encoding="utf-8")
    refusal = refused(read_home, path)
    assert "too large" in refusal.findings[0].sentence
    assert "1,000,000 bytes" in refusal.findings[0].remedy
    refused(edited, text + "\n", {("home", "label"): "x"})


def test_an_editors_mark_at_the_beginning_is_read_over(tmp_path):
    """A home, a book and an edit take a file with a byte-order mark; what is edited has none."""
    path = tmp_path / "marked.toml"
    path.write_text("\ufeff" + HOME, encoding="utf-8")
    assert path.read_bytes()[:3] == b"\xef\xbb\xbf"
    assert read_home(path)[0].label == "A house for a test"
    book = Path(__file__).parents[2].joinpath("cases/demo_price_book.toml").read_text("utf-8")
    path.write_text("\ufeff" + book, encoding="utf-8")
    assert read_book(path)[0].generators
    text = edited("\ufeff# mine\n" + HOME, {("home", "label"): "Changed"})
    assert text.startswith("# mine\n[home]")
    assert 'label = "Changed"' in text
    assert not with_items("\ufeff" + HOME, "loads", [{"kind": "range"}]).startswith("\ufeff")
    assert items("\ufeff" + HOME, "loads") == items(HOME, "loads")


def test_utf_16_is_said_to_be_no_text(tmp_path):
    """What some editors call Unicode is not what is read; the remedy says so."""
    path = tmp_path / "wide.toml"
    path.write_text(HOME, encoding="utf-16")
    refusal = refused(read_home, path)
    assert "Save it as UTF-8" in refusal.findings[0].remedy
