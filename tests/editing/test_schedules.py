"""Panel schedules as people write them: loads where the words say so, a finding for what is odd."""

import codecs

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.editing.any_list import MOST_CHARACTERS, read_any, text_of_any
from planner.errors import CaseError, Severity

HEADER = "circuit,description,breaker,poles"
SCHEDULE = """\
1,A/C cond unit,40,2
2,Range,50,2
5,Kitchen recept,20,1
7,Kitchen recept #2,20,1
6,Bath GFCI,20,1
8,Bedroom ltg & recept,15,1
9,WH 40 gal,30,2
10,Fridge,20,1
13,Spare,20,1
14,Space,,
16,Furnace,15,1
"""
KINDS = ["central air conditioner", "electric water heater", "gas furnace", "kitchen receptacles",
         "lighting and receptacles", "range", "refrigerator"]


def kinds(listed):
    """Kinds of the loads, sorted."""
    return sorted(row["kind"] for row in listed.rows)


def row(listed, kind):
    """The one load of a kind."""
    one, = (row for row in listed.rows if row["kind"] == kind)
    return one


def read(rows, header=HEADER, **told):
    """Read rows under a header."""
    return read_any(f"{header}\n{rows}", "panel.csv", **told)


def said(listed, severity=Severity.WARNING):
    """Sentences of one severity."""
    return [f"{one.where}: {one.sentence} {one.remedy}".strip() for one in listed.findings
            if one.severity is severity]


def test_a_usual_schedule():
    """Each circuit is a load with its breaker and leg; lights are one load, spares are none."""
    listed = read(SCHEDULE)
    assert kinds(listed) == KINDS
    assert said(listed) == []
    assert row(listed, "range") == {"kind": "range", "label": "Range", "leg": "both",
                                    "breaker": "50 A", "positions": "2,4"}
    assert row(listed, "refrigerator")["leg"] == "L1"  # position 10: fifth row, as 9
    assert row(listed, "gas furnace")["leg"] == "L2"  # position 16: eighth row
    assert row(listed, "electric water heater")["size"] == "40 gal"
    notes = " ".join(said(listed, Severity.NOTE))
    assert "2 circuits of kitchen receptacles (lines 4, 5) are one load" in notes
    assert "2 circuits of lights and receptacles (lines 6, 7) are one load" in notes
    assert "2 spaces are spare" in notes


@settings(max_examples=20, deadline=None)
@given(order=st.permutations(range(4)), sign=st.sampled_from([",", ";", "\t", "|"]),
       words=st.sampled_from([("circuit", "description", "breaker", "poles"),
                              ("Ckt", "Serves", "Trip", "P"),
                              ("No.", "Load served", "Amps", "Poles")]))
def test_the_order_of_the_columns_their_words_and_their_sign_change_nothing(order, sign, words):
    """Any order, any of the usual headings, any of the usual signs: the same loads."""
    lines = [words, *(line.split(",") for line in SCHEDULE.splitlines())]
    text = "\n".join(sign.join(line[place] for place in order) for line in lines)
    assert read_any(text, "panel.csv").rows == read(SCHEDULE).rows


@pytest.mark.parametrize("second", ["3,do,,", '3,"""",,', "3,,,", "3,Dryer,30,", "3,ditto,30,"])
def test_two_rows_of_one_breaker_are_one_circuit(second):
    """Ditto, a blank or the same words at the position below belong to the row above."""
    listed = read(f"1,Dryer,30,2\n{second}\n")
    assert kinds(listed) == ["electric dryer"]
    assert row(listed, "electric dryer")["leg"] == "both"
    assert row(listed, "electric dryer")["breaker"] == "30 A"


@pytest.mark.parametrize(("content", "defect"), [
    (codecs.BOM_UTF8 + f"{HEADER}\n1,Fridge,20,1\n".encode(), "byte order mark"),
    (f"{HEADER}\r\n1,Fridge,20,1\r\n".encode("utf-16"), "UTF-16"),
    (f"{HEADER}\n1,Fridge – café,20,1\n".encode("cp1252"), "western code page"),
    (f"Panel A\n,,,\n\n{HEADER}\n\n1,Fridge,20,1\n".encode(), "title and blank lines"),
    (f"{HEADER}\n1,Fridge,20 A,1P\n".encode(), "units in the cells"),
    (f"{HEADER}\n1,Fridge,20A/1P,\n".encode(), "breaker and poles in one cell"),
])
def test_what_offices_write(content, defect):
    """The refrigerator on its 20 A breaker is found in every one."""
    listed = read_any(text_of_any(content, "panel.csv"), "panel.csv")
    assert kinds(listed) == ["refrigerator"], defect
    assert row(listed, "refrigerator")["breaker"] == "20 A", defect


@pytest.mark.parametrize(("rows", "sentence"), [
    ("1,Flux capacitor,20,1", 'no kind of appliance is called "flux capacitor"'),
    ("1,Range,40,1", '"Range" is on 1 pole, 120 V; as range it needs 2. Read as a gas range'),
    ("1,Septic grinder,20,1", "as grinder pump it needs 2. Read as a sewage ejector"),
    ("1,Electric water heater,15,1", "is on 1 pole, 120 V; as electric water heater it needs 2"),
    ("1,Electric water heater,15,2", "a 15 A breaker does not carry the 18.8 A"),
    ("1,Fridge,many,1", '"many" is no breaker'),
    ("one,Fridge,20,1", '"one" is no position of a panel'),
    ("1,Compressor in the shop,30,3", "three poles"),
    ("1,Lights,60,1", "too large for lights and receptacles"),
])
def test_what_is_odd_is_said_with_its_line(rows, sentence):
    """A warning names the line and what was found; nothing is dropped silently."""
    warned = said(read(f"{rows}\n"))
    assert any(sentence in one and "line 2" in one for one in warned), warned


def test_all_findings_come_at_once():
    """Three faults in one file are three warnings, and the sound circuit is a load."""
    listed = read("1,Flux capacitor,20,1\nx,Fridge,20,1\n5,Range,many,2\n")
    assert len(said(listed)) == 3
    assert kinds(listed) == ["range", "refrigerator"]


def test_what_the_file_is_can_be_told():
    """The header decides; told otherwise, a schedule is a list, and a list no schedule."""
    assert read(SCHEDULE).of_panel
    assert not read(SCHEDULE, form="list").of_panel
    assert not read_any("fridge\nrange\n").of_panel
    with pytest.raises(CaseError, match="no line names the columns"):
        read_any("fridge\nrange\n", form="panel-schedule")


@pytest.mark.parametrize("content", [
    bytes(range(256)) * 4000, HEADER.encode() + b"\n1,\x00\x01,20,1\n" + b"\xff\xfe\x81",
    f"{HEADER}\n{'x' * MOST_CHARACTERS}".encode()], ids=["binary", "hidden binary", "too large"])
def test_hostile_files_are_refused(content):
    """No text, or far too much of it: an error that says so, and no traceback."""
    with pytest.raises(CaseError):
        read_any(text_of_any(content, "panel.csv"), "panel.csv")
    with pytest.raises(CaseError, match="too large"):
        text_of_any(b"\x00" * (MOST_CHARACTERS + 1), "panel.csv")
