"""What is done in a table lands in the text of the file, there and nowhere else."""

from __future__ import annotations

import tomllib

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.ui.opening import CASES
from ui.edits import Cell, applied, rows_of
from ui.parts.sheets.book_cells import SECTIONS
from ui.parts.sheets.load_cells import DAY_CELLS, PANEL_CELLS, load_cells

HOME = """\
# the first line
[home]
label = "A house"  # beside a value

[wishes]
never_before = [["dryer", "fan"], ["range", "fan"]]

# above a load
[[loads]]
id = "fan"
label = "Fan"  # of the furnace
kind = "furnace blower"

[[loads]]
id = "dryer"
kind = "electric dryer"
size = "5 kW"  # from the nameplate
importance = 2
must_run = false
requires = ["fan"]

[[loads]]
id = "range"
label = "Range"
kind = "range"
not_with = ["dryer"]

# the last line
"""
CELLS = (
    Cell("label", "Load"), Cell("size", "Size"),
    Cell("kind", "Kind", "choice", options=("range", "electric dryer", "furnace blower")),
    Cell("importance", "Importance", "whole", low=0, high=5), Cell("must_run", "Must", "truth"),
    Cell("requires", "Needs", "list", options=("fan", "dryer", "range")),
    Cell("use/hours", "Hours", "number"),
)
FILES = tuple(sorted(CASES.glob("*.toml")))
COMMENTS = ("# the first line", "# beside a value", "# above a load", "# of the furnace",
            "# from the nameplate", "# the last line")
VALUES = {
    "label": st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=20),
    "size": st.sampled_from(["3 ton", "5 kW", "  4.5 kW ", '"quoted"', "back\\slash", "# sign"]),
    "kind": st.sampled_from(["range", "electric dryer"]),
    "importance": st.integers(0, 5),
    "must_run": st.booleans(),
    "requires": st.lists(st.sampled_from(["fan", "dryer", "range"]), unique=True, min_size=1),
    "use/hours": st.floats(0.0, 24.0),
}


def loads(text):
    """Read the loads of a file."""
    return tomllib.loads(text)["loads"]


def at(row, key):
    """Look up a cell's key in a row of the file."""
    for step in key.split("/"):
        row = row.get(step) if isinstance(row, dict) else None
    return row


def written(value):
    """Write a cell's value as the file has it: text without blanks around it, None if empty."""
    return (value.strip() or None) if isinstance(value, str) else value


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_no_edits_change_nothing(path):
    """Laying out any file of the cases and applying no edits gives the same text, to the byte."""
    text = path.read_text("utf-8")
    tables = {"loads": load_cells((), (), ()), "days": DAY_CELLS, "panels": PANEL_CELLS,
              **{section: cells for section, (_, cells) in SECTIONS.items()}}
    for section, cells in tables.items():
        rows = rows_of(text, section, cells)
        assert list(rows.columns) == [cell.key for cell in cells]
        for nothing in (None, {}, {"edited_rows": {}, "added_rows": [], "deleted_rows": []}):
            assert applied(text, section, cells, nothing) == text


def test_a_row_is_laid_out_as_the_file_has_it():
    """Each cell shows the file's value; what the file does not say is blank."""
    rows = rows_of(HOME, "loads", CELLS)
    assert list(rows["label"]) == ["Fan", "", "Range"]
    assert list(rows["size"]) == ["", "5 kW", ""]
    assert rows["importance"].isna().tolist() == [True, False, True]
    assert rows["importance"][1] == 2
    assert rows["must_run"].isna().tolist() == [True, False, True]
    assert not rows["must_run"][1]
    assert list(rows["requires"]) == [[], ["fan"], []]
    assert rows["use/hours"].isna().all()


def test_a_section_that_is_not_there_is_an_empty_table():
    """A file without the section gives no rows and takes new ones."""
    bare = '[home]\nlabel = "A house"\n'
    assert rows_of(bare, "loads", CELLS).empty
    new = applied(bare, "loads", CELLS, {"added_rows": [{"label": "Range", "kind": "range"}]})
    assert loads(new) == [{"id": "range", "label": "Range", "kind": "range"}]
    assert new.startswith(bare)


@settings(max_examples=150)
@given(row=st.integers(0, 2), key=st.sampled_from(sorted(VALUES)), data=st.data())
def test_an_edit_lands_in_its_cell_only(row, key, data):
    """The cell holds what was typed; all else stays, but for the comment beside an emptied cell."""
    value = data.draw(VALUES[key])
    new = applied(HOME, "loads", CELLS, {"edited_rows": {row: {key: value}}})
    before, after = tomllib.loads(HOME), tomllib.loads(new)
    assert at(after["loads"][row], key) == written(value)
    for cell in CELLS:
        for place in range(3):
            if (place, cell.key) != (row, key):
                assert at(after["loads"][place], cell.key) == at(before["loads"][place], cell.key)
    assert {name: part for name, part in after.items() if name != "loads"} == {
        name: part for name, part in before.items() if name != "loads"}
    gone = {(0, "label"): "# of the furnace"}.get((row, key)) if written(value) is None else None
    assert [one for one in COMMENTS if one not in new] == ([gone] if gone else [])


@settings(max_examples=100)
@given(st.dictionaries(st.integers(0, 2), st.fixed_dictionaries({}, optional=VALUES), max_size=3))
def test_edits_of_many_cells_are_edits_one_by_one(edits):
    """Edits together, in any order, say the same as each edit after the other."""
    together = applied(HOME, "loads", CELLS, {"edited_rows": edits})
    single = HOME
    for row, cells in reversed(edits.items()):
        for key, value in reversed(cells.items()):
            single = applied(single, "loads", CELLS, {"edited_rows": {row: {key: value}}})
    assert tomllib.loads(single) == tomllib.loads(together)


@pytest.mark.parametrize("nothing", [None, "", "   ", float("nan")])
def test_an_emptied_cell_says_nothing(nothing):
    """Emptying a cell takes the key out of the file; a neighbour stays."""
    new = applied(HOME, "loads", CELLS, {"edited_rows": {1: {"size": nothing}}})
    assert "size" not in loads(new)[1]
    assert loads(new)[1]["importance"] == 2


def test_a_row_that_is_taken_out_is_forgotten():
    """A deleted load vanishes from `requires`, `not_with` and the pairs of the wishes."""
    new = applied(HOME, "loads", CELLS, {"deleted_rows": [1]})
    assert [one["id"] for one in loads(new)] == ["fan", "range"]
    assert not loads(new)[1].get("not_with")
    assert tomllib.loads(new)["wishes"]["never_before"] == [["range", "fan"]]
    new = applied(HOME, "loads", CELLS, {"deleted_rows": [0]})
    assert not loads(new)[0].get("requires")
    assert not tomllib.loads(new)["wishes"]["never_before"]


def test_changes_additions_and_deletions_meet():
    """In one go: the change lands in its row, the other row leaves, the new one comes last."""
    new = applied(HOME, "loads", CELLS, {
        "edited_rows": {2: {"label": "Cooker"}, 1: {"importance": 4}}, "deleted_rows": [1],
        "added_rows": [{"kind": "electric dryer", "size": "4 kW", "requires": ["fan"]}]})
    assert loads(new) == [
        {"id": "fan", "label": "Fan", "kind": "furnace blower"},
        {"id": "range", "label": "Cooker", "kind": "range", "not_with": []},
        {"id": "electric-dryer", "kind": "electric dryer", "size": "4 kW", "requires": ["fan"]}]


@pytest.mark.parametrize("added", [{}, {"label": ""}, {"label": None, "must_run": None}])
def test_a_blank_row_is_no_load(added):
    """A new row without a word in it is not written."""
    assert applied(HOME, "loads", CELLS, {"added_rows": [added]}) == HOME


def test_ids_that_stand_twice_are_told_apart_by_place():
    """Deleting one of two loads with one id leaves the other."""
    twice = HOME.replace('id = "range"', 'id = "dryer"')
    new = applied(twice, "loads", CELLS, {"deleted_rows": [2]})
    assert [one["kind"] for one in loads(new)] == ["furnace blower", "electric dryer"]


def test_what_is_no_column_cannot_be_written():
    """A key that the table does not show never reaches the file."""
    new = applied(HOME, "loads", CELLS, {"edited_rows": {0: {"id": "hall"}},
                                         "added_rows": [{"id": "x", "colour": "red"}]})
    assert tomllib.loads(new) == tomllib.loads(HOME)
