"""Whatever a text holds, reading and editing it ends in a text, or in a refusal with findings."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.case.book.read import read_book_text
from planner.case.read import read_home_text
from planner.editing.items import items, with_cells, with_items, without_items, without_rows
from planner.editing.lists import read_list
from planner.editing.new_home import EMPTY_HOME, assumed_follow
from planner.editing.values import edited, marked_assumed
from planner.errors import CaseError

PIECES = [
    "[home]", "[code]", "[wishes]", "[limits]", "[book]", "[[loads]]", "[[days]]", "[[panels]]",
    "[[generators]]", "[loads.use.summer]", "[home.label]", "[a.b.c]", "[a.'b']", "[[a.b]]",
    'label = "x"', 'id = "a"', 'id = "b"', "id = 3", 'service = "200 A"  # assumed',
    'feeder = "200 A" # assumed', 'season = "summer"', 'high = "90 degF" # assumed',
    'summer_design = "95 degF"', 'home.label = "y"', 'kind = "furnace blower"',
    'kind = "heat pump"', 'requires = ["a"]', "requires = 3", 'not_with = [["a"]]',
    'never_before = [["a", "b"], 3]', "never_before = 5", 'added = ["a"]', "loads = 5",
    "loads = []", "loads = [1, {id = 'a'}, {id = 'b'}]", "days = [{id = 'hot', season = 'summer'}]",
    "home = 3", "home = {label = 'z', service = '1 A'}", "wishes = [1]", "code = ''",
    'a.b.c.d = {e.f = 1, g = [{h = 2}]}', "x = 1979-05-27T07:32:00Z", "x = 07:32:00",
    'x = """\n[[loads]]\n"""', "x = '''a'''", "# a comment", "", '"" = 1', "'a b' = 2", "\t",
    "use.every = {kind = 'always'}", "ratings = 3", "ratings.propane = 4", "x = inf", "x = 0xff",
    "ids = [\n  1, # one\n  2,\n]",
]
TOML = st.lists(st.sampled_from(PIECES), max_size=14).map("\n".join)
LINES = Path(__file__).parents[2].joinpath("cases/suburban.toml").read_text("utf-8").splitlines()


@st.composite
def spoiled_homes(draw):
    """A home of the cases with some lines taken out, put elsewhere or replaced."""
    lines = list(LINES)
    for _ in range(draw(st.integers(1, 4))):
        place = draw(st.integers(0, len(lines) - 1))
        lines[place:place + draw(st.integers(0, 3))] = draw(st.lists(
            st.one_of(st.sampled_from(PIECES), st.sampled_from(LINES)), max_size=2))
    return "\n".join(lines)


TEXTS = st.one_of(spoiled_homes(), st.text(max_size=60), TOML, TOML,
                  st.text('[]{}=.,"\'#\n ab1_-\\', max_size=60), TOML.map("\ufeff{}".format))
SECTIONS = st.sampled_from(["loads", "days", "panels", "generators", "a", "home", "x"])
KEYS = st.sampled_from(["home", "loads", "wishes", "a", "b", "id", "label", "x", "c", "use", "1"])
PATHS = st.lists(KEYS, min_size=1, max_size=4).map(tuple)
VALUES = st.one_of(st.none(), st.text(max_size=5), st.integers(-3, 10**30), st.booleans(),
                   st.floats(allow_nan=False), st.lists(st.text(max_size=3), max_size=2))
ROWS = st.lists(st.dictionaries(st.sampled_from(["id", "label", "kind", "size", "x"]),
                                VALUES, max_size=3), max_size=3)


def is_toml(text):
    """Whether a parser that is not ours takes the text."""
    try:
        tomllib.loads(text)
    except tomllib.TOMLDecodeError:
        return False
    return True


def refused(act, *arguments):
    """Do something with a text: what came of it, or None where it was refused with findings."""
    try:
        return act(*arguments)
    except CaseError as refusal:
        if not refusal.findings or not refusal.message:
            raise AssertionError("a refusal without findings") from refusal
        return None


settled = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))


@settled
@given(TEXTS, st.dictionaries(PATHS, VALUES, max_size=2))
def test_values_of_any_text_are_changed_or_refused(text, changes):
    """What comes out is TOML again; without changes it says what it said before."""
    found = refused(edited, text, changes)
    assert found is None or is_toml(found)
    same = refused(edited, text, {})
    assert same is None or tomllib.loads(same) == tomllib.loads(text.removeprefix("\ufeff"))


@settled
@given(TEXTS, SECTIONS, ROWS, st.sets(st.integers(0, 4)),
       st.dictionaries(st.integers(0, 3), st.dictionaries(PATHS, VALUES, max_size=2), max_size=2))
def test_items_of_any_text_are_listed_added_changed_and_taken_out(text, section, rows, out, cells):
    """Each way gives TOML, or a refusal; places beyond the list are no places."""
    count = len(refused(items, text, section) or [])
    there = {row for row in out if row < count}
    for found in (refused(with_items, text, section, rows),
                  refused(without_rows, text, section, there),
                  refused(without_items, text, section, {"a", "b"}),
                  refused(with_cells, text, section,
                          {row: change for row, change in cells.items() if row < count}),
                  refused(assumed_follow, text)):
        assert found is None or is_toml(found)
    assert isinstance(marked_assumed(text), frozenset)
    left = refused(without_rows, text, section, there)
    assert left is None or len(items(left, section)) == count - len(there)


@settled
@given(TEXTS)
def test_any_text_is_a_home_a_book_a_list_or_refused(text):
    """No reader of text raises anything but its refusal."""
    for read in (read_home_text, read_book_text, read_list):
        refused(read, text, "the file")


@settled
@given(st.lists(st.sampled_from(PIECES), max_size=6).map("\n".join))
def test_a_home_with_something_odd_behind_it_can_still_be_edited_or_is_refused(odd):
    """The new home with any pieces behind it."""
    text = f"{EMPTY_HOME}\n{odd}\n"
    found = refused(edited, text, {("home", "label"): "Changed", ("loads", "lighting", "x"): 1})
    assert found is None or 'label = "Changed"' in found


@pytest.mark.parametrize(("text", "path"), [
    ("home = 3", ("home", "label")), ("loads = [1]", ("loads", "a", "x")),
    ("home = 'label'", ("home", "label")), ("[home]\nlabel = 1", ("home", "label", "x")),
    ("[[0.0]]\n[0]\n[0.0.0]", ("x",)), ("x = " + "[" * 300 + "]" * 300, ("x",)),
])
def test_a_change_that_leads_nowhere_is_refused_in_a_sentence(text, path):
    """What stands in the way, or the way of writing, is named; nothing is written over."""
    with pytest.raises(CaseError) as refusal:
        edited(text, {path: "new"}, file="odd.toml")
    assert refusal.value.findings[0].where.startswith("odd.toml")
    assert refusal.value.findings[0].remedy


def test_a_table_that_is_written_on_one_line_can_take_another_in():
    """A new inner table is written on that line too."""
    text = edited("home = { a = 1 }", {("home", "b", "c"): 2})
    assert tomllib.loads(text) == {"home": {"a": 1, "b": {"c": 2}}}
