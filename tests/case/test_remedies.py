"""Every finding of a file is brought about, read, and mended by doing what it says."""

from __future__ import annotations

import ast
from collections import Counter
from pathlib import Path

import pytest

from planner.case.book.read import read_book_text
from planner.case.read import read_home_text
from planner.errors import CaseError
from planner.physics.demand import calculated_load
from tests.case.defects import BOOK, HOME, edited
from tests.case.defects_of_books import OF_BOOKS
from tests.case.defects_of_homes import OF_HOMES
from tests.case.defects_of_portables import OF_PORTABLES
from tests.case.defects_of_sheets import OF_SHEETS

ROOT = Path(__file__).parents[2]
MAKERS = {"error", "warning", "note", "refuse", "doubt", "Finding", "_error", "Refused",
          "UnitError"}
ELSEWHERE = {
    # of the file as a whole, in tests/case/test_broken_homes.py and test_any_file.py
    "this is a directory", "this is a device or a pipe", "there is no such file",
    "it cannot be read", "no file is called so", "this is not a text file", "goes too deep",
    "this is not TOML", "has thousands of digits", "it is too large",
    # of files beside a home, in tests/importing
    "days, and the highest demand of", "intervals have no reading", "readings came twice",
    "only the text of the home is at hand, so the file is not read", "and made.epw has",
    "); it counts as it stands.", "the days count as they stand.",
    "by the weather file: it never runs.",
}


LEFT = {
    "medical equipment must not depend on a generator alone.":
        "nothing in the file takes it away: the backup stands beside the bed",
    "a load is not_with itself.":
        "said before in other words (it names the load itself); the graph's own is in tests/wiring",
}
"""Words of a finding that no edit of a file brings about or takes away, and why."""


def findings(read, text):
    """How often each finding is made of a text: severity, place, sentence, remedy."""
    try:
        made = read(text, "house.toml")[1]
    except CaseError as problem:
        made = problem.findings
    return Counter((str(one.severity), one.where.removeprefix("house.toml: "), one.sentence,
                    one.remedy) for one in made)


def assert_mended(read, sound, defect):
    """The defect makes its finding and no other; the remedy, carried out, leaves none."""
    broken = edited(sound, defect.broken)
    ((severity, where, sentence, remedy), count), = findings(read, broken).items()
    assert (severity, where, count) == (defect.severity, defect.where, 1)
    assert defect.sentence in sentence
    assert remedy.startswith(defect.remedy)
    assert not findings(read, edited(broken, defect.mended))


@pytest.mark.parametrize("defect", OF_HOMES, ids=str)
def test_a_home_is_mended_by_what_its_finding_says(defect):
    """One finding for one defect, and none once its remedy has been carried out."""
    assert_mended(read_home_text, HOME, defect)


@pytest.mark.parametrize("defect", [*OF_BOOKS, *OF_PORTABLES], ids=str)
def test_a_price_book_is_mended_by_what_its_finding_says(defect):
    """One finding for one defect, and none once its remedy has been carried out."""
    assert_mended(read_book_text, BOOK, defect)


def read_sheet(text, name):
    """Read a home, and give its calculated load with the findings."""
    sheet = calculated_load(read_home_text(text, name)[0])
    return sheet, sheet.findings


@pytest.mark.parametrize("defect", OF_SHEETS, ids=str)
def test_a_sheet_is_mended_by_what_its_finding_says(defect):
    """The same for the calculated load by code of the home."""
    assert_mended(read_sheet, HOME, defect)


def test_all_are_sound():
    """Nothing is said of the home, its sheet and the book that the defects are put into."""
    assert not findings(read_sheet, HOME)
    assert not findings(read_home_text, HOME)
    assert not findings(read_book_text, BOOK)


def words_of(node):
    """The longest run of words in a text that is written out, wholly or in part; empty if none."""
    texts = [part.value for part in ast.walk(node)
             if isinstance(part, ast.Constant) and isinstance(part.value, str)]
    return max(texts, key=len, default="").strip()


def sentences_in_the_source():
    """(file, line, words) of every sentence that a finding of a file can be made of."""
    rooms = [ROOT / "planner" / name for name in ("case", "wiring")]
    files = [path for room in rooms for path in room.rglob("*.py") if path.parent.name != "library"]
    files.append(ROOT / "planner" / "units.py")
    for path in files:
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call):
                name = getattr(node.func, "id", getattr(node.func, "attr", ""))
                place = {"Finding": 2, "Refused": 0, "UnitError": 0}.get(name, 1)
                if name in MAKERS and len(node.args) > place and words_of(node.args[place]):
                    yield path.relative_to(ROOT).as_posix(), node.lineno, words_of(node.args[place])


def test_no_finding_lacks_its_defect():
    """Every sentence in the source is brought about by some defect, or by a test named above."""
    said = [key[2] for read, sound, defects in (
                (read_home_text, HOME, OF_HOMES),
                (read_book_text, BOOK, (*OF_BOOKS, *OF_PORTABLES)))
            for defect in defects for key in findings(read, edited(sound, defect.broken))]
    missing = [one for one in sentences_in_the_source()
               if not any(one[2] in sentence for sentence in said) and one[2] not in LEFT
               and not any(one[2] in text or text in one[2] for text in ELSEWHERE)]
    assert missing == []
    assert len(list(sentences_in_the_source())) > 80

