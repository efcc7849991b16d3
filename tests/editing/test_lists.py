"""A list of loads is read as estimators have it; nothing that stands in it is lost in silence."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.case.book.read import read_book
from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.editing.items import with_items
from planner.editing.lists import COLUMNS, MOST_ROWS, TEMPLATE, read_list
from planner.editing.new_home import EMPTY_HOME
from planner.errors import CaseError, Severity
from planner.search.cheapest import cheapest_of
from planner.search.problem import problems_of

BOOK = read_book(Path(__file__).parents[2] / "cases" / "demo_price_book.toml")[0]
AIR = {"kind": "central air conditioner", "size": "3 ton", "label": "Upstairs"}


def said(listed):
    """Findings as (severity, where, sentence)."""
    return [(one.severity, one.where, one.sentence) for one in listed.findings]


@pytest.mark.parametrize("separator", [",", ";", "\t", ", ", " ; "])
@pytest.mark.parametrize("start", ["", "\ufeff", "\n\n", "\ufeff  \n"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
def test_a_table_is_read_with_any_separator(separator, start, end):
    """Commas, semicolons, tabs; a byte order mark, blank lines, other line ends do not matter."""
    rows = [("Kind", "SIZE", "Label"), ("central air", "3 ton", "Upstairs"), ("fridge", "", "")]
    text = start + end.join(separator.join(row) for row in rows) + end
    listed = read_list(text)
    assert listed.rows == (AIR, {"kind": "refrigerator"})
    assert listed.findings == ()


def test_columns_stand_in_any_order_and_cells_between_quotation_marks():
    """A comma inside quotation marks belongs to the cell, a doubled mark is one."""
    listed = read_list(
        'label, kind ,Size\n"AC, upstairs", central air,3 ton\n "6"" fan",attic fan,\n')
    assert listed.rows == (
        {"label": "AC, upstairs", "kind": "central air conditioner", "size": "3 ton"},
        {"label": '6" fan', "kind": "attic fan"})
    assert listed.findings == ()


def test_a_short_row_leaves_its_last_cells_empty():
    """A row may end early; an empty cell is no key."""
    assert read_list("kind,size,label,wait\nrange,12 kW\n").rows == ({"kind": "range",
                                                                      "size": "12 kW"},)


def test_whole_numbers_and_yes_or_no_are_values():
    """Importance is a number, must_run true or false; what is neither stays as it is."""
    text = "kind,importance,must run,size\n" + "".join(
        f"range,{importance},{must_run},5\n" for importance, must_run in
        [("4", "yes"), ("05", "N"), ("high", "perhaps"), ("-1", "X"), ("", "TRUE"), ("3", "0")])
    assert [(row.get("importance"), row.get("must_run")) for row in read_list(text).rows] == [
        (4, True), (5, False), ("high", "perhaps"), ("-1", True), (None, True), (3, False)]
    assert {row["size"] for row in read_list(text).rows} == {"5"}


def test_an_unknown_column_is_an_error_and_the_others_are_read():
    """It is named with what was perhaps meant, or with all that there are."""
    listed = read_list("kind,siez,colour of the door\nrange,12 kW,red\n", "house.csv")
    assert listed.rows == ({"kind": "range"},)
    assert said(listed) == [
        (Severity.ERROR, "house.csv: header", 'there is no column "siez".'),
        (Severity.ERROR, "house.csv: header", 'there is no column "colour_of_the_door".')]
    assert "size" in listed.findings[0].remedy
    assert all(column in listed.findings[1].remedy for column in COLUMNS)


def test_a_row_with_too_many_cells_is_an_error():
    """It says how many were found; what stands under a heading is read."""
    listed = read_list("kind,size\nrange,12 kW\nrange,12,000 W\n")
    assert said(listed) == [
        (Severity.ERROR, "the list: line 3", "3 cells found, 2 columns named.")]
    assert "quotation marks" in listed.findings[0].remedy
    assert len(listed.rows) == 2


def test_an_unknown_kind_is_a_warning_with_what_looks_like_it():
    """The row stays, so that a kind can be chosen; the line is counted with the header."""
    listed = read_list("kind,size\nfridge,\nrefrigeratr,\nqqqqzzzz,1 kW\n")
    assert [row["kind"] for row in listed.rows] == ["refrigerator", "refrigeratr", "qqqqzzzz"]
    assert said(listed) == [
        (Severity.WARNING, "the list: line 3", 'no kind of appliance is called "refrigeratr".'),
        (Severity.WARNING, "the list: line 4", 'no kind of appliance is called "qqqqzzzz".')]
    assert listed.findings[0].remedy.startswith("Perhaps refrigerator")
    assert listed.findings[1].remedy == "Use another word for it."


def test_a_row_without_a_kind_is_named():
    """A kind that is missing is no kind."""
    listed = read_list("size,kind\n3 ton,\n12 kW\n")
    assert listed.rows == ({"size": "3 ton", "kind": ""}, {"size": "12 kW", "kind": ""})
    assert [where for _, where, _ in said(listed)] == ["the list: line 2", "the list: line 3"]


def test_without_a_header_every_line_is_a_load():
    """Lines as on a note pad; what is not understood stays in sight, with its line."""
    listed = read_list("time machine\ncentral air, 3 ton\n\n  fridge  \n")
    assert listed.rows == (
        {"kind": "central air conditioner", "label": "Central air", "size": "3 ton"},
        {"kind": "refrigerator", "label": "Fridge"})
    assert [where for _, where, _ in said(listed)] == ["the list: line 1"]
    assert listed.not_read == ("line 1: time machine",)


def test_several_alike_on_a_line_are_rows_of_their_own():
    """Each counts among the loads that are taken, each unknown one is found on its line."""
    listed = read_list("2 fridges\n3 hair dryers\ntime machine\n")
    assert [row["kind"] for row in listed.rows] == [
        *["refrigerator"] * 2, *["hair dryer"] * 3]
    assert [where for _, where, _ in said(listed)] == ["the list: line 3"]
    assert len(read_list("3 fridges\n" * (MOST_ROWS // 3)).rows) == MOST_ROWS
    with pytest.raises(CaseError, match="too long"):
        read_list("3 fridges\n" * (MOST_ROWS // 3 + 1))


@pytest.mark.parametrize("text", ["", "\ufeff", " \n\t\n", "\r\n\r\n"])
def test_an_empty_list_is_refused(text):
    """It is named, with an example of what to write."""
    with pytest.raises(CaseError, match=r"house\.csv is empty") as caught:
        read_list(text, "house.csv")
    assert "central air, 3 ton" in caught.value.findings[0].remedy


def test_a_header_alone_is_a_list_of_nothing():
    """Columns were named and no load: no row, and nothing wrong with it."""
    assert read_list("kind,size\n") == read_list("kind\n")
    assert read_list("kind\n").rows == ()


def test_a_list_that_is_far_too_long_is_refused():
    """The most that is taken is taken; one more is refused with both numbers."""
    assert len(read_list("kind\n" + "fridge\n" * MOST_ROWS).rows) == MOST_ROWS
    with pytest.raises(CaseError, match="too long") as caught:
        read_list("kind\n" + "fridge\n" * (MOST_ROWS + 1))
    assert str(MOST_ROWS) in caught.value.findings[0].sentence


def test_the_template_is_read_without_findings_and_can_be_planned():
    """Every row is of a known kind, gives no warning in an empty home, and a plan keeps it all."""
    listed = read_list(TEMPLATE)
    assert listed.findings == ()
    assert len(listed.rows) == len(TEMPLATE.splitlines()) - 1
    assert set(TEMPLATE.splitlines()[0].split(",")) <= set(COLUMNS)
    home, findings = read_home_text(with_items(EMPTY_HOME, "loads", listed.rows), "new.toml")
    assert len(home.loads) == len(listed.rows) + 1
    assert {one.severity for one in findings} <= {Severity.NOTE}
    assert [load.id for load in home.loads if load.must_run] == ["kitchen-refrigerator",
                                                                  "sump-pump"]
    plan = cheapest_of(problems_of(home, BOOK), home, BOOK, 1.0)
    assert plan is not None
    assert plan.coverage == pytest.approx(1.0)


def test_every_column_is_a_key_of_a_load():
    """What a column is called is what the file calls it: a full row is read as a load."""
    cells = {"kind": "well pump", "size": "1 hp", "label": "Well", "leg": "both",
             "running": "8 A", "locked_rotor": "40 A", "mca": "10 A", "power_factor": "0.8",
             "code_letter": "G", "motor": "1 hp", "nameplate": "2 kVA", "year": "2010",
             "eer": "11", "breaker": "50 A", "wait": "5 min",
             "importance": "5", "must_run": "no", "room": "Cellar", "comfort": "running-water"}
    assert tuple(cells) == COLUMNS
    listed = read_list(f"{','.join(cells)}\n{','.join(cells.values())}\n")
    assert listed.rows == (
        {**cells, "year": 2010, "eer": 11.0, "importance": 5, "must_run": False},)


WORDS = st.text(st.characters(exclude_categories=("Cc", "Cs", "Zl", "Zp"), exclude_characters='"'),
                min_size=1, max_size=40).filter(lambda words: any(map(str.isalnum, words)))


@given(st.lists(WORDS, min_size=1, max_size=8), st.sampled_from([",", ";", "\t"]))
def test_any_words_make_a_row_a_line(lines, separator):
    """Whatever stands on a line of a table, it gives one row; a kind that is none a warning.

    Without a header it is read without a failure, and every row is of a kind that there is.
    """
    filled = "\n".join(line.replace(" ", separator) for line in lines)
    listed = read_list(f"kind{separator}size\n{filled}")
    assert len(listed.rows) == len(lines)
    unknown = [row for row in listed.rows if row["kind"] not in kinds()]
    assert len([one for one in listed.findings if one.severity is Severity.WARNING
                and "is called" in one.sentence]) == len(unknown)
    assert all(row["kind"] in kinds() for row in read_list(filled.lstrip("\ufeff")).rows)


@given(st.text(st.characters(exclude_categories=("Cs",))), st.sampled_from(["", "kind,size\n"]))
def test_any_text_is_read_or_refused(text, header):
    """Quotation marks that do not match, control signs, bare line ends: rows or a finding."""
    try:
        read_list(header + text)
        found = True
    except CaseError as problem:
        found = bool(problem.findings)
    assert found


@pytest.mark.parametrize(("cell", "row"), [
    ("central air;3 ton;AC, upstairs", {**AIR, "label": "AC, upstairs"}),
    ("central air;3 ton, or so;Upstairs", {**AIR, "size": "3 ton, or so"})])
def test_the_header_tells_what_stands_between_cells(cell, row):
    """A comma in a cell of a table with semicolons is a comma."""
    assert read_list(f"kind;size;label\n{cell}\n").rows == (row,)


def test_lines_are_counted_as_in_the_file():
    """Blank lines count: the finding names the line that an editor shows."""
    for text in ("kind\n\n\nqqqqzzzz\n", "\n\n\nfridge qqqqzzzz, zzqqzz\n"):
        assert [where for _, where, _ in said(read_list(text))] == ["the list: line 4"]


def test_a_superscript_is_no_importance():
    """A sign that only looks like a digit stays as it is, for the reader of the file to refuse."""
    assert read_list("kind,importance\nrange,\u00b2\n").rows == (
        {"kind": "range", "importance": "\u00b2"},)


@pytest.mark.parametrize("text", [f"kind\n{'x' * 140_000}\n", f"kind{'x' * 140_000}\nrange\n"])
def test_a_line_without_end_is_refused_or_read(text):
    """A text that is no list at all is no fault of the planner."""
    try:
        found = len(read_list(text).rows) > 0
    except CaseError as problem:
        found = bool(problem.findings)
    assert found


def test_line_ends_of_every_kind_are_line_ends():
    """Carriage returns alone end a line too."""
    for text in ("kind,size\rrange,12 kW\rfridge,\r", "range 12 kW\rfridge\r"):
        assert [row["kind"] for row in read_list(text).rows] == ["range", "refrigerator"]


def test_a_cell_under_no_heading_is_not_lost_in_silence():
    """A column without a name that holds something is an error; one that is blank is nothing."""
    assert read_list("kind,,size\nrange,,12 kW\n").findings == ()
    assert [one.severity for one in read_list("kind,,size\nrange,hello,12 kW\n").findings] == [
        Severity.ERROR]


def test_a_line_break_inside_quotation_marks_belongs_to_the_cell():
    """A load whose label stands on two lines is one load."""
    rows = read_list('kind,label\nfridge,"Old\nfridge"\n').rows
    assert [row["kind"] for row in rows] == ["refrigerator"]


def test_a_row_of_empty_cells_is_no_load():
    """Spreadsheets write blank rows, and a blank column at the end, as separators."""
    listed = read_list("kind,size,\nfridge,,\n,,\n")
    assert listed.rows == ({"kind": "refrigerator"},)
    assert listed.findings == ()


def test_a_list_without_a_header_has_the_same_limit():
    """At most so many loads are taken, with a header or without."""
    with pytest.raises(CaseError, match="too long"):
        read_list("fridge\n" * (MOST_ROWS + 1))


def test_the_house_and_what_its_people_say_are_no_appliances():
    """Neither becomes a load; what the house is like is read."""
    listed = read_list('house 1,700 sqft, 150 A service\nfridge\n'
                       '"We want heat, and to cook one meal"')
    assert [row["kind"] for row in listed.rows] == ["refrigerator"]
    assert [where for _, where, _ in said(listed)] == ["the list: line 1"]
    assert "floor area 1700 ft^2; service 150 A" in listed.findings[0].sentence


def test_what_may_be_several_things_and_what_is_not_planned_is_asked():
    """The warning says what to write, the note why not; what may be several stays in sight."""
    listed = read_list("tankless\nsolar panels\nhome battery\nEV charger 50 A\n")
    assert [row["kind"] for row in listed.rows] == ["vehicle charger"]
    assert listed.not_read == ("line 1: tankless",)
    assert [where for _, where, _ in said(listed)] == [f"the list: line {n}" for n in (1, 2, 3, 4)]
    assert "gas tankless" in listed.findings[0].remedy
    assert all("not planned" in one.sentence for one in listed.findings[1:3])
    assert "80 %" in listed.findings[3].sentence
