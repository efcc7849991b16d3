"""Homes that name a weather file: what they leave out comes from it, what they say stays."""

from __future__ import annotations

import pytest

import planner
from planner.case.read import read_home, read_home_text
from planner.editing.new_home import EMPTY_HOME
from planner.errors import CaseError, Severity
from tests.cli.processes import BOOK
from tests.importing.years import year

HOME = """\
[home]
label = "Mill house"
[weather]
file = "made.epw"
[[loads]]
id = "air"
kind = "central air conditioner"
size = "3 ton"
"""
DAY = '[[days]]\nid = "{0}"\nseason = "{0}er"\nweight = 1\nlow = "{1} degF"\nhigh = "{2} degF"\n'


def read(tmp_path, home=HOME, weather=None):
    """Read a home with a weather file beside it."""
    (tmp_path / "made.epw").write_text(year() if weather is None else weather, "utf-8")
    path = tmp_path / "home.toml"
    path.write_text(home, "utf-8")
    return read_home(path)


def said(findings, word):
    """The findings that hold a word."""
    return [one for one in findings if word in one.sentence]


def test_a_home_takes_what_it_leaves_out(tmp_path):
    """Days, design temperatures, altitude (300 m = 984 ft), each with its source, and weights.

    Of `tests.importing.years`: 100, 100 and 165 of 365 days (derived).
    """
    home, findings = read(tmp_path)
    assert (home.summer_degf, home.winter_degf, home.altitude_ft) == (86.0, 28.4, 984.0)
    assert [(day.id, day.season, day.low_degf, day.high_degf) for day in home.days] == [
        ("hot", "summer", 68.0, 104.0), ("cold", "winter", -4.0, 32.0),
        ("between", "mild", 48.2, 62.6)]
    assert [day.weight for day in home.days] == pytest.approx([100 / 365, 100 / 365, 165 / 365])
    sources = {one.key: one.source for one in home.assumed}
    for key in ("home.summer_design", "home.winter_design", "home.altitude", "days"):
        assert sources[key].startswith("made.epw, Millbrook, XX, USA: ")
    assert said(findings, "is of Millbrook, XX, USA, 8,760 hours from -4 to 104 degF")
    assert home == read(tmp_path)[0]


def test_the_spell_of_the_home_is_that_of_the_rule(tmp_path):
    """One day: Jul 1 and Jan 21 alone; three: the low of a hot day is a mean of three."""
    home, _ = read(tmp_path, HOME.replace("[weather]", 'spell = "1 day"\n[weather]'))
    assert [home.weather.dates_of(one) for one in ("hot", "cold")] == ["Jul 1", "Jan 21"]


def test_what_stands_by_hand_wins_and_a_far_value_is_said(tmp_path):
    """More than 9 degF or 1000 ft from the file's is a warning; less is none."""
    by_hand = ('summer_design = "76 degF"\nwinter_design = "25 degF"\naltitude = "6000 ft"\n'
               "[weather]")
    home, findings = read(tmp_path, HOME.replace("[weather]", by_hand))
    assert (home.summer_degf, home.winter_degf, home.altitude_ft) == (76.0, 25.0, 6000.0)
    assert home.days[0].high_degf == 104.0
    warnings = [one for one in findings if one.severity is Severity.WARNING]
    assert [one.where.rpartition(": ")[2] for one in warnings] == ["summer_design", "altitude"]
    assert warnings[1].sentence.endswith("); it counts as it stands.")
    assert "10 degF below what made.epw gives (86 degF" in warnings[0].sentence


def test_days_by_hand_win_and_milder_ones_are_said(tmp_path):
    """More than 9 degF milder than the file's spell."""
    home, findings = read(tmp_path, HOME + DAY.format("summ", 70, 90) + DAY.format("wint", -2, 20))
    assert [day.high_degf for day in home.days] == [90.0, 20.0]
    assert home.weather.days == ()
    assert len(said(findings, "no high is beyond 90 degF, and made.epw has 104 degF on Jun 30 to "
                               "Jul 2; the days count as they stand.")) == 1
    assert not said(findings, "no low is beyond")


def test_what_a_home_marks_as_assumed_gives_way(tmp_path):
    """A new home of the planner has everything marked: the file says more than that."""
    home, _ = read(tmp_path, EMPTY_HOME + '[weather]\nfile = "made.epw"\n')
    assert (home.summer_degf, home.altitude_ft) == (86.0, 984.0)
    assert home.days[1].low_degf == -4.0
    keys = [one.key for one in home.assumed]
    assert len(keys) == len(set(keys))
    assert not [key for key in keys if key.startswith("days.")]


def test_text_without_a_folder_opens_no_file(tmp_path, monkeypatch):
    """As on the pages: the home is read, and that the file is not read is a warning."""
    (tmp_path / "made.epw").write_text(year(), "utf-8")
    monkeypatch.chdir(tmp_path)
    home, findings = read_home_text(HOME, "home.toml")
    assert home.summer_degf == 95.0
    (finding,) = said(findings, "only the text of the home is at hand, so the file is not read")
    assert finding.severity is Severity.WARNING


def test_a_file_that_cannot_be_read_hides_no_other_fault(tmp_path):
    """All of them at once."""
    broken = HOME.replace('label = "Mill house"', 'label = 3\nfloor_area = "much"')
    with pytest.raises(CaseError) as caught:
        read(tmp_path, broken, weather="nothing")
    assert {one.where for one in caught.value.findings if one.severity is Severity.ERROR} == {
        "home.toml: weather: file", "home.toml: home: label",
        "home.toml: home: floor_area"}


def test_a_section_without_a_file(tmp_path):
    """The key is missing."""
    with pytest.raises(CaseError) as caught:
        read(tmp_path, HOME.replace('file = "made.epw"', ""))
    assert any(one.where == "home.toml: weather: file" for one in caught.value.findings)


def test_the_plan_is_made_for_the_days_of_the_file(tmp_path):
    """The days of a plan are those; a hotter file asks for more of the air conditioner."""
    home, _ = read(tmp_path)
    book = planner.read_book(BOOK)
    plan = planner.recommend(home, book=book)
    assert [day.high_degf for day in plan.menu.house.home.days] == [104.0, 32.0, 62.6]
    usual, _ = read_home_text(HOME.replace('[weather]\nfile = "made.epw"\n', ""), "home.toml")
    assert home.load("air").kw_on("hot") > usual.load("air").kw_on("hot")


def test_what_a_cool_place_never_calls_for_is_a_warning(tmp_path):
    """Cooling that begins above the hottest hour of the file never runs; by hand it is an error."""
    late = HOME + 'use.summer = { kind = "cooling", balance = "110 degF" }\n'
    home, findings = read(tmp_path, late)
    (warned,) = said(findings, "it never runs")
    assert warned.severity is Severity.WARNING
    assert "begins at 110 degF, and it is never beyond 86 degF" in warned.sentence
    assert home.loads[0].use["summer"].kind == "never"
    by_hand = late.replace('[weather]\nfile = "made.epw"\n', 'summer_design = "86 degF"\n')
    with pytest.raises(CaseError, match="the wrong way"):
        read(tmp_path, by_hand)
