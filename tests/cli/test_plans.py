"""What `plan`, `frontier` and `compare` answer, and what an interruption leaves."""

from __future__ import annotations

import json
from itertools import count
from pathlib import Path
from types import SimpleNamespace

import pytest

from planner.plan.saved import plan_data, saved_plan
from planner.report.cautions import CAUTIONS
from planner.report.data import plan_data as shape_of
from planner.search.frontier import frontier
from planner.search.limits import Stop, limits_for
from tests.homes import base, events, home, load, motor, task
from tests.report.plans import book, generator

CASES = Path(__file__).parents[2] / "cases"
COMMANDS = ("plan", "frontier", "compare")
NOTICE = "Invented prices."


@pytest.fixture
def small(monkeypatch):
    """Let the commands read a home of three loads and a price book of three sizes."""
    house = home(base(1.0), task("dryer", 5.0, (7.0, 1.0), (18.0, 1.0), wait_h=1.0),
                 motor("air", 3.0, 12.0, use=events((8.0, 2.0), (18.0, 2.0))))
    offered = book(generator(6.0, 3000.0), generator(10.0, 5000.0), generator(24.0, 9000.0))
    for command in COMMANDS:
        monkeypatch.setattr(f"planner.cli.{command}.read_priced",
                            lambda *_: (house, offered, ()))
    return SimpleNamespace(home=house, book=offered)


def test_frontier_answers_with_the_points_of_the_study(planner, small):
    """Cost and coverage rise together, and each point is that of the study."""
    data = planner("frontier", "HOME", "--json").data
    points = frontier(small.home, small.book).points
    assert [(p["cost"], p["coverage"]) for p in data["points"]] == [
        (round(p.cost_usd, 2), round(p.coverage, 6)) for p in points]
    assert len(points) > 1
    assert data["points"] == sorted(data["points"], key=lambda p: (p["cost"], p["coverage"]))
    assert data["complete"] is True


def test_frontier_json_has_the_agreed_shape(planner, small):
    """What a program reads stands where it was promised."""
    data = planner("frontier", "HOME", "--json").data
    assert {"case", "engine", "solver", "currency", "points"} <= data.keys()
    assert (data["case"], data["currency"], data["solver"]) == ("test", "USD", "HiGHS")
    point = data["points"][0]
    assert data["schema"] == 3
    assert {"cost", "coverage", "bound", "proof", "generator", "capacity_kw", "transfer",
            "comforts", "loads"} <= point.keys()
    assert point["comforts"].keys() == {"dryer", "air"}
    assert {"kept", "worst", "unit", "day"} <= point["comforts"]["air"].keys()
    assert point["loads"].keys() == {"base", "dryer", "air"}
    assert {"connection", "module", "soft_start", "priority", "service"} <= point["loads"][
        "air"].keys()


@pytest.fixture
def ended(monkeypatch):
    """Let the search of each command be ended at a look at the clock, or at somebody's wish."""

    def by(*, looks, seconds=None):
        past = count()
        stop = (Stop(seconds, clock=lambda: 0.0 if next(past) < looks else 1e6) if seconds else
                Stop(asked=lambda: next(past) >= looks))
        for command in COMMANDS:
            monkeypatch.setattr(f"planner.cli.{command}.limits_of",
                                lambda *_: limits_for(seconds=seconds, stop=stop))

    return by


def test_an_interrupted_frontier_shows_what_it_has(planner, small, ended):
    """The plans found so far are shown, said to be unfinished, with code 130."""
    points = frontier(small.home, small.book).points
    ended(looks=5)
    outcome = planner("frontier", "HOME", "--json")
    assert outcome.code == 130
    assert outcome.data["complete"] is False
    assert outcome.data["ended"] == {"by": "interruption", "seconds": None}
    shown = outcome.data["points"]
    assert [p["cost"] for p in shown] == [round(p.cost_usd, 2) for p in points[:len(shown)]]
    assert 0 < len(shown) < len(points)
    assert shown[-1]["bound"] >= points[-1].coverage
    ended(looks=5)
    outcome = planner("frontier", "HOME")
    assert outcome.code == 130
    assert f"interrupted with {len(shown)} plans found; others may beat them." in outcome.out
    assert "at most" in outcome.out


@pytest.mark.parametrize("command", COMMANDS)
def test_an_interrupted_search_shows_the_best_so_far(planner, small, ended, command):
    """A plan with its gap, marked and with code 130; or the word that none was found yet."""
    shown = 0
    for looks in range(8):
        ended(looks=looks)
        outcome = planner(command, "HOME", "--json")
        if "error" in outcome.data:
            assert outcome.data["error"]["exit_code"] == outcome.code == 130
        else:
            assert outcome.code == 130 * (not outcome.data["complete"])
            assert (outcome.data["ended"] is None) == outcome.data["complete"]
            shown += not outcome.data["complete"]
    assert shown


def test_what_a_clock_ended_is_marked(planner, small, ended):
    """In text and in JSON, with the seconds; the plan has its gap, and what it misses is said."""
    codes = []
    for looks in range(2, 16):
        ended(looks=looks, seconds=5.0)
        data = planner("plan", "HOME", "--json").data
        ended(looks=looks, seconds=5.0)
        outcome = planner("plan", "HOME")
        text = " ".join(outcome.out.split())
        if data.get("ended") is None:
            continue
        assert data["ended"] == {"by": "clock", "seconds": 5.0}
        assert data["complete"] is False
        assert "The search ended after 5 s; the same file may give another plan." in text
        assert data["reached"] == ("was found by then" not in text)
        assert outcome.code == (0 if data["reached"] else 1)
        codes.append(outcome.code)
    assert codes


def test_a_search_that_is_done_in_time_is_not_marked(planner, small):
    """A day is enough: complete, nothing ended it, and the plan of the usual limits."""
    usual = planner("frontier", "HOME", "--json").data
    timed = planner("frontier", "HOME", "--json", "--seconds", "86400").data
    assert (timed["complete"], timed["ended"]) == (True, None)
    known = ("cost", "coverage", "bound", "proof", "generator")
    assert [[point[key] for key in known] for point in timed["points"]] == [
        [point[key] for key in known] for point in usual["points"]]
    assert "may give another" not in planner("plan", "HOME", "--seconds", "86400").out


@pytest.mark.parametrize("command", [*COMMANDS, "explain"])
@pytest.mark.parametrize(("asked", "allowed"), [
    (("--seconds", "-1"), "from 0.1 to 86400"), (("--seconds", "0"), "from 0.1 to 86400"),
    (("--seconds", "nan"), "from 0.1 to 86400"), (("--seconds", "soon"), "is not a number"),
    (("--gap", "120"), "from 0 to 100"), (("--gap", "-1"), "from 0 to 100"),
    (("--gap", "half"), "is not a number")])
def test_limits_that_are_none_are_refused(planner, command, asked, allowed):
    """With what is allowed, and code 2."""
    outcome = planner(command, "HOME", *asked)
    assert (outcome.code, outcome.out) == (2, "")
    assert allowed in outcome.err


def test_an_interruption_of_compiled_code_is_an_interruption(planner, small, monkeypatch):
    """It arrives as a SystemError caused by the signal; any other SystemError is a mistake."""

    def disguised(*_, **__):
        raise SystemError("returned a result with an exception set") from KeyboardInterrupt()

    def broken(*_, **__):
        raise SystemError("something else")

    for command in COMMANDS:
        asked = {"plan": "recommend"}.get(command, command)
        monkeypatch.setattr(f"planner.cli.{command}.{asked}", disguised)
        assert planner(command, "HOME").code == 130
        monkeypatch.setattr(f"planner.cli.{command}.{asked}", broken)
        assert planner(command, "HOME").code == 4


def test_an_interruption_before_the_first_plan_says_so(planner, small, ended):
    """There is no table without rows, and nothing is called impossible."""
    ended(looks=0)
    outcome = planner("frontier", "HOME")
    assert (outcome.code, outcome.out) == (130, "")
    assert "test home: interrupted before a plan was found." in outcome.err


def test_plan_takes_the_cheapest_for_a_coverage(planner, small):
    """The plan covers what was asked and is the first point of the frontier that does."""
    data = planner("plan", "HOME", "--coverage", "95 %", "--json").data
    wanted = next(p for p in frontier(small.home, small.book).points if p.coverage >= 0.95)
    assert data["plan"]["cost"] == pytest.approx(wanted.cost_usd)
    assert data["proof_among"] == "all sizes of the price book"


def test_plan_within_a_budget_costs_no_more(planner, small):
    """The budget holds, and nothing of the frontier within it covers more."""
    points = frontier(small.home, small.book).points
    budget = points[1].cost_usd + 1.0
    plan = planner("plan", "HOME", "--budget", f"{budget:.0f} USD", "--json").data["plan"]
    assert plan["cost"] <= budget
    assert plan["coverage"] == pytest.approx(
        max(p.coverage for p in points if p.cost_usd <= budget))


def test_the_smallest_is_proven_among_its_size_only(planner, small):
    """Another size may cover more for less, so neither text nor data claim otherwise."""
    assert planner("plan", "HOME", "--smallest", "--coverage", "10 %", "--json").data[
        "proof_among"] == "plans with the same generator"
    shown = " ".join(planner("plan", "HOME", "--smallest", "--coverage", "10 %").out.split())
    assert "with this generator at this price or less keeps more" in shown


def test_what_cannot_be_had_is_no_plan(planner, small):
    """A budget below the cheapest plan: code 1, with what the cheapest costs."""
    outcome = planner("plan", "HOME", "--budget", "10 USD")
    least = frontier(small.home, small.book).points[0]
    assert outcome.code == 1
    assert f"{least.cost_usd:.0f} USD" in outcome.err
    assert outcome.out == ""


def test_compare_shows_the_sizes_asked_for_and_the_reference(planner, small):
    """Both sizes stand side by side; the reference connects everything always."""
    data = planner("compare", "HOME", "--size", "set-6", "--size", "set-10", "--json").data
    assert list(data["plans"]) == ["set-6", "set-10"]
    assert {part["connection"] for part in data["reference"]["loads"].values()} == {"direct"}
    assert data["proof_among"] == "plans with the same generator"
    assert data["confidence"] == {"set-6": 1.0, "set-10": 1.0}  # nothing is assumed of this home
    assert data["recommended"] is None  # sizes were asked for
    assert planner("compare", "HOME", "--json").data["recommended"] in {"set-6", "set-10"}
    shown = planner("compare", "HOME", "--size", "set-6", "--size", "set-10").out
    assert all(heading in shown
               for heading in ("6 kW generator", "10 kW generator", "No load shedding"))


def test_two_generators_of_one_label_are_both_compared(planner, monkeypatch):
    """Neither hides the other: the ids tell them apart."""
    twins = (generator(6.0, 3000.0, label="set"), generator(10.0, 5000.0, label="set"))
    monkeypatch.setattr("planner.cli.compare.read_priced", lambda *_: (
        home(base(1.0), load("dryer", 4.0, use=events((18.0, 1.0)))), book(*twins), ()))
    shown = " ".join(planner("compare", "HOME", "--size", "set-6", "--size", "set-10").out.split())
    assert "set (set-6)" in shown
    assert "set (set-10)" in shown


def test_a_size_that_is_not_offered_is_refused_with_a_suggestion(planner, small):
    """The id is input, so the code is that of input."""
    outcome = planner("compare", "HOME", "--size", "sett-6")
    assert outcome.code == 2
    assert 'Did you mean "set-6"?' in " ".join(outcome.err.split())


@pytest.mark.parametrize("command", COMMANDS)
def test_prices_come_with_notice_and_cautions(planner, small, command):
    """As text and as data, wherever a plan is shown."""
    shown = " ".join(planner(command, "HOME").out.split())
    assert NOTICE in shown
    assert all(caution in shown for caution in CAUTIONS)
    data = planner(command, "HOME", "--json").data
    assert NOTICE in data["notice"]
    assert data["cautions"] == list(CAUTIONS)


@pytest.mark.parametrize("command", COMMANDS)
def test_plans_stay_within_100_columns_through_a_pipe(planner, small, command):
    """No table is wider than a page, and no colour codes get into a file."""
    out = planner(command, "HOME").out
    assert max(len(line) for line in out.splitlines()) <= 100
    assert "\x1b" not in out


@pytest.mark.parametrize("command", COMMANDS)
def test_a_home_without_a_price_book_says_how_to_give_one(planner, home_file, command):
    """The home of these tests names no book."""
    outcome = planner(command, home_file())
    assert outcome.code == 2
    assert "--book" in outcome.err


@pytest.mark.parametrize("command", COMMANDS)
def test_a_price_book_that_is_missing_is_named(planner, home_file, command):
    """The book's file is part of the message, not the home's."""
    outcome = planner(command, home_file(), "--book", "nowhere.toml")
    assert outcome.code == 2
    assert "nowhere.toml" in outcome.err


def test_the_example_of_the_readme_gives_plans(planner):
    """The home that the README plans has a frontier with a proof at every point."""
    outcome = planner("frontier", CASES / "suburban.toml", "--json")
    points = json.loads(outcome.out)["points"]
    assert outcome.code == 0
    assert len(points) > 1
    assert {p["proof"] for p in points} <= {"proven", "within"}


@pytest.mark.parametrize("case", ["no_plan_power", "no_plan_service", "no_plan_start"])
def test_an_impossible_home_says_why(planner, case):
    """Understood but impossible: code 1, reasons on standard error, nothing on standard output."""
    outcome = planner("plan", CASES / f"{case}.toml")
    assert (outcome.code, outcome.out) == (1, "")
    assert "Traceback" not in outcome.err
    assert outcome.err.strip()


def test_a_plan_says_how_much_it_can_bear(planner, small):
    """As text under the capacity, and as data in every plan that is given."""
    shown = " ".join(planner("plan", "HOME").out.split())
    assert "All starts together may grow" in shown
    assert "All running draws together may grow" in shown
    points = planner("frontier", "HOME", "--json").data["points"]
    assert all(point["margin"].keys() == {"starts", "draws"} for point in points)


def test_a_plan_says_that_its_waits_are_of_steps_on_design_days(planner, small):
    """A wait of the plan is a count of quarters of an hour; an outage may show a longer one."""
    said = " ".join(planner("plan", "HOME", "--coverage", "50 %").out.split())
    assert "planned in steps of 15 min; an outage simulated second by second may show more" in said
    assert "an outage simulated second by second may show more" in said


def test_a_plan_traces_its_capacity_in_one_line(planner, small):
    """Rating on the fuel, derated at the site, per leg, and the share of it that may be planned."""
    said = " ".join(planner("plan", "HOME", "--coverage", "50 %").out.split())
    line = said[said.index("Rating on natural gas"):said.index("It starts up to")]
    assert all(part in line for part in ("derated for 80 degF", "0 ft", " W, ", "A per leg",
                                         "100 % may be planned"))


def test_the_margin_of_a_plan_is_that_of_the_goal_that_was_asked_for(planner, small):
    """The same plan bears more for a lower goal; a budget asks for none, so a point may be lost."""
    def held(*goal):
        return planner("plan", "HOME", *goal, "--json").data["plan"]["margin"]["draws"]["short"]

    most = planner("plan", "HOME", "--budget", "9000 USD", "--json").data["plan"]
    assert held("--budget", "9000 USD")["goal"] == pytest.approx(most["coverage"] - 0.01, abs=1e-6)
    assert held("--coverage", "50 %")["goal"] == pytest.approx(0.5)


def test_a_plan_is_told_comfort_by_comfort(planner, small):
    """What each is like on its hardest day, before the loads; in the frontier what is missed."""
    said = planner("plan", "HOME", "--coverage", "50 %").out
    assert said.index("What an outage is like") < said.index("Loads on standby power")
    assert "Less than usual, each on its hardest day" in planner("frontier", "HOME").out


def test_a_plan_that_was_written_is_read_back(planner, small, tmp_path, monkeypatch):
    """Also what the family switches off itself: the same plan, the same comforts."""
    written = tmp_path / "plan.json"
    spa = load("spa", 2.0, importance=0, allowed=frozenset({"by hand"}))
    house = home(*small.home.loads, spa)
    for command in ("plan", "demand"):
        monkeypatch.setattr(f"planner.cli.{command}.read_priced",
                            lambda *_: (house, small.book, ()))
    answer = planner("plan", "HOME", "--coverage", "50 %", "--json")
    written.write_text(answer.out, "utf-8")
    assert answer.data["schema"] == 3
    assert answer.data["plan"]["loads"]["spa"]["connection"] == "by hand"
    again = saved_plan(plan_data(answer.out, "plan.json"), house, small.book, "plan.json")
    assert shape_of(again)["comforts"] == answer.data["plan"]["comforts"]
    assert planner("demand", "HOME", "--plan", written).code == 0


def test_what_the_family_switches_off_itself_is_said(planner, small, monkeypatch):
    """In the table of loads, and with what it asks of the family."""
    spa = load("spa", 2.0, importance=0, allowed=frozenset({"by hand"}))
    monkeypatch.setattr("planner.cli.plan.read_priced",
                        lambda *_: (home(*small.home.loads, spa), small.book, ()))
    said = " ".join(planner("plan", "HOME", "--coverage", "50 %").out.split())
    assert "somebody at home switches off" in said
    assert "you switch it off" in said
