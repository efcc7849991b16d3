"""How much a plan can bear is what the replay says just below and just above it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.facts.home import CodeEntry, Panel
from planner.plan.margin import PRECISION, Growth, Margin, grown_draws, margin_of, refusal_of
from planner.report.data import plan_data
from planner.report.tables.verify import margin_sentences
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.house import house_of
from planner.service.replay import replay
from planner.service.supply import supply_of
from tests.homes import base, book, cheapest, events, generator, home, load, motor, random_home

CASES = Path(__file__).parents[2] / "cases"


def first_plan(house, *sets):
    """Everything that must be direct is, the rest takes turns in file order, no soft starters."""
    problem = problems_of(house, book(*sets))[0]
    connection = tuple(MODULE if problem.menu.allowed[i, MODULE] and not item.must_run else DIRECT
                       for i, item in enumerate(house.loads))
    order = tuple(i for i, how in enumerate(connection) if how == MODULE)
    return problem.plan(Choice(connection, (0,) * len(connection), order))


def panels_home():
    """A home whose second panel is nearly full: growing draws overload it first."""
    return home(base(1.0), load("dryer", 5.0, panel="small", allowed=frozenset({"direct"})),
                motor("pump", 1.0, 24.0, must_run=True, allowed=frozenset({"direct"})),
                panels=(Panel("main", 200.0), Panel("small", 25.0, "main")))


HOMES = {
    "a must-run motor": lambda: first_plan(
        home(base(4.0), motor("pump", 2.0, 9.0, must_run=True, allowed=frozenset({"direct"})),
             load("dryer", 4.0, use=events((7.0, 1.0)))), generator(10.0, 1.0)),
    "a small panel": lambda: first_plan(panels_home(), generator(24.0, 1.0)),
    "turns": lambda: first_plan(
        home(base(6.0), motor("air", 3.0, 9.0, use=events((8.0, 2.0), (18.0, 2.0))),
             motor("well", 1.0, 11.0, must_run=True, allowed=frozenset({"direct"})),
             load("dryer", 5.0, wait_h=2.0, use=events((18.0, 1.0)))), generator(12.0, 1.0)),
}


def larger(plan, *, starts=0.0, draws=0.0):
    """Replay the choice of a plan on a home built anew, with everything multiplied.

    Starting kW is multiplied where the loads are tabled; it is not derived from kVA again.
    """
    old = plan.menu.house.home
    changed = replace(old, loads=tuple(
        replace(one, running_kw=one.running_kw * (1 + draws),
                running_kva=one.running_kva * (1 + draws),
                by_day={day: (kw * (1 + draws), kva * (1 + draws))
                        for day, (kw, kva) in one.by_day.items()}) for one in old.loads))
    house = house_of(changed)
    supply = supply_of(house_of(old), plan.supply.generator, plan.menu.book)
    supply = supply.with_starts(1 + starts)
    running_kw = house.draw[:, 0, :].max(axis=0)
    supply = replace(supply, start_kw=np.maximum(supply.start_kw, running_kw[:, None]))
    return refusal_of(plan, replay(house, supply, plan.choice))


@pytest.mark.parametrize("name", HOMES)
@pytest.mark.parametrize("what", ["starts", "draws"])
def test_below_the_margin_the_replay_accepts_and_at_it_refuses(name, what):
    """Checked on a home that is built anew with the larger numbers, not on scaled arrays."""
    plan = HOMES[name]()
    growth = getattr(margin_of(plan), what)
    assert larger(plan, **{what: growth.holds}) == ""
    assert growth.refused_at is not None
    assert growth.refused_at - growth.holds <= PRECISION + 1e-9
    assert larger(plan, **{what: growth.refused_at}) == growth.refusal != ""


def test_a_start_at_the_limit_leaves_no_margin():
    """The set starts exactly what the pump draws, so a thousandth more is refused."""
    plain = first_plan(home(base(0.5), motor("pump", 1.0, 4.0, allowed=frozenset({"direct"}))),
                       generator(10.0, 1.0))
    supply = plain.supply
    house = home(base(0.5), motor("pump", 1.0, supply.startable_kva,
                                  allowed=frozenset({"direct"})))
    plan = first_plan(house, generator(10.0, 1.0, short_time=5.0))
    growth = margin_of(plan).starts
    assert growth.holds <= PRECISION
    assert growth.refused_at == pytest.approx(0.0, abs=2 * PRECISION)
    assert "starting kVA" in growth.refusal
    assert growth.coverage_at_tenth is None


def test_a_home_without_motors_may_start_as_hard_as_it_likes():
    """Nothing starts, so nothing is refused up to twice the value; coverage stays."""
    plan = first_plan(home(base(1.0), load("dryer", 4.0)), generator(10.0, 1.0))
    growth = margin_of(plan).starts
    assert (growth.refused_at, growth.refusal, growth.holds) == (None, "", 1.0)
    assert growth.coverage_at_tenth == plan.coverage


def test_the_draw_margin_of_resistive_loads_is_the_headroom():
    """4 of 5 kW are always on, so 25 % more is the limit."""
    heat = load("heat", 4.0, allowed=frozenset({"direct"}), code=CodeEntry("heating", 0.0))
    plan = first_plan(home(heat), generator(5.0, 1.0, permitted_average=1.0))
    growth = margin_of(plan).draws
    assert growth.holds <= 0.25 + 1e-6
    assert growth.refused_at == pytest.approx(0.25, abs=PRECISION)
    assert "running power" in growth.refusal
    assert growth.coverage_at_tenth == plan.coverage


def test_a_panel_that_was_never_full_is_watched_as_draws_grow():
    """5 kW on a 25 A feeder is 20.8 A; the feeder is full at 20 % more, the generator is not."""
    growth = margin_of(HOMES["a small panel"]()).draws
    assert growth.holds == pytest.approx(0.2, abs=PRECISION)
    assert "panel small" in growth.refusal


def test_coverage_with_a_tenth_more_is_that_of_a_larger_home():
    """With draws 10 % up the turn load no longer fits beside the base, and loses its calls."""
    plan = first_plan(home(base(4.0), load("dryer", 5.5, use=events((7.0, 1.0)))),
                      generator(10.0, 1.0))
    assert plan.coverage == 1.0
    assert margin_of(plan).draws.coverage_at_tenth == 0.0


@pytest.mark.parametrize("seed", range(4))
def test_scaled_arrays_are_those_of_a_scaled_home(seed):
    """Scaling the arrays gives the replay of the home whose loads draw that much more."""
    old = random_home(seed, 4)
    loads = tuple(replace(one, running_kw=one.running_kw * 1.3, running_kva=one.running_kva * 1.3,
                          must_run=False) for one in old.loads)
    house = house_of(replace(old, loads=tuple(replace(one, must_run=False)
                                              for one in old.loads)))
    offered = book(generator(40.0, 1.0))
    supply = supply_of(house, offered.generators[0], offered)
    scaled, _ = grown_draws(house, supply, 0.3)
    larger_draw = house_of(replace(old, loads=loads)).draw
    assert scaled.draw[:, :3] == pytest.approx(larger_draw[:, :3])


def test_the_suburban_home_has_a_margin_that_the_replay_confirms():
    """A home with turns, a must-run pump and soft starters, from its file."""
    house = read_home(CASES / "suburban.toml")[0]
    plan = cheapest(house, read_book(CASES / "demo_price_book.toml")[0], 0.9)
    margin = margin_of(plan)
    for what in ("starts", "draws"):
        growth = getattr(margin, what)
        assert larger(plan, **{what: growth.holds}) == ""
        if growth.refused_at is not None:
            assert larger(plan, **{what: growth.refused_at}) == growth.refusal


def test_a_margin_is_never_rounded_up():
    """What is promised to hold is rounded down; what refuses is named, what is covered too."""
    starts = Growth(0.1569, 0.1575, "starting kVA", 0.912)
    said = margin_sentences(Margin(starts, Growth(1.0, None, "", 1.0)))
    assert said == [
        "All starts together may grow 15.6 % before the plan is refused; with 10 % more it keeps "
        "91.2 %. The limit reached then: starting kVA.",
        "All running draws together may grow 100 % and more before the plan is refused; with 10 % "
        "more it keeps 100 %."]


def test_nothing_is_said_about_coverage_where_a_tenth_more_is_refused():
    """A refused plan covers nothing."""
    tight = Growth(0.05, 0.051, "running power", None)
    assert margin_sentences(Margin(tight, tight))[0] == (
        "All starts together may grow 5 % before the plan is refused. The limit reached then: "
        "running power.")


def test_data_of_a_plan_hold_its_margin():
    """The same numbers as the margin itself, unrounded for all that matters."""
    plan = HOMES["turns"]()
    data, margin = plan_data(plan)["margin"], margin_of(plan)
    assert data["starts"]["holds"] == pytest.approx(margin.starts.holds, abs=1e-4)
    assert data["draws"]["refusal"] == margin.draws.refusal
    assert data["draws"]["coverage_at_tenth"] == pytest.approx(margin.draws.coverage_at_tenth)


def test_a_must_run_load_that_is_late_is_a_refusal():
    """The dryer is before the pump in the order; 10 % more and the pump would have to wait."""
    house = home(base(2.0), load("dryer", 5.0, use=events((7.0, 1.0))),
                 load("pump", 2.4, must_run=True, use=events((7.0, 0.5))))
    plan = problems_of(house, book(generator(10.0, 1.0)))[0].plan(
        Choice((DIRECT, MODULE, MODULE), (0, 0, 0), (1, 2)))
    growth = margin_of(plan).draws
    assert growth.refused_at == pytest.approx(10.0 / 9.4 - 1.0, abs=PRECISION)
    assert growth.refusal == "pump must run, but would wait or miss a call on day"
    assert growth.coverage_at_tenth is None
