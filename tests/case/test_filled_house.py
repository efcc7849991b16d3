"""A label and a list of loads is a home: what a file leaves out about the house is assumed."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.case.filling.house import CODE, HOME, filled_house
from planner.case.read import read_home_text
from planner.editing.new_home import EMPTY_HOME, completed
from planner.errors import CaseError, Severity
from tests.case.files import HEAD, load_text

BARE = '[home]\nlabel = "Bare"\n'
FRIDGE = load_text("fridge", "refrigerator")
LIGHTS = load_text("lighting", "lighting and receptacles", 'label = "Lighting and receptacles"')


def plain(home):
    """A home without the record of what was assumed about its house."""
    return replace(home, assumed=())


def test_a_label_and_a_load_are_a_home():
    """Service, area, climate, fuel, transfer, code, panel and days are filled in and marked."""
    home, findings = read_home_text(BARE + FRIDGE, "bare.toml")
    assert {one.key for one in home.assumed} == {
        *(f"home.{key}" for key in HOME), *(f"code.{key}" for key in CODE), "panels", "days"}
    assert all(one.source == "common practice, no source" for one in home.assumed)
    assert (home.service_a, home.fuel, home.code.edition) == (200.0, "natural gas", "2023")
    assert [panel.feeder_a for panel in home.panels] == [200.0]
    assert [day.season for day in home.days] == ["summer", "winter", "mild"]
    (note,) = [one for one in findings if one.where == "bare.toml: home"]
    assert note.severity is Severity.NOTE
    assert "service 200 A" in note.sentence
    assert "days Hot summer day" in note.sentence


def test_a_whole_file_has_nothing_assumed_about_its_house():
    """What the file says is not filled, and no note is made."""
    home, findings = read_home_text(HEAD + FRIDGE, "whole.toml")
    assert home.assumed == ()
    assert not any("assumed, because" in one.sentence for one in findings)


def test_the_house_that_is_assumed_is_the_one_of_a_new_home():
    """The text of an empty home says in words what the reader would assume, and nothing else."""
    assumed, _ = read_home_text(BARE.replace("Bare", "New home") + LIGHTS, "new.toml")
    written, _ = read_home_text(EMPTY_HOME, "new.toml")
    assert plain(assumed) == plain(written)


@pytest.mark.parametrize("text", [
    BARE + FRIDGE, HEAD + FRIDGE, BARE + '\n[code]\nmethod = "standard"\n' + FRIDGE,
    '[home]\nlabel = "Desert"\nsummer_design = "112 degF"  # given\nservice = "400 A"\n' + FRIDGE])
def test_a_completed_text_is_the_same_home_with_nothing_left_to_assume(text):
    """What the reader assumes is written out and marked; comments and values stay."""
    before, _ = read_home_text(text, "it.toml")
    after_text = completed(text)
    after, _ = read_home_text(after_text, "it.toml")
    assert plain(after) == plain(before)
    assert completed(after_text) == after_text
    for line in text.splitlines():
        assert line in after_text
    assert after_text.count("# assumed") >= len(before.assumed)
    given_keys = tomllib.loads(text)["home"]
    for line in after_text.splitlines():
        if "# assumed" in line and line.partition(" ")[0] in HOME:
            assert line.partition(" ")[0] not in given_keys


def test_assumed_days_follow_the_climate_that_is_given():
    """The hot day peaks at the summer design temperature, the cold one falls to winter's."""
    text = BARE + 'summer_design = "112 degF"\nwinter_design = "-20 degF"\n' + FRIDGE
    home, _ = read_home_text(text, "it.toml")
    hot, cold, _ = home.days
    assert (hot.high_degf, cold.low_degf) == (112.0, -20.0)
    assert hot.low_degf < hot.high_degf
    assert cold.low_degf < cold.high_degf


def test_an_assumed_panel_carries_the_service_that_is_given():
    """A 400 A service has a 400 A panel unless the file says otherwise."""
    home, _ = read_home_text(BARE + 'service = "400 A"\n' + FRIDGE, "it.toml")
    assert [panel.feeder_a for panel in home.panels] == [400.0]


def test_what_is_wrong_is_not_assumed_away():
    """A value that cannot be read is refused, not replaced; a missing home table is missing."""
    with pytest.raises(CaseError) as caught:
        read_home_text(BARE + 'service = "many A"\nsummer_design = 95\n' + FRIDGE, "it.toml")
    where = {one.where for one in caught.value.findings if one.severity is Severity.ERROR}
    assert {"it.toml: home: service", "it.toml: home: summer_design"} <= where
    with pytest.raises(CaseError, match="not a home yet"):
        read_home_text(FRIDGE, "it.toml")


@given(st.dictionaries(
    st.sampled_from(["home", "code", "panels", "days", "loads"]),
    st.one_of(st.none(), st.integers(), st.text(), st.lists(st.integers()),
              st.dictionaries(st.sampled_from(["label", "service", "summer_design", "edition"]),
                              st.one_of(st.text(), st.integers())))))
def test_filling_never_touches_what_a_file_says(raw):
    """Any shape of file: every key that was there keeps its value, and nothing is raised."""
    filled, assumed = filled_house(raw)
    for table, value in raw.items():
        if isinstance(value, dict):
            assert value.items() <= filled[table].items()
        elif value or table not in ("panels", "days"):
            assert filled[table] == value
    assert bool(assumed) == (filled != raw)
