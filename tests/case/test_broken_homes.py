"""Each broken home is refused with the findings that it expects: all of them, and no other."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from planner.case.read import read_home
from planner.errors import CaseError, Severity

CASES = Path(__file__).parents[2] / "cases"
BROKEN = sorted(path for path in CASES.glob("broken_*.toml") if "price_book" not in path.name)


def test_there_are_broken_homes():
    """Enough kinds of defect are covered, each in a file named after it."""
    assert len(BROKEN) >= 12


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_home_is_refused_with_all_its_findings(path):
    """The findings begin as the file expects, one for one, in order; exit code 2."""
    expected = tomllib.loads(path.read_text(encoding="utf-8"))["expected"]["findings"]
    with pytest.raises(CaseError) as refusal:
        read_home(path)
    found = [str(f).removeprefix(f"error: {path.name}: ") for f in refusal.value.findings
             if f.severity is Severity.ERROR]
    assert len(found) == len(expected)
    for sentence, beginning in zip(found, expected, strict=True):
        assert sentence.startswith(beginning)
        assert len(beginning) > 20
    assert refusal.value.exit_code == 2


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_finding_speaks_no_program(path):
    """No word of a parser, a class or a type reaches the reader."""
    with pytest.raises(CaseError) as refusal:
        read_home(path)
    said = str(refusal.value).lower()
    for word in ("pydantic", "nonetype", "dict", "traceback", "validation", "input_value", "str "):
        assert word not in said


def test_files_that_are_no_home_are_refused(tmp_path):
    """A missing file, a directory, bytes and broken TOML each give one plain finding."""
    garbled = tmp_path / "garbled.toml"
    garbled.write_bytes(b"\xff\xfe\x00")
    broken = tmp_path / "broken.toml"
    broken.write_text("[home\nlabel = 3", encoding="utf-8")
    for path, words in [(tmp_path / "none.toml", "there is no such file"),
                        (tmp_path, "this is a directory"),
                        (garbled, "this is not a text file"), (broken, "this is not TOML")]:
        with pytest.raises(CaseError, match=words) as refusal:
            read_home(path)
        assert len(refusal.value.findings) == 1


def test_an_empty_file_asks_for_its_tables(tmp_path):
    """Every table that a home needs is asked for at once."""
    path = tmp_path / "empty.toml"
    path.write_text("", encoding="utf-8")
    with pytest.raises(CaseError) as refusal:
        read_home(path)
    wheres = [finding.where for finding in refusal.value.findings]
    assert wheres == [f"empty.toml: {key}" for key in ("home", "code", "panels", "days", "loads")]
