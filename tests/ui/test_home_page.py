"""The home page: ways to begin, ways to add loads, saving, and taking back."""

from __future__ import annotations

import tomllib
from dataclasses import replace

import pytest
from streamlit.delta_generator import DeltaGenerator
from streamlit.testing.v1 import AppTest

from planner.case.read import read_home_text
from planner.editing.new_home import EMPTY_HOME
from planner.errors import Severity
from tests.ui.opening import MOST_S, ROOT, on_the_table, opened, told, turned, visitor
from ui.demos import demo_homes, demo_text
from ui.readings import home_of
from ui.session import FILLED, Session

SMALL = "gas_heated_small.toml"


def loads(found):
    """Read the loads of the file on the table."""
    return tomllib.loads(found.home_text)["loads"]


@pytest.fixture
def saved(monkeypatch):
    """Catch what each download on a page would save: by key, name and content."""
    caught = {}
    plain = DeltaGenerator.download_button

    def catching(self, label, data, file_name=None, *args, **changes):
        caught[changes.get("key")] = (file_name, data)
        return plain(self, label, data, file_name, *args, **changes)

    monkeypatch.setattr(DeltaGenerator, "download_button", catching)
    return caught


@pytest.mark.parametrize("name", sorted(demo_homes()))
def test_open_and_save_give_the_same_file(name, saved):
    """A demo home that is opened and saved is the file that it came from, to the byte."""
    at = opened(on_the_table("", ""))
    at.selectbox(key="demo home").set_value(name).run()
    at.button(key="open demo").click().run()
    assert not at.exception
    assert saved["save home"] == (name, demo_text(name))
    assert visitor(at).home_text == demo_text(name)


def test_a_saved_file_is_what_is_on_the_table_and_opens_again(saved):
    """After changes the file saved is the text on the table; uploaded, it is that home again."""
    at = opened(on_the_table(SMALL))
    at.text_input(key="field home label").set_value("Renamed house").run()
    name, text = saved["save home"]
    assert text == visitor(at).home_text
    assert text == demo_text(SMALL).replace(
        f'label = "{tomllib.loads(demo_text(SMALL))["home"]["label"]}"', 'label = "Renamed house"')
    other = opened(on_the_table("", ""))
    other.file_uploader(key="home file").set_value((name, text.encode(), "application/toml")).run()
    other.button(key="open file").click().run()
    assert not other.error
    assert (visitor(other).home_name, visitor(other).home_text) == (name, text)


def test_an_empty_home_is_a_beginning():
    """One click gives a home that can be read, with its assumptions in sight."""
    at = opened(on_the_table("", ""))
    at.button(key="begin empty").click().run()
    assert not at.exception
    assert not at.error
    assert visitor(at).home_text == EMPTY_HOME
    assert "assumed, because the file does not say it" in told(at)


def test_a_list_of_appliances_is_a_beginning():
    """Typed lines become loads of a new home that can be read."""
    at = opened(on_the_table("", ""))
    at.text_area(key="typed list").set_value(
        "central air, 3.5 ton\nwater heater, 50 gal\nfridge\nsump pump 1/3 hp").run()
    at.button(key="begin list").click().run()
    assert not at.exception
    assert not at.error
    found = visitor(at)
    assert {"central air conditioner", "electric water heater", "refrigerator", "sump pump"} <= {
        one["kind"] for one in loads(found)}
    assert home_of(found).facts is not None


def test_a_table_of_loads_is_a_beginning():
    """An uploaded CSV is taken, and the template that is offered is such a file."""
    at = opened(on_the_table("", ""))
    at.file_uploader(key="list file").set_value(
        ("loads.csv", b"label,kind,size\nFridge,refrigerator,\nPump,sump pump,0.5 hp\n",
         "text/csv")).run()
    assert not at.error
    at.button(key="begin csv").click().run()
    assert [one["label"] for one in loads(visitor(at))][-2:] == ["Fridge", "Pump"]
    assert home_of(visitor(at)).facts is not None


def test_a_load_by_kind_and_size_takes_two_choices_and_a_click():
    """A kind brings its usual size; one click adds the load, and the choice is free again."""
    found = on_the_table("new.toml", EMPTY_HOME)
    at = opened(found)
    before = len(loads(found))
    assert at.button(key="add load").disabled
    at.selectbox(key="new kind").set_value("sump pump").run()
    assert not at.button(key="add load").disabled
    assert at.selectbox(key="new size sump pump").value
    at.button(key="add load").click().run()
    assert not at.exception
    assert len(loads(found)) == before + 1
    assert loads(found)[-1]["kind"] == "sump pump"
    assert "was added" in told(at)
    assert at.selectbox(key="new kind").value is None
    at.selectbox(key="new kind").set_value("sump pump").run()
    at.text_input(key="new name").set_value("Pump by the stairs").run()
    at.button(key="add load").click().run()
    assert loads(found)[-1]["label"] == "Pump by the stairs"
    assert at.text_input(key="new name").value == ""
    assert len({one["id"] for one in loads(found)}) == before + 2
    assert home_of(found).facts is not None


def test_a_load_by_nameplate_says_what_the_plate_says():
    """What is filled in lands in the file, what is left out does not; the form is empty again."""
    found = on_the_table("new.toml", EMPTY_HOME)
    at = opened(found)
    assert at.button(key="add plate").disabled
    at.text_input(key="plate label").set_value("Well pump")
    at.selectbox(key="plate kind").set_value("well pump")
    at.selectbox(key="plate leg").set_value("both")
    at.text_input(key="plate running").set_value("9 A")
    at.text_input(key="plate locked_rotor").set_value("45 A").run()
    at.button(key="add plate").click().run()
    assert not at.exception
    assert not at.error
    new = loads(found)[-1]
    assert {key: new[key] for key in new if key != "id"} == {
        "label": "Well pump", "kind": "well pump", "leg": "both", "running": "9 A",
        "locked_rotor": "45 A"}
    assert at.text_input(key="plate label").value == ""
    assert at.selectbox(key="plate kind").value is None
    home = home_of(found).facts
    assert home.loads[-1].running_kva == pytest.approx(9.0 * 240.0 / 1000.0)


def test_several_loads_at_once_join_those_that_are_there():
    """Each line becomes a load behind the others, and what was there stays as it was."""
    found = on_the_table(SMALL)
    before = loads(found)
    at = opened(found)
    at.text_area(key="more list").set_value("freezer\nwell pump, 1 hp").run()
    at.button(key="add many").click().run()
    assert not at.exception
    assert loads(found)[: len(before)] == before
    assert [one["kind"] for one in loads(found)[len(before):]] == ["freezer", "well pump"]
    assert at.text_area(key="more list").value == ""


def test_the_last_change_is_taken_back_exactly():
    """Steps back give each text before, to the byte, until there is nothing to take back."""
    found = on_the_table(SMALL)
    at = opened(found)
    texts = [found.home_text]
    assert at.button(key="step back").disabled
    at.text_input(key="field home altitude").set_value("4000 ft").run()
    texts.append(found.home_text)
    at.selectbox(key="new kind").set_value("sump pump").run()
    at.button(key="add load").click().run()
    texts.append(found.home_text)
    at.text_area(key="home text").set_value("nonsense [").run()
    assert len(set(texts)) == 3
    for text in reversed(texts):
        at.button(key="step back").click().run()
        assert not at.exception
        assert found.home_text == text
    assert at.button(key="step back").disabled
    assert at.text_input(key="field home altitude").value in demo_text(SMALL)


def test_another_home_is_a_job_of_its_own():
    """Opening another home leaves the one before in the list of jobs, name, steps back and all."""
    found = on_the_table(SMALL)
    at = opened(found)
    at.text_input(key="field home altitude").set_value("4000 ft").run()
    mine, before = found.content, found.keeper.job.id
    at.button(key="begin empty").click().run()
    assert (found.home_text, found.past) == (EMPTY_HOME, ())
    turned(at, "jobs").button(key=f"open {before}").click().run()
    assert found.content == mine


def test_findings_stand_beside_their_field():
    """A field that cannot be read says why and how to mend it, and is sound again when mended."""
    found = on_the_table(SMALL)
    at = opened(found)
    at.text_input(key="field home altitude").set_value("high").run()
    assert [one for one in at.error if "high" in one.value]
    at.text_input(key="field home altitude").set_value("800 ft").run()
    assert not at.error


def test_assumed_values_are_told_with_their_source():
    """The home page lists every value that the file does not say."""
    found = on_the_table(SMALL)
    at = opened(found)
    assert "Every assumed value with its source" in told(at)
    frames = [one.value for one in at.dataframe if "Source" in one.value]
    assert len(frames) == 1
    assert len(frames[0]) > 20
    assert (frames[0]["Source"].astype(str) != "").all()


BARE = """\
[home]
label = "Bare house"

[[loads]]
id = "lights"
kind = "lighting and receptacles"
"""
INLINE = 'home = {label = "Bare house"}\nloads = [{id = "a", kind = "lighting and receptacles"}]\n'


def brought(text, name="bare.toml"):
    """Bring a file on the page that offers the ways to begin, and open it."""
    at = opened(on_the_table("", ""))
    at.file_uploader(key="home file").set_value((name, text.encode(), "application/toml")).run()
    return at.button(key="open file").click().run()


def test_what_a_file_leaves_out_stands_in_fields_that_say_it_is_assumed():
    """A label and a load are a home; code, panels and days are there to be seen and changed."""
    at = brought(BARE)
    assert not at.exception
    assert not at.error
    assert FILLED in told(at)
    assert at.text_input(key="field home service").label == "Service (assumed)"
    assert at.selectbox(key="field code edition").label == "Edition of the code (assumed)"
    assert "Assumed until you change it: main (main or feeder)." in told(at)
    assert "it: hot (weight, lowest, highest); cold (weight, lowest, highest)" in told(at)
    at.text_input(key="field home service").set_value("150 A").run()
    at.selectbox(key="field code method").set_value("standard").run()
    assert not at.exception
    assert FILLED not in told(at)
    assert at.text_input(key="field home service").label == "Service"
    raw = tomllib.loads(visitor(at).home_text)
    assert (raw["home"]["service"], raw["code"]["method"]) == ("150 A", "standard")
    assert raw["panels"] == [{"id": "main", "feeder": "150 A"}]
    assert [day["id"] for day in raw["days"]] == ["hot", "cold", "between"]


def test_a_completed_home_is_the_home_that_the_reader_makes_of_the_file():
    """The pages assume what the reader assumes, so the plan of either is the same."""
    found = on_the_table("bare.toml", BARE)
    assert found.home_text != BARE
    of_pages, findings = read_home_text(found.home_text, "bare.toml")
    of_file, _ = read_home_text(BARE, "bare.toml")
    assert not any(one.severity is Severity.ERROR for one in findings)
    assert replace(of_pages, assumed=()) == replace(of_file, assumed=())


@pytest.mark.parametrize("text", [INLINE, "", "x = 1", 'home = "no table"', "code = 3\n" + BARE])
def test_a_file_that_cannot_be_completed_opens_as_it_is(text):
    """Inline tables hold no comments, other files no home: they open, and nothing breaks."""
    found = on_the_table("odd.toml", text)
    assert not text.startswith(("home =", "x")) or found.home_text == text
    at = opened(found)
    assert not at.exception


def test_a_home_that_the_pages_are_started_with_is_completed(tmp_path, monkeypatch):
    """As one that is opened in the pages; there is nothing before it to go back to."""
    path = tmp_path / "bare.toml"
    path.write_text(BARE, "utf-8")
    monkeypatch.setattr("sys.argv", ["app.py", str(path)])
    at = AppTest.from_file(str(ROOT / "ui/app.py"), default_timeout=MOST_S).run()
    assert not at.exception
    assert at.text_input(key="field home service").label == "Service (assumed)"
    assert at.button(key="step back").disabled
    assert path.read_text("utf-8") == BARE


def test_taking_steps_back_ends_at_the_first_home():
    """However often it is pressed, a home that was begun is not lost, and every step comes back."""
    found = Session()
    found.open_home("first.toml", demo_text("suburban.toml"))
    first = found.home_text
    found.change_home(first + "\n# a change\n")
    changed = found.home_text
    for _ in range(4):
        found.step_back()
    assert found.home_text == first
    found.step_forward()
    assert found.home_text == changed


def test_what_a_list_leaves_over_is_left_out_with_a_click():
    """A phrase that was not understood is said once, until it is left out; the budget is taken."""
    found = on_the_table("", "")
    at = opened(found)
    at.text_area(key="typed list").set_value(
        "two fridges, foo bar 3000\nelectric fence\nbudget $12,000\nrange must run").run()
    at.button(key="begin list").click().run()
    assert (found.can_spend_usd, found.goal.budget_usd) == (12_000.0, 12_000.0)
    assert found.goal.by == "coverage"  # a plan that holds is not given up for the budget
    assert told(at).count("foo bar 3000") == 1
    at.button(key="leave out 0").click().run()
    assert "foo bar 3000" not in told(at)
    assert told(at).count("electric fence") == 1
    at.button(key="leave out 0").click().run()
    assert "Not understood" not in told(at)
    assert not [one for one in home_of(found).findings if "not_read" in one.where]
    at.button(key="step back").click().run()
    assert "electric fence" in told(at)
