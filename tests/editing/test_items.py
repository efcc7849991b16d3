"""Loads put into a file or taken out of it leave everything else as it was."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.editing.items import (
    DUCTED,
    MOVES_AIR,
    id_for,
    items,
    with_cells,
    with_items,
    without_items,
    without_rows,
)
from planner.editing.new_home import EMPTY_HOME
from planner.errors import Severity

SUBURBAN = (Path(__file__).parents[2] / "cases" / "suburban.toml").read_text("utf-8")
FILE = """\
# At the head.
[home]  # beside home
label = "A house"

[code]
added = ["a", "c"]  # beside added

[wishes]
never_before = [["a", "b"], ["c", "b"]]  # beside pairs

[[loads]]
id = "a"  # beside a
kind = "spa"
requires = ["b", "c"]

[[loads]]
id = "b"  # beside b
kind = "range"
not_with = ["a"]
[loads.use.every]
kind = "always"  # beside use

[[loads]]
id = "c"  # beside c
kind = "sump pump"
wait = "5 min"

[expected]  # at the end
cost = 1
"""
IDS = ("a", "b", "c")


def parsed(text):
    """The values of a text, without its order and comments."""
    return tomlkit.parse(text).unwrap()


def elsewhere(text, section="loads"):
    """Everything of a text but one section."""
    return {key: value for key, value in parsed(text).items() if key != section}


def lines_of(text):
    """Lines of a text that are not blank."""
    return [line for line in text.splitlines() if line.strip()]


def test_an_empty_home_is_a_home():
    """It reads without an error or a warning, and everything it has to say is a note."""
    home, findings = read_home_text(EMPTY_HOME, "new-home.toml")
    assert (home.id, home.label, len(home.loads), len(home.days)) == ("new-home", "New home", 1, 3)
    assert {one.severity for one in findings} <= {Severity.NOTE}
    assert sum(day.weight for day in home.days) == pytest.approx(1.0)


@pytest.mark.parametrize(("words", "taken", "name"), [
    ("Air fan", (), "air-fan"), ("Air fan", ("air-fan",), "air-fan-2"),
    ("A/C #1 (upstairs)", (), "a-c-1-upstairs"), ("--", ("item",), "item-2"), ("", (), "item"),
    ("pump", ("pump", "pump-2", "pump-4"), "pump-3")])
def test_an_id_is_made_of_words(words, taken, name):
    """Small letters, digits and dashes; a number where it is taken."""
    assert id_for(words, taken) == name


@given(st.text(), st.sets(st.sampled_from(["item", "item-2", "spa", "spa-2", "a", "b"])))
def test_an_id_is_never_taken(words, taken):
    """Whatever the words, nobody else has the id, and it is one that a file may have."""
    name = id_for(words, taken)
    assert name not in taken
    assert name
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")
    assert name.strip("-") == name


ROWS = st.lists(st.fixed_dictionaries({"kind": st.sampled_from(sorted(set(kinds()) - DUCTED))},
                                      optional={"label": st.text(max_size=8),
                                                "id": st.sampled_from([*IDS, "new"]),
                                                "importance": st.integers(0, 5),
                                                "must_run": st.booleans(),
                                                "size": st.sampled_from(["", "1 kW"]),
                                                "wait": st.none()}), max_size=5)


@given(ROWS, st.sampled_from([FILE, SUBURBAN, EMPTY_HOME]))
def test_added_loads_stand_behind_the_rest_and_change_nothing_else(rows, text):
    """Every line of the file stays in its order, the values too; ids stay unique."""
    added = with_items(text, "loads", rows)
    before, after = items(text, "loads"), items(added, "loads")
    assert after[:len(before)] == before
    assert elsewhere(added) == elsewhere(text)
    kept = iter(lines_of(added))
    assert all(line in kept for line in lines_of(text))
    ids = [row["id"] for row in after]
    assert len(set(ids)) == len(ids)
    for row, found in zip(rows, after[len(before):], strict=True):
        assert {key: value for key, value in found.items() if key != "id"} == {
            key: value for key, value in row.items() if key != "id" and value not in (None, "")}
        named = row.get("id") or row.get("label") or row["kind"]
        assert found["id"].startswith(id_for(named, ()))


def test_items_are_added_to_any_list_of_tables():
    """A section that is not there begins; nought and no are values, nothing and blank are none."""
    text = with_items("", "days", [{"label": "Hot day", "weight": 0.0, "low": ""}])
    assert parsed(text) == {"days": [{"id": "hot-day", "label": "Hot day", "weight": 0.0}]}
    text = with_items(text, "days", [{"must_run": False}])
    assert items(text, "days")[1] == {"id": "days", "must_run": False}
    assert "\n\n[[days]]" in text


@pytest.mark.parametrize("mover", sorted(MOVES_AIR))
@pytest.mark.parametrize("unit", sorted(DUCTED))
def test_a_ducted_unit_needs_the_only_air_mover(mover, unit):
    """Whichever comes first, and whether in one step or two; kinds of the library, both."""
    assert {mover, unit} <= set(kinds())
    for rows in ([mover, unit], [unit, mover]):
        together = with_items("", "loads", [{"kind": kind} for kind in rows])
        stepwise = with_items(with_items("", "loads", [{"kind": rows[0]}]), "loads",
                              [{"kind": rows[1]}])
        assert items(together, "loads") == items(stepwise, "loads")
        by_kind = {row["kind"]: row for row in items(together, "loads")}
        assert by_kind[unit]["requires"] == [by_kind[mover]["id"]]
        assert "requires" not in by_kind[mover]


def test_an_air_mover_is_not_guessed():
    """With two of them, none, a choice of the file's own, or no ducts: nothing is added."""
    two = with_items("", "loads", [{"kind": "air handler"}, {"kind": "gas furnace"},
                                   {"kind": "heat pump"}])
    none = with_items("", "loads", [{"kind": "heat pump"}])
    bare = with_items("", "loads", [{"kind": "air handler"}, {"kind": "ductless heat pump"}])
    assert all("requires" not in row for text in (two, none, bare) for row in items(text, "loads"))
    own = with_items("", "loads", [{"kind": "air handler"},
                                   {"kind": "heat pump", "requires": ["well"]}])
    assert items(own, "loads")[1]["requires"] == ["well"]
    days = with_items("", "days", [{"kind": "air handler"}, {"kind": "heat pump"}])
    assert all("requires" not in row for row in items(days, "days"))


PATHS = st.sampled_from([("kind",), ("wait",), ("use", "every", "kind"), ("use", "winter", "kind")])
CELLS = st.dictionaries(st.integers(0, 2), st.dictionaries(PATHS, st.text(max_size=5), max_size=3),
                        max_size=3)


@given(CELLS)
def test_changed_cells_are_as_given_and_all_else_stays(cells):
    """Every value given is in its place; other keys, items, sections and comments stay."""
    changed = with_cells(FILE, "loads", cells)
    wanted = parsed(FILE)["loads"]
    for row, changes in cells.items():
        for path, value in changes.items():
            here = wanted[row]
            for step in path[:-1]:
                here = here.setdefault(step, {})
            here[path[-1]] = value
    assert items(changed, "loads") == wanted
    assert elsewhere(changed) == elsewhere(FILE)
    touched = {line for line in lines_of(FILE) if line.startswith(("kind =", "wait ="))}
    kept = iter(lines_of(changed))
    assert all(line in kept for line in lines_of(FILE) if line not in touched)
    assert all(line.split("#")[1] in changed for line in lines_of(FILE) if "#" in line)


def test_none_takes_a_key_out():
    """A key goes without its table; one that is not there may be taken out too."""
    text = with_cells(FILE, "loads", {2: {("wait",): None, ("size",): None},
                                      1: {("use", "every", "kind"): None}})
    assert items(text, "loads")[2] == {"id": "c", "kind": "sump pump"}
    assert items(text, "loads")[1]["use"] == {"every": {}}
    assert with_cells(FILE, "loads", {0: {("wait",): None}}) == FILE


def test_taking_out_what_is_not_there_changes_nothing():
    """The way to a key that is not there is not built."""
    assert with_cells(FILE, "loads", {0: {("use", "every", "kind"): None}}) == FILE


@given(st.sets(st.sampled_from([*IDS, "nobody"])))
def test_removed_loads_are_forgotten_everywhere(leaving):
    """Neither requires, not_with, never_before nor added names them; the rest is as it was."""
    text = without_items(FILE, "loads", leaving)
    found = parsed(text)
    stay = [row for row in parsed(FILE)["loads"] if row["id"] not in leaving]
    for row in stay:
        for key in row.keys() & {"requires", "not_with"}:
            row[key] = [name for name in row[key] if name not in leaving]
    assert found.get("loads", []) == stay
    assert found["code"]["added"] == [name for name in ("a", "c") if name not in leaving]
    assert found["wishes"]["never_before"] == [
        pair for pair in [["a", "b"], ["c", "b"]] if not leaving & set(pair)]
    assert (found["home"], found["expected"]) == (parsed(FILE)["home"], parsed(FILE)["expected"])
    for comment in ("At the head.", "beside home", "beside added", "beside pairs", "at the end"):
        assert comment in text
    for name in IDS:
        assert (f"beside {name}" in text.replace("added", "")) == (name not in leaving)


@given(st.sets(st.integers(0, 2)))
def test_rows_go_like_the_ids_that_stand_in_them(rows):
    """By place or by id is the same where every item has an id of its own."""
    assert without_rows(FILE, "loads", rows) == without_items(FILE, "loads",
                                                              {IDS[row] for row in rows})


@pytest.mark.parametrize(("rows", "left"), [((0,), ["2", "3"]), ((1,), ["1", "3"]),
                                            ((0, 1), ["3"]), ((2,), ["1", "2"]), ((), list("123"))])
def test_of_two_items_with_one_id_the_right_one_goes(rows, left):
    """Where an id stands twice only the place can tell."""
    text = "".join(f'[[loads]]\nid = "{name}"\nsize = "{size}"\n'
                   for name, size in [("a", 1), ("a", 2), ("b", 3)])
    assert [row["size"] for row in items(without_rows(text, "loads", rows), "loads")] == left


@pytest.mark.parametrize("section", ["days", "panels"])
def test_only_removed_loads_are_forgotten(section):
    """A day that shares its id with a load takes nothing of the load with it."""
    text = FILE + f'\n[[{section}]]\nid = "a"\n[[{section}]]\nid = "z"\n'
    found = without_items(text, section, {"a"})
    assert elsewhere(found, section) == elsewhere(text, section)
    assert items(found, section) == [{"id": "z"}]


@pytest.mark.parametrize(("leaving", "stays", "goes"), [("a", "# About b", "# About a"),
                                                        ("b", "# About a", "# About b")])
def test_a_comment_above_an_item_goes_and_stays_with_it(leaving, stays, goes):
    """What is said above a load is said about that load."""
    text = '# About a\n[[loads]]\nid = "a"\n\n# About b\n[[loads]]\nid = "b"\n'
    found = without_items(text, "loads", {leaving})
    assert stays in found
    assert goes not in found


def test_comments_at_a_distance_stay():
    """A heading of a group and a comment about another section belong to no single item."""
    text = ('[[loads]]\nid = "a"\n\n# Large ones\n\n[[loads]]\nid = "b"\n'
            '[loads.use.every]\nkind = "always"\n\n# About the code\n[code]\nadded = ["b"]\n')
    assert without_rows(text, "loads", [0, 1]) == "# Large ones\n\n# About the code\n" \
        "[code]\nadded = []\n"
    assert without_items(text, "loads", {"b"}) == text[:text.index("[[loads]]\nid = \"b\"")] + \
        "# About the code\n[code]\nadded = []\n"


@pytest.mark.parametrize("text", [
    'loads = [{id = "a"}, {id = "b"}, {id = "c"}]\n',
    '[["loads"]]\nid = "a"\n[[ loads ]]  # odd\nid = "b"\n[[loads]]\nid = "c"\n',
    '[[loads]]\nid = "a"\ntext = """\n[[loads]]\n"""\n[[loads]]\nid = "b"\n[[loads]]\nid = "c"\n',
    '[[loads]]\r\nid = "a"\r\n\r\n# b\r\n[[loads]]\r\nid = "b"\r\n[[loads]]\r\nid = "c"',
    '[[loads]]\nid = "a"\n[home]\nx = 1\n[[loads]]\nid = "b"\n[[loads]]\nid = "c"\n'])
@given(rows=st.sets(st.integers(0, 2)))
def test_however_a_list_is_written_only_its_rows_go(text, rows):
    """Tables in one line, odd brackets, headers inside texts, any line ends: the same go."""
    found = without_rows(text, "loads", rows)
    kept = [row for place, row in enumerate(items(text, "loads")) if place not in rows]
    assert items(found, "loads") == kept
    assert elsewhere(found) == elsewhere(text)


def test_items_lists_what_the_file_has():
    """Tables of a section in their order; nothing where there is no list of tables."""
    assert [row["id"] for row in items(FILE, "loads")] == list(IDS)
    assert items(FILE, "days") == []
    assert items("loads = 3", "loads") == []
    assert items("loads = [1, {id = \"a\"}]", "loads") == [{"id": "a"}]


def test_tables_in_one_line_are_kept_when_one_is_added():
    """A list of tables in brackets is a list of tables too."""
    text = with_items('loads = [{id = "a"}]\n', "loads", [{"kind": "spa"}])
    assert [row["id"] for row in items(text, "loads")] == ["a", "spa"]
