"""What the head of each home says it teaches is so, with the figures of the demonstration book."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise, permutations
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.errors import NoPlanError
from planner.search.frontier import frontier
from planner.search.problem import problems_of
from planner.service.choice import Choice
from planner.service.replay import Service, replay

CASES = Path(__file__).parents[2] / "cases"
HOMES = sorted(path for path in CASES.glob("*.toml")
               if not path.name.startswith(("broken_", "demo_")))
BOOK = read_book(CASES / "demo_price_book.toml")[0]
IDS = [one.id for one in BOOK.generators]
OF_A_PLATE = re.compile(
    r'^(nameplate|mca|locked_rotor|running|motor|code_letter) = "([^" ]+) ?([^"]*)"(.*)$', re.M)
ROUND_TO = {"VA": 100.0, "A": 5.0}
REFUSALS = {"power": "running power of the always-connected loads",
            "start": "can be started at a dip of 10 %",
            "transfer": "No whole-house transfer equipment"}


def home_of(name):
    """Read a home of `cases` by its stem."""
    return read_home(CASES / f"{name}.toml")[0]


def softened(plan):
    """Name the loads that have a soft starter."""
    return {part.id for part in plan.loads if part.soft_starter}


@pytest.mark.parametrize("path", HOMES, ids=lambda path: path.stem)
def test_nameplates_are_marked_as_invented_and_are_round(path):
    """Each value of a plate says so beside it; VA in hundreds, MCA and locked rotor in fives."""
    found = OF_A_PLATE.findall(path.read_text("utf-8").split("[expected]")[0])
    assert found
    for key, value, unit, rest in found:
        assert rest.strip().startswith("# nameplate (invented)"), (key, value)
        if key in ("nameplate", "mca", "locked_rotor"):
            assert float(value) % ROUND_TO[unit] == 0.0, (key, value)
        elif key == "running":
            assert float(value) % 0.5 == 0.0, (key, value)


def coverages(plan):
    """Give what every order that keeps the wishes covers; 0 where it is no plan."""
    choice, before, found = plan.choice, plan.menu.house.before, []
    for order in permutations(choice.order):
        if any(before[k, i] for place, i in enumerate(order) for k in order[place + 1:]):
            continue
        played = replay(plan.menu.house, plan.supply,
                        Choice(choice.connection, choice.soft_start, order))
        valid = isinstance(played, Service) and not played.broken
        found.append(played.coverage if valid else 0.0)
    return found


def test_the_order_of_the_suburban_house_matters_more_than_one_size():
    """The range goes first; the best order gains more over the worst than the next size does."""
    points = frontier(home_of("suburban"), BOOK).points
    plan = points[0]
    first = min((part for part in plan.loads if part.priority), key=lambda part: part.priority)
    assert first.id == "range"
    here = coverages(plan)
    assert max(here) == pytest.approx(plan.coverage)
    assert max(here) - min(here) > points[1].coverage - plan.coverage > 0.0


def test_the_start_decides_the_size_of_the_small_house():
    """Without the start of the air conditioner the next smaller size does all."""
    home = home_of("gas_heated_small")
    first = frontier(home, BOOK).points[0]
    quiet = replace(home, loads=tuple(
        replace(one, starting_kva=one.running_kva, surge=()) if one.id == "air-conditioner" else one
        for one in home.loads))
    easy = frontier(quiet, BOOK).points[0]
    assert (first.coverage, easy.coverage) == (1.0, 1.0)
    assert IDS.index(first.supply.generator.id) == IDS.index(easy.supply.generator.id) + 1
    assert softened(first) == set()


def test_the_wish_for_the_order_is_free_at_the_farmhouse():
    """Without it the frontier is the same; the pump is must-run in every plan."""
    home = home_of("rural_propane_well")
    bound, free = (frontier(one, BOOK).points for one in (home, replace(home, never_before=())))
    assert [(one.cost_usd, one.coverage) for one in free] == [
        (one.cost_usd, one.coverage) for one in bound]
    assert all(one.load("well-pump").service == 1.0 for one in bound)


def test_the_town_house_leaves_circuits_off_for_nothing_and_pays_for_positions():
    """A circuit that is off costs nothing; plans that cover more take larger, dearer panels."""
    home = home_of("town_house_selected")
    small = replace(BOOK, generators=BOOK.generators[:6])  # to 15 kW: larger ones add no plan here
    assert not problems_of(home, small)[0].menu.off_cost.any()
    points = frontier(home, small).points
    panels = list(dict.fromkeys(one.price.transfer.positions for one in points))
    assert panels == sorted(panels)
    assert len(panels) >= 3
    offered = [one for one in BOOK.transfers if one.kind == "selected-circuits"]
    assert all(small.installed_usd < large.installed_usd for small, large in pairwise(offered))
    assert any(part.connection == "off" for part in points[0].loads)
    assert points[-1].coverage == pytest.approx(1.0)
    off = [sum(part.connection == "off" for part in one.loads) for one in (points[0], points[-1])]
    assert off[1] < off[0]


@pytest.mark.parametrize("name", ["no_plan_power", "no_plan_start", "no_plan_service"])
def test_a_home_without_a_plan_is_refused_for_the_reason_that_it_names(name):
    """The refusal says it of the largest size, with its numbers."""
    home = home_of(name)
    with pytest.raises(NoPlanError) as refused:
        frontier(home, BOOK)
    said = [refused.value.message, *(one.sentence for one in refused.value.findings)]
    assert any(REFUSALS[home.expected["no_plan"]] in one for one in said)
