"""Lists and schedules in the writing of families and trades: read, or said, never misread."""

import pytest

from planner.case.read import read_home_text
from planner.editing.any_list import read_any, text_of_any
from planner.editing.new_home import new_home_text
from planner.errors import CaseError, Severity

HEADER = "circuit,description,breaker,poles"


def rows(text, *keys):
    """These keys of each load of a list."""
    return [tuple(row.get(key) for key in keys) for row in read_any(text, "it").rows]


def notes(text):
    """Notes about a list."""
    return " ".join(f"{one.sentence} {one.remedy}" for one in read_any(text, "it").findings
                    if one.severity is Severity.NOTE)


@pytest.mark.parametrize(("words", "size"), [
    ("Condenser 3T", "3 ton"), ("AC 42k", "3.5 ton"), ("A/C 2.5 T", "2.5 ton"),
    ("mini split 12k btu", "1 ton"), ("Fridge 42k", None), ("Lights 3T", None)])
def test_short_sizes_count_beside_a_word_for_cooling(words, size):
    """3T is 3 ton and 42k is 42 kBtu/h, in a list and in a schedule, but of no other load."""
    assert rows(f"{words}\n", "size") == [(size,)]
    if size:
        assert rows(f"{HEADER}\n1,{words},40,2\n", "size") == [(size,)]


@pytest.mark.parametrize("words", ["Old A/C (disconnected)", "Dryer - not used", "Spa, abandoned",
                                   "Range removed", "Freezer (out of service)"])
def test_what_is_not_in_use_is_no_load(words):
    """It is left out with a note, in a list and in a schedule."""
    for text in (f"{words}\nfridge\n", f'{HEADER}\n1,"{words}",40,2\n5,Fridge,20,1\n'):
        assert rows(text, "kind") == [("refrigerator",)]
        assert "not in use" in notes(text)


def test_two_sides_on_one_row():
    """Left side and right side are two descriptions: both halves of the panel are read."""
    text = ("Circuit,Left side,Amps,Circuit,Right side,Amps\n1,Range,50/2,2,Well,20/2\n"
            "5,Lts,15,6,Fridge,20\n")
    assert sorted(rows(text, "kind")) == [("lighting and receptacles",), ("range",),
                                          ("refrigerator",), ("well pump",)]


@pytest.mark.parametrize("sign", ["\t", ",", ";"])
def test_a_lone_quotation_mark_is_a_ditto(sign):
    """It opens no quoted cell, so the rows below it are still circuits."""
    lines = [HEADER.split(","), ["8", "Well pump", "20", "2"], ["10", '"', "", ""],
             ["1", "Fridge", "20", "1"], ["3", "Range", "50", "2"], ["5", '"', "", ""]]
    text = "\n".join(sign.join(line) for line in lines)
    assert sorted(rows(text, "kind", "positions")) == [
        ("range", "3,5"), ("refrigerator", "1"), ("well pump", "8,10")]


@pytest.mark.parametrize("form", ["utf-16-le", "utf-16-be"])
def test_utf_16_without_its_mark_is_read(form):
    """As a schedule and as a list; what then still holds zeros is refused with a remedy."""
    for text in ("ckt;serves;trip;poles\n1;Range;50;2\n", "range\nfridge\n"):
        assert text_of_any(text.encode(form), "it") == text
    with pytest.raises(CaseError) as refused:
        text_of_any(b"range\0\nfridge\n", "it")
    assert refused.value.findings[0].remedy == "Save it as UTF-8."


@pytest.mark.parametrize("cell", ["2-30", "30/2", "2/30", "30-2", "30A 2P"])
def test_poles_and_amperes_in_one_cell_under_c_b(cell):
    """C/B heads breakers; poles stand ahead of the amperes or behind them."""
    found, = rows(f"ckt,serves,C/B\n1,Dryer,{cell}\n", "leg", "breaker")
    assert found == ("both", "30 A")


def test_a_line_about_the_house_is_of_the_house():
    """Area and service are read; its furnace counts only if no other line names one."""
    first = "Hendersons - 2400 sq ft ranch, built 1994, nat gas furnace\n200 amp service\n"
    home, _ = read_home_text(new_home_text(read_any(f"{first}furnace w/ blower\nAC\n"), "H"), "h")
    assert (home.floor_area_ft2, home.service_a) == (2400.0, 200.0)
    assert "floor_area" not in str([one.key for one in home.assumed])
    assert sorted(load.kind for load in home.loads if "furnace" in load.kind) == ["gas furnace"]
    assert ("gas furnace",) in rows(first, "kind")
    assert rows("heated floor 500 sq ft\n", "kind") == [("radiant floor heat",)]


@pytest.mark.parametrize(("line", "kind", "breaker"), [
    ("hot tub 50 amp", "spa", "50 A"), ("dryer 30A", "electric dryer", "30 A"),
    ("range 15 amp", "range", None)])
def test_amperes_of_what_comes_in_none_are_its_breaker(line, kind, breaker):
    """Unless such a breaker does not carry it: then they are left out with a warning."""
    assert rows(f"{line}\n", "kind", "breaker", "size") == [(kind, breaker, None)]
    read_home_text(new_home_text(read_any(f"{line}\n"), "Home"), "home.toml")


@pytest.mark.parametrize(("line", "label"), [
    ("AC (4 ton, 2006?)", "AC (2006?)"), ("well pump (1 hp)", "Well pump"),
    ("oxygen concentrator (Mom)", "Oxygen concentrator (mom)")])
def test_labels_keep_their_brackets(line, label):
    """A bracket that is open in a name is closed in it."""
    assert rows(f"{line}\n", "label") == [(label,)]


@pytest.mark.parametrize(("words", "kind"), [
    ("Kit SABC", "kitchen receptacles"), ("Lndry", "clothes washer"), ("CU-1", None),
    ("W.H.", "electric water heater"), ("HWT", "electric water heater"),
    ("Heat pump o/d unit", "heat pump"), ("Septic grinder", "grinder pump"),
    ("Circ pumps", "hot water recirculation pump")])
def test_abbreviations_of_the_trade(words, kind):
    """Each is one load of the kind that is meant."""
    poles = 1 if kind in ("kitchen receptacles", "clothes washer", "hot water recirculation pump"
                          ) else 2
    assert rows(f"{HEADER}\n1,{words},20,{poles}\n", "kind")[0][0] in (
        kind, "central air conditioner" if kind is None else kind)


def test_washer_and_dryer_are_two_and_decorations_none():
    """W/D is a washer and a dryer; lights of a season are of the lights of the house."""
    assert rows("W/D 30A\n", "kind", "breaker") == [("clothes washer", None),
                                                    ("electric dryer", "30 A")]
    text = "lights, tvs, plugs\n- Christmas lights\n- 2 fridges\n"
    assert rows(text, "kind") == [("lighting and receptacles",), ("television",),
                                  ("refrigerator",), ("refrigerator",)]
    assert "of the lights of the house" in notes(text)


@pytest.mark.parametrize("line", ["sub-panel in barn", "guest house", "shop feeder"])
def test_a_feeder_is_said_to_feed_a_panel(line):
    """No load by itself: what is in that panel is asked for."""
    listed = read_any(f"{line}\nfridge\n")
    assert any("it feeds another panel" in one.sentence for one in listed.findings)
    assert len(listed.not_read) == 1
