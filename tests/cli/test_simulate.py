"""What `simulate` answers, how a saved plan is replayed, and what an interruption leaves."""

from __future__ import annotations

import json
from types import SimpleNamespace

import pytest

from planner.report.cautions import CAUTIONS
from planner.simulation.outage import simulate as play
from tests.homes import base, book, events, generator, home, load, motor


@pytest.fixture
def small(monkeypatch):
    """Let the commands read a home of three loads and a price book of two sizes."""
    house = home(base(1.0), load("dryer", 5.0, wait_h=1.0, use=events((7.0, 1.0), (18.0, 1.0))),
                 motor("air", 3.0, 12.0, wait_h=0.5, use=events((8.0, 2.0), (18.0, 2.0))))
    offered = book(generator(6.5, 3000.0), generator(24.0, 9000.0))
    for command in ("plan", "simulate"):
        monkeypatch.setattr(f"planner.cli.{command}.read_priced", lambda *_: (house, offered, ()))
    return SimpleNamespace(home=house, book=offered)


@pytest.fixture
def saved(planner, small, tmp_path):
    """The plan as `plan --json` writes it, with changes."""
    data = planner("plan", "HOME", "--coverage", "50 %", "--json").data

    def write(**changes):
        path = tmp_path / "plan.json"
        text = {**data, "plan": {**data["plan"], **changes}}
        path.write_text(json.dumps(text), "utf-8")
        return path

    return SimpleNamespace(plan=data["plan"], write=write)


def simulated(planner, *arguments):
    """Run a short simulation."""
    return planner("simulate", "HOME", "--hours", "24", "--seeds", "2", *arguments)


def test_the_answer_sets_plan_and_simulation_side_by_side(planner, small):
    """What is kept, planned, simulated and their difference; loads, generator, plan, cautions."""
    data = simulated(planner, "--json").data
    assert (data["case"], data["seeds"], data["hours"], data["complete"]) == ("test", 2, 24.0, True)
    coverage = data["coverage"]
    assert coverage["difference"] == pytest.approx(
        coverage["simulated"]["mean"] - coverage["planned"], abs=2e-6)
    assert 0.0 < coverage["simulated"]["mean"] <= 1.0
    assert data["loads"].keys() == data["plan"]["loads"].keys() == {"base", "dryer", "air"}
    assert data["loads"]["base"]["kwh_per_day"] == pytest.approx(24.0, rel=0.01)
    assert data["generator"]["engine_kwh"] > 24.0
    assert data["cautions"] == list(CAUTIONS)
    assert "log" not in data


def test_the_same_question_has_the_same_answer(planner, small):
    """Seeds make everything repeatable."""
    assert simulated(planner, "--json").data == simulated(planner, "--json").data


def test_the_log_is_that_of_the_first_outage(planner, small):
    """Line by line with times of day from the hour of the loss."""
    data = simulated(planner, "--log", "--start", "17.5", "--json").data
    assert data["log"][:3] == ["17:30:00 the utility is lost", "17:30:05 the engine runs",
                               "17:30:30 the generator carries the house, modules open"]
    assert any("the utility carries the house again" in line for line in data["log"])


def test_sensing_and_warm_up_are_set_in_seconds_or_any_unit_of_time(planner, small):
    """The engine is called, and carries the house, when the estimator's times say so."""
    data = simulated(planner, "--sensing", "2 s", "--warm-up", "1.5 min", "--log", "--json").data
    assert data["log"][1:3] == ["00:00:02 the engine runs",
                                "00:01:32 the generator carries the house, modules open"]


@pytest.mark.parametrize("option", ["--sensing", "--warm-up"])
@pytest.mark.parametrize(("text", "words"), [
    ("5", "has no unit"), ("-1 s", "out of range"), ("61 min", "out of range")])
def test_a_time_that_cannot_be_is_refused(planner, small, option, text, words):
    """A bare number has no unit; a time is not negative and not above an hour."""
    outcome = simulated(planner, option, text)
    assert outcome.code == 2
    assert words in outcome.err


def test_the_screen_shows_tables_log_and_cautions(planner, small):
    """What is planned, what was simulated, and what to beware of."""
    outcome = simulated(planner, "--log")
    assert outcome.code == 0
    for words in ("Kept by importance: planned", "Loads in the simulated outage",
                  "Deepest voltage dip",
                  "00:00:00 the utility is lost", "Cautions"):
        assert words in outcome.out


def test_a_saved_plan_is_played(planner, small, saved):
    """The file decides, not a new search: another generator in it is the one that runs."""
    path = saved.write()
    assert simulated(planner, "--plan", path, "--json").data["plan"]["loads"] == \
        saved.plan["loads"]
    other = saved.write(generator="set-24")
    assert simulated(planner, "--plan", other, "--json").data["plan"]["generator"] == "set-24"


@pytest.mark.parametrize(("changes", "words"), [
    ({"generator": "set-25"}, 'Did you mean "set-24"?'),
    ({"transfer": "nothing"}, 'no transfer equipment "nothing"'),
    ({"loads": {}}, 'no word about load "air"'),
    ({"loads": []}, "a list stands where the loads are expected"),
    ({"loads": {"base": {"connection": "direct"}, "dryer": {"connection": "maybe"},
                "air": {"connection": "module"}, "airs": {"connection": "off"}}},
     "takes turns but has no priority"),
    ({"loads": {"base": {"connection": "direct"}, "dryer": {"connection": "module", "priority": 1},
                "air": {"connection": "module", "priority": 1}}}, "the same priority"),
    ({"loads": {"base": {"connection": "direct"}, "dryer": {"connection": "direct"},
                "air": {"connection": "direct"}}, "generator": "set-6.5"}, "cannot have it"),
])
def test_a_plan_that_does_not_belong_here_is_refused_in_words(
    planner, small, saved, changes, words
):
    """Exit code 2, a sentence that names the file and what is wrong, no traceback."""
    outcome = simulated(planner, "--plan", saved.write(**changes))
    assert outcome.code == 2
    assert "plan.json" in outcome.err
    assert words in " ".join(outcome.err.split())
    assert "Traceback" not in outcome.err


def test_a_file_that_is_no_plan_is_refused_in_words(planner, small, tmp_path):
    """A missing file, text that is no JSON, and a plan of another home."""
    path = tmp_path / "plan.json"
    assert "cannot be read" in simulated(planner, "--plan", path).err
    path.write_text("generator = 5", "utf-8")
    assert "is not JSON" in simulated(planner, "--plan", path).err
    for text, words in (("[" * 100_000, "it goes too deep"), ("NaN", '"NaN" is no number'),
                        ('{"case": -Infinity}', '"-Infinity" is no number'),
                        ("9" * 5000, "thousands of digits"), ("[1, 2", "line 1")):
        path.write_text(text, "utf-8")
        outcome = simulated(planner, "--plan", path)
        assert outcome.code == 2
        assert words in outcome.err
    assert "a device or a pipe" in simulated(planner, "--plan", "/dev/zero").err
    path.write_text('{"case": "other", "plan": {}}', "utf-8")
    outcome = simulated(planner, "--plan", path)
    assert outcome.code == 2
    assert 'a plan for "other", not for "test"' in outcome.err


def test_one_way_to_choose_the_plan(planner, small):
    """Two goals at once are a question without an answer."""
    outcome = simulated(planner, "--coverage", "50 %", "--budget", "9000 USD")
    assert outcome.code == 2
    assert "Give one of" in outcome.err


def test_a_stuck_module_must_exist(planner, small):
    """The sentence lists the loads that have a module."""
    outcome = simulated(planner, "--coverage", "50 %", "--stuck-open", "base")
    assert outcome.code == 2
    assert 'no module at "base"' in outcome.err


def test_failed_starts_leave_the_house_dark(planner, small):
    """Three failures: nothing is served until the utility returns, and the answer shows it."""
    data = simulated(planner, "--failed-starts", "3", "--json").data
    assert data["generator"]["engine_kwh"] == 0.0
    assert data["coverage"]["simulated"]["mean"] < 0.1


def test_an_interruption_keeps_whole_seeds_and_says_so(planner, small, monkeypatch):
    """What was played is shown with code 130; a seed cut in two is not."""
    rest = {"left": 3}

    def interrupted(*arguments, **named):
        if rest["left"] == 0:
            raise KeyboardInterrupt
        rest["left"] -= 1
        return play(*arguments, **named)

    monkeypatch.setattr("planner.simulation.run.simulate", interrupted)
    outcome = planner("simulate", "HOME", "--hours", "24", "--seeds", "50", "--json")
    assert outcome.code == 130
    assert outcome.data["complete"] is False
    assert outcome.data["seeds"] == 3


def test_an_interruption_at_once_says_that_there_is_nothing(planner, small, monkeypatch):
    """No table of nothing."""

    def interrupted(*_, **__):
        raise KeyboardInterrupt

    monkeypatch.setattr("planner.simulation.run.simulate", interrupted)
    outcome = planner("simulate", "HOME", "--seeds", "5")
    assert outcome.code == 130
    assert "interrupted before" in outcome.err
    assert outcome.out == ""
