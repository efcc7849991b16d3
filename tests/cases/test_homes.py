"""Every home of `cases`: it reads, it holds together, and it teaches what it says it teaches."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.errors import NoPlanError, Severity
from planner.physics.demand import calculated_load
from planner.physics.derate import derate_factor
from planner.search.frontier import frontier
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, Choice
from planner.service.replay import Refusal, replay
from planner.units import magnitude, parse
from planner.wiring import check_wiring

CASES = Path(__file__).parents[2] / "cases"
NOT_HOMES = ("broken_", "demo_")
HOMES = sorted(p for p in CASES.glob("*.toml") if not p.name.startswith(NOT_HOMES))
PLANNED = [path for path in HOMES if not path.name.startswith("no_plan_")]
WITHOUT = [path for path in HOMES if path.name.startswith("no_plan_")]
MEDICAL = "medical equipment must not depend on a generator alone."


def home_of(name):
    """Read a home of `cases` by its stem."""
    return read_home(CASES / f"{name}.toml")[0]


def book():
    """Read the demonstration price book."""
    return read_book(CASES / "demo_price_book.toml")[0]


def with_load(home, load_id, **changes):
    """Change one load of a home."""
    return replace(home, loads=tuple(
        replace(load, **changes) if load.id == load_id else load for load in home.loads))


def may_shed(home):
    """List the loads that a shedding module suits and that may have one."""
    return [load.id for load in home.loads if "module" in load.allowed and load.module_actions]


def test_there_are_homes_of_every_sort():
    """Seven homes with plans and three without, so that the rules all meet somewhere."""
    assert len(PLANNED) >= 7
    assert len(WITHOUT) >= 3
    homes = [read_home(path)[0] for path in PLANNED]
    assert {home.fuel for home in homes} == {"natural gas", "propane"}
    assert {home.code.edition for home in homes} == {"2017", "2020", "2023", "2026"}
    assert {home.code.method for home in homes} >= {"standard", "optional", "existing"}
    assert {kind for home in homes for kind in home.transfer_kinds} == {
        "whole-house", "selected-circuits"}


@pytest.mark.parametrize("path", HOMES, ids=lambda path: path.stem)
def test_a_home_reads_without_a_doubt(path):
    """No warning but the one that medical equipment always gets; no fault in the wiring."""
    home, findings = read_home(path)
    warned = [f for f in findings if f.severity is not Severity.NOTE]
    assert all(finding.sentence == MEDICAL for finding in warned)
    assert check_wiring(home) == ()


@pytest.mark.parametrize("path", HOMES, ids=lambda path: path.stem)
def test_a_home_has_three_design_days(path):
    """One day of each season, weights that sum to 1, each within the design temperatures' reach."""
    home, _ = read_home(path)
    assert [day.season for day in home.days] == ["summer", "winter", "mild"]
    assert sum(day.weight for day in home.days) == pytest.approx(1.0)
    assert home.days[1].high_degf < home.days[2].high_degf < home.days[0].high_degf
    assert abs(home.days[0].high_degf - home.summer_degf) <= 3.0
    assert abs(home.days[1].low_degf - home.winter_degf) <= 6.0


@pytest.mark.parametrize("path", HOMES, ids=lambda path: path.stem)
def test_the_calculated_load_is_the_one_worked_out_by_hand(path):
    """The sum in the file, worked out by hand by the clauses it names, is what the planner gets."""
    home, _ = read_home(path)
    assert calculated_load(home).total_va == pytest.approx(home.expected["calculated_load_va"])


@pytest.mark.parametrize("path", HOMES, ids=lambda path: path.stem)
def test_the_price_book_of_a_home_is_there(path):
    """The book that a home names reads without a finding."""
    named = read_home(path)[0].price_book
    assert named is not None
    assert read_book(named)[1] == ()


@pytest.mark.parametrize("path", HOMES, ids=lambda path: path.stem)
def test_a_home_says_that_it_is_invented_and_what_it_teaches(path):
    """The head of each file is written for its reader."""
    head = path.read_text(encoding="utf-8").split("[home]")[0]
    assert "# Lesson: " in head
    assert "An invented home" in head


def test_the_estate_is_large():
    """The reference for speed: 40 loads or more, 12 to 14 that may take turns, three panels."""
    estate = home_of("large_estate")
    assert len(estate.loads) >= 40
    assert 12 <= len(may_shed(estate)) - 1 <= 14  # the well pump may, but it is always connected
    assert len(estate.panels) == 3


def test_the_town_house_fits_a_panel_of_selected_circuits():
    """15 to 18 loads whose poles all fit the largest panel; all but three may stay off."""
    town = home_of("town_house_selected")
    assert 15 <= len(town.loads) <= 18
    assert sum(load.poles for load in town.loads) <= max(t.positions for t in book().transfers)
    assert [load.id for load in town.loads if "off" not in load.allowed] == [
        "furnace", "refrigerator", "sump-pump"]


def test_thin_air_leaves_what_the_mountain_home_says():
    """3.5 % per 1000 ft and 1 % per 10 degF above 77, at 7800 ft and 82 degF: 72.2 % (derived)."""
    home = home_of("high_altitude")
    loss = book().generators[0].derating
    assert derate_factor(home.altitude_ft, home.summer_degf, loss) == pytest.approx(
        home.expected["derate_factor"])


def smallest_without_turns(home, offered):
    """Find the derated kW of the smallest generator that carries all, by code and by replay."""
    found = []
    for problem in problems_of(home, offered):
        count = problem.house.count
        everything = Choice((DIRECT,) * count, (0,) * count, ())
        outcome = replay(problem.house, problem.supply, everything)
        if problem.passes_code(everything) and not isinstance(outcome, Refusal):
            found.append(problem.supply.derated_kw)
    return min(found)


def test_turns_halve_the_generator_of_the_suburban_house():
    """A generator of half the size that no shedding needs covers 95 % and more."""
    home, offered = home_of("suburban"), book()
    nearly_all = frontier(home, offered).covering(0.95)
    assert nearly_all is not None
    assert nearly_all.supply.derated_kw <= 0.5 * smallest_without_turns(home, offered)


def remedied(home):
    """Give up the wish that the file of a home without a plan names."""
    match home.expected["no_plan"]:
        case "power":
            return with_load(home, "water-heater", must_run=False)
        case "start":
            return replace(home, limits=replace(home.limits, allowed_dip=0.15))
        case "transfer":
            return replace(home, transfer_kinds=frozenset({"selected-circuits"}))
    raise AssertionError(home.expected["no_plan"])


@pytest.mark.parametrize("path", WITHOUT, ids=lambda path: path.stem)
def test_a_home_without_a_plan_has_one_when_its_wish_is_given_up(path):
    """Nothing in the book serves it as it is; with the remedy in its file there is a plan."""
    home, _ = read_home(path)
    with pytest.raises(NoPlanError):
        frontier(home, book())
    assert frontier(remedied(home), book()).points


FRONTIERS = ("suburban", "gas_heated_small", "all_electric_heat_pump", "rural_propane_well",
             "high_altitude", "town_house_selected")


@pytest.mark.parametrize("name", FRONTIERS)
def test_frontier_as_expected(name):
    """The frontier has the points that the home's file states, from first to last, all proven."""
    home = home_of(name)
    expected = home.expected["frontier"]
    points = frontier(home, book()).points
    assert len(points) == expected["points"]
    assert {plan.proof.kind for plan in points} == {"proven"}
    for plan, stated in ((points[0], expected["first"]), (points[-1], expected["last"])):
        assert plan.supply.generator.id == stated["generator"]
        assert plan.cost_usd == pytest.approx(magnitude(parse(stated["cost"], "money"), "USD"))
        share = magnitude(parse(stated["coverage"], "share"), "1")
        assert plan.coverage == pytest.approx(share, abs=6e-5)


def test_too_many_wishes_are_refused_with_their_numbers():
    """What must run cannot wait, and always connected asks more than the largest one gives."""
    with pytest.raises(NoPlanError) as refused:
        frontier(home_of("no_plan_power"), book())
    first = refused.value.findings[0]
    assert "47.0 kW needed, 37.0 kW allowed" in first.sentence
    assert "allow it to be always connected" not in first.remedy
