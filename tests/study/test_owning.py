"""Owning cost follows from price, time and fuel, and its frontier holds nothing that is beaten."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from planner.errors import NoPlanError
from planner.facts.home import DesignDay, Use
from planner.facts.price_book import FuelUse
from planner.search.frontier import frontier, frontier_by_size
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.study.basis import Basis
from planner.study.owning import OwningCost, owning_cost, owning_frontier, unbeaten_by
from tests.homes import ALL, base, book, events, generator, home, load
from tests.oracle.wild import wild_book, wild_home

TEN_KW = generator(10.0, 3000.0)  # burns 33 333 Btu/h idle, 60 000 at 5 kW, 150 000 at 10 kW
TIRELESS = replace(TEN_KW, permitted_average=1.0)  # may give all of its rating all day
BASIS = Basis(years=5.0, outage_h_per_year=40.0)


def only_plan(house, offered, *connection):
    """Plan a home with its one set; loads that take turns do so in the order of the file."""
    turns = tuple(i for i, how in enumerate(connection) if how == MODULE)
    problem = problems_of(house, offered)[0]
    return problem.plan(Choice(connection, (0,) * len(connection), turns))


def test_a_steady_load_by_hand():
    """1 kW of 10 kW: 33 333 + 0.2 x 26 667 = 38 667 Btu/h = 0.38667 therm/h; 200 h in all."""
    plan = only_plan(home(base(1.0)), book(TEN_KW, maintenance_per_year=150.0), DIRECT)
    cost = owning_cost(plan, BASIS)
    assert cost.fuel_unit == "therm"
    assert cost.fuel_per_h == pytest.approx(0.386667, abs=1e-6)
    assert cost.fuel_usd == pytest.approx(0.386667 * 1.2 * 200.0, abs=1e-3)
    assert cost.maintenance_usd == 750.0
    assert cost.installed_usd == 3900.0  # the set and the switch, 600 and 300 USD
    assert cost.usd == pytest.approx(3900.0 + 750.0 + 92.80, abs=1e-3)


def test_propane_is_counted_in_gallons():
    """The same heat in liquid propane of 91 452 Btu/gal (EIA): 0.42281 gal/h at 2.60 USD."""
    plan = only_plan(home(base(1.0), fuel="propane"), book(TEN_KW), DIRECT)
    cost = owning_cost(plan, BASIS)
    assert (cost.fuel_unit, cost.fuel_per_h) == ("gal", pytest.approx(0.422808, abs=1e-6))
    assert cost.fuel_usd == pytest.approx(0.422808 * 2.6 * 200.0, abs=1e-3)


def test_fuel_is_burned_slot_by_slot():
    """Half a day at 8 kW burns 114 000 Btu/h, half at 2 kW 44 000: 79 000, not the 60 000 of 5 kW.

    8 kW: 60 000 + 0.6 x 90 000. 2 kW: 33 333 + 0.4 x 26 667.
    """
    house = home(base(2.0), load("oven", 6.0, use=events((0.0, 12.0))))
    cost = owning_cost(only_plan(house, book(TEN_KW), DIRECT, MODULE), BASIS)
    assert cost.fuel_per_h == pytest.approx(0.79)


def test_design_days_count_by_their_weight():
    """Summer, three times as likely, at 8 kW all day, winter at 2 kW: (3 x 114 + 44) / 4 = 96.5."""
    days = (DesignDay("hot", "hot", "summer", 3.0, 70.0, 90.0),
            DesignDay("cold", "cold", "winter", 1.0, 20.0, 40.0))
    house = home(base(2.0), load("pump", 6.0, use={"summer": Use(kind="always")}), days=days)
    cost = owning_cost(only_plan(house, book(TIRELESS), DIRECT, MODULE), BASIS)
    assert cost.fuel_per_h == pytest.approx(0.965)


def test_what_is_not_served_burns_nothing():
    """Fuel follows the load that the plan carries, not the load that the home calls for."""
    house = home(base(2.0), load("pump", 6.0, allowed=ALL))
    without, always = (owning_cost(only_plan(house, book(TIRELESS), DIRECT, how), BASIS)
                       for how in (OFF, MODULE))
    assert without.fuel_per_h == pytest.approx(0.44)
    assert always.fuel_per_h == pytest.approx(1.14)


def test_the_full_load_figure_belongs_to_the_rating_before_derating():
    """At 5500 ft the set gives 8.5 kW, but 1 kW burns what it burns at sea level."""
    low, high = (only_plan(home(base(1.0), altitude_ft=feet), book(TEN_KW), DIRECT)
                 for feet in (0.0, 5500.0))
    assert high.supply.derated_kw == pytest.approx(8.5)
    assert owning_cost(high, BASIS).fuel_per_h == owning_cost(low, BASIS).fuel_per_h


def test_without_outages_only_maintenance_is_added():
    """No hour without the utility, no fuel."""
    plan = only_plan(home(base(1.0)), book(TEN_KW, maintenance_per_year=150.0), DIRECT)
    assert owning_cost(plan, Basis(2.0, 0.0)).usd == plan.cost_usd + 300.0


@given(st.lists(st.floats(0.0, 1e6), min_size=3, max_size=3))
def test_the_whole_is_the_sum_of_its_parts(parts):
    """Nothing else is in the owning cost: no interest."""
    assert OwningCost(*parts, 1.0, "therm").usd == pytest.approx(sum(parts))


@pytest.mark.parametrize("wrong", [{"years": 0.0}, {"years": -1.0}, {"years": float("nan")},
                                   {"years": float("inf")}, {"outage_h_per_year": -0.1},
                                   {"outage_h_per_year": 9000.0},
                                   {"outage_h_per_year": float("nan")}])
def test_what_is_no_time_is_refused(wrong):
    """Years are above zero, outage hours between none and all of a year."""
    with pytest.raises(ValueError, match=r"must be above 0|lie between 0 and 8784"):
        Basis(**wrong)


POINTS = st.tuples(st.integers(1, 6), st.integers(1, 6))


@given(st.lists(POINTS, max_size=12))
def test_unbeaten_is_what_no_other_beats(points):
    """Pair by pair: no kept plan is beaten or matched, every missing one is; by rising cost."""
    plans = [SimpleNamespace(usd=100.0 * usd, coverage=covered / 6.0) for usd, covered in points]
    kept = unbeaten_by(plans, lambda plan: plan.usd)
    assert_unbeaten(kept, plans, lambda plan: plan.usd)
    assert [plan.usd for plan in kept] == sorted({plan.usd for plan in kept})
    assert bool(kept) == bool(plans)


def test_noise_of_floats_makes_no_second_plan():
    """Less than a millionth of a dollar and a billionth of coverage apart, the first is kept."""
    plans = [SimpleNamespace(usd=usd, coverage=covered) for usd, covered in
             ((1000.0, 0.9), (1000.0 - 1e-10, 0.9 - 1e-13), (1000.5, 0.9 + 1e-13))]
    assert unbeaten_by(plans, lambda plan: plan.usd) == (plans[0],)


def test_a_thriftier_set_takes_the_place_of_a_cheaper_one():
    """100 dollars dearer, 0.19 therm/h thriftier: it wins from 431 outage hours on.

    Idle and half-load figures of the thrifty set are halved: 19 333 against 38 667 Btu/h at 1 kW,
    0.193333 therm/h x 1.20 USD = 0.232 USD/h; 100 / 0.232 = 431.03 h.
    """
    use = FuelUse(1e5 / 6, 3e4, 1.5e5)
    thrifty = generator(10.0, 3100.0, id="thrifty", ratings={
        fuel: replace(one, fuel=use) for fuel, one in TEN_KW.ratings.items()})
    offered = book(TEN_KW, thrifty)
    house = home(base(1.0))
    assert [p.supply.generator.id for p in frontier(house, offered).points] == ["set-10"]
    for outage_h, expected in ((430.0, "set-10"), (432.0, "thrifty")):
        plans = owning_frontier(house, offered, Basis(10.0, outage_h / 10.0))
        assert [plan.supply.generator.id for plan in plans] == [expected]


def beats(one, other, cost):
    """Whether a plan is better on one count and no worse on the other, beyond noise."""
    saved_usd, gained = cost(other) - cost(one), one.coverage - other.coverage
    return saved_usd >= -1e-6 and gained >= -1e-9 and (saved_usd > 1e-5 or gained > 1e-8)


def assert_unbeaten(kept, plans, cost):
    """No kept plan is beaten; every other one is beaten or matched by a kept one."""
    assert not any(beats(one, other, cost) for one in plans for other in kept)
    assert all(any(cost(one) <= cost(plan) + 1e-6 and one.coverage >= plan.coverage - 1e-9
                   for one in kept) for plan in plans)


@settings(max_examples=60)
@given(seed=st.integers(10_000, 99_999), size=st.integers(2, 4),
       outage_h=st.sampled_from([0.0, 24.0, 500.0, 4000.0]))
def test_no_plan_of_the_owning_frontier_is_beaten(seed, size, outage_h):
    """By none of the plans looked at; and whichever of them is missing is beaten or matched."""
    house, basis = wild_home(seed, size), Basis(10.0, outage_h)
    offered = thrift(wild_book(seed))
    try:
        common = frontier(house, offered).points
    except NoPlanError:
        assume(False)
    looked_at = [*common, *(plan for one in frontier_by_size(house, offered).values()
                            for plan in one.points)]
    kept = owning_frontier(house, offered, basis)
    assert_unbeaten(kept, looked_at, lambda plan: owning_cost(plan, basis).usd)
    known = {(plan.supply.generator.id, plan.menu.kind, plan.choice) for plan in looked_at}
    assert known >= {(plan.supply.generator.id, plan.menu.kind, plan.choice) for plan in kept}
    if not outage_h:
        assert [plan.choice for plan in kept] == [plan.choice for plan in common]


def thrift(offered):
    """Let the dearer sets of a book burn less, so that owning and buying disagree."""
    sets = sorted(offered.generators, key=lambda one: one.price)
    return replace(offered, generators=tuple(
        replace(one, ratings={fuel: replace(rating, fuel=FuelUse(
            *(figure / (1.0 + rank) for figure in (4e4, 9e4, 2e5))))
            for fuel, rating in one.ratings.items()}) for rank, one in enumerate(sets)))


@pytest.mark.parametrize("ask", [
    lambda house, offered, tell: frontier_by_size(house, offered, on_progress=tell),
    lambda house, offered, tell: owning_frontier(house, offered, BASIS, on_progress=tell)])
def test_progress_never_falls_and_ends_at_the_whole(ask):
    """Over the sizes the share done only grows, from none to all."""
    told = []
    house = home(base(1.0), load("dryer", 5.0, use=events((7.0, 1.0))))
    ask(house, book(TEN_KW, generator(6.0, 2000.0), generator(14.0, 4000.0)), told.append)
    assert told == sorted(told)
    assert (told[0], told[-1]) == (0.0, 1.0)
    assert len(set(told)) > 3


def test_a_home_without_a_plan_says_why():
    """As the frontier does."""
    with pytest.raises(NoPlanError):
        owning_frontier(home(base(50.0)), book(TEN_KW), BASIS)
