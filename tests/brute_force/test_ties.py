"""Of plans equal in cost and coverage the smaller generator wins, then fewer modules.

Prices are round here, so that ties happen; the truth is full enumeration.
"""

from __future__ import annotations

import random
from dataclasses import replace

import pytest

from planner.errors import NoPlanError
from planner.facts.home import CodeEntry
from planner.facts.price_book import Controller, Module, SoftStarter, Transfer
from planner.search.cheapest import cheapest_of
from planner.search.frontier import frontier
from planner.search.limits import USUAL_LIMITS, SearchLimits
from planner.search.problem import problems_of
from tests.homes import base, book, events, generator, home, load, motor
from tests.oracle.market import Market
from tests.oracle.wild import wild_home

STEP = 250.0


def round_book(seed):
    """A book of four generators, two of one size, in which everything costs whole steps."""
    rng = random.Random(f"round {seed}")
    sizes = [replace(generator(kw, STEP * rng.randrange(4, 9), reactance=rng.choice([0.08, 0.2])),
                     id=name)
             for name, kw in (("d", 4.0), ("c", 7.0), ("b", 7.0), ("a", 12.0))]
    panel = Transfer("panel", "8 positions", "selected-circuits", 60.0, 8, STEP, STEP)
    switches = tuple(Transfer(f"switch-{a:g}", f"{a:g} A switch", "whole-house", a, 0, usd, 0.0)
                     for a, usd in ((30.0, 2 * STEP), (100.0, 3 * STEP)))
    return book(*sizes, transfers=(*switches, panel), relocation=STEP,
                modules=(Module("relay", "contactor", "contactor", 2, 60.0, 5.0, STEP, 0.0),),
                controllers=(Controller("small", "controller", 2, STEP, 0.0),
                             Controller("large", "large controller", 8, 2 * STEP, 0.0)),
                soft_starters=(SoftStarter("soft", "soft starter", 0.4, 40.0, STEP, 0.0),))


def small(seed):
    """A wild home of 2 to 4 loads besides its base, with the book of round prices."""
    kinds = (("whole-house",), ("selected-circuits", "whole-house"))[seed % 2]
    return replace(wild_home(seed, 2 + seed % 3), service_a=30.0,
                   transfer_kinds=frozenset(kinds)), round_book(seed)


def ties_of(one, sizes, usd, coverage):
    """(rating at this site, modules) of every plan equal to one, the best first."""
    market = Market(one, sizes)
    return sorted((market.limits[way.generator.id].derated_kw, way.modules)
                  for way in market.ways() if abs(way.usd - usd) < 1e-6
                  and abs(market.best(way) - coverage) <= 1e-9)


def rank(plan):
    """(rating at this site, modules) of a plan."""
    return plan.supply.derated_kw, plan.choice.modules


def assert_smallest(one, sizes, plan):
    """No plan equal to this one has a smaller generator, or as small a one with fewer modules."""
    assert rank(plan) == pytest.approx(ties_of(one, sizes, plan.cost_usd, plan.coverage)[0])


def plans_of(one, sizes, limits=USUAL_LIMITS):
    """Plans of the frontier; none where there is no plan."""
    try:
        return frontier(one, sizes, limits=limits).points
    except NoPlanError:
        return ()


@pytest.mark.parametrize("seed", range(100))
def test_every_plan_of_the_frontier_is_the_smallest_of_its_equals(seed):
    """Full enumeration finds no equal plan with a smaller generator or fewer modules."""
    one, sizes = small(seed)
    for plan in plans_of(one, sizes):
        assert_smallest(one, sizes, plan)


@pytest.mark.parametrize("seed", range(40))
def test_the_cheapest_for_a_goal_is_the_smallest_of_its_equals(seed):
    """The plan for a goal is looked for by itself, and settles ties like the frontier."""
    one, sizes = small(seed)
    for plan in plans_of(one, sizes):
        alone = cheapest_of(problems_of(one, sizes), one, sizes, plan.coverage)
        assert alone is not None
        assert alone.cost_usd == pytest.approx(plan.cost_usd)
        assert_smallest(one, sizes, alone)


@pytest.mark.parametrize("seed", range(100, 140))
def test_without_probing(seed):
    """Where it is not asked whether any order can do, ties are settled alike."""
    one, sizes = small(seed)
    for plan in plans_of(one, sizes, SearchLimits(probe=1)):
        assert_smallest(one, sizes, plan)


def test_ties_happen():
    """Among these homes many plans have an equal, and some an equal on another generator."""
    tied = [ties_of(one, sizes, plan.cost_usd, plan.coverage)
            for one, sizes in map(small, range(50)) for plan in plans_of(one, sizes)]
    assert sum(len(set(ranks)) > 1 for ranks in tied) >= 8
    assert sum(len({kw for kw, _ in ranks}) > 1 for ranks in tied) >= 4


def test_a_smaller_generator_that_costs_more_to_buy():
    """At one price for the whole plan the smaller generator wins, though it alone costs more."""
    one = home(base(0.5), load("heater", 4.0, use=events((8.0, 2.0))), service_a=30.0)
    switches = tuple(Transfer(f"switch-{a:g}", f"{a:g} A switch", "whole-house", a, 0, usd, 0.0)
                     for a, usd in ((40.0, 500.0), (100.0, 750.0)))
    sizes = book(generator(9.0, 2250.0), generator(12.0, 2000.0), transfers=switches)
    found = frontier(one, sizes).points
    assert [(p.cost_usd, p.supply.generator.id) for p in found] == [(2750.0, "set-9")]
    alone = cheapest_of(problems_of(one, sizes), one, sizes, 0.9)
    assert alone is not None
    assert alone.supply.generator.id == "set-9"


def test_of_the_same_generator_the_plan_with_fewer_modules():
    """Shedding a load or moving its circuit costs the same, and it is never served: it is moved.

    Beside the heater, which is always connected, a generator of 5 kW has no room for the spa.
    """
    one = home(base(0.5), load("heater", 4.0, use=events((8.0, 2.0)), importance=5,
                               allowed=frozenset({"direct"}), code=CodeEntry("appliance", 1000.0)),
               load("spa", 4.0, importance=1, use=events((8.0, 2.0)),
                    allowed=frozenset({"module", "off"})))
    sizes = book(generator(5.0, 2000.0, inertia_s=20.0), relocation=350.0)
    (plan,) = frontier(one, sizes).points
    assert {part.id: part.connection for part in plan.loads}["spa"] == "off"


def test_a_module_that_stays_open_is_one_of_the_modules():
    """The heater or the pump is served, never both, and each way costs the same.

    Off, the heater's module stays open (150 USD), as the dryer's has a controller, and the pump
    starts softly (100); or the pump, which no module suits, is moved (250), with a module less.
    """
    at_eight = {"use": events((8.0, 2.0)), "importance": 2, "allowed": frozenset({"direct", "off"})}
    one = home(base(0.5),
               load("dryer", 2.0, importance=5, use=events((18.0, 1.0)),
                    allowed=frozenset({"module"}), code=CodeEntry("appliance", 100.0)),
               load("heater", 4.0, code=CodeEntry("appliance", 900.0), **at_eight),
               replace(motor("pump", 4.0, 14.0, module_actions=frozenset(), **at_eight),
                       code=CodeEntry("appliance", 100.0)))
    sizes = book(generator(6.0, 2000.0, inertia_s=20.0), relocation=250.0,
                 modules=(Module("relay", "contactor", "contactor", 2, 60.0, 5.0, 150.0, 0.0,
                                 senses="call", largest_breaker_a=200.0),),
                 controllers=(Controller("small", "controller", 2, 100.0, 0.0),),
                 soft_starters=(SoftStarter("soft", "soft starter", 0.4, 40.0, 100.0, 0.0),))
    plans = frontier(one, sizes).points
    (plan,) = (each for each in plans if each.load("dryer").connection == "module")
    ranks = ties_of(one, sizes, plan.cost_usd, plan.coverage)
    assert [modules for _, modules in ranks] == [1, 2]
    assert rank(plan) == pytest.approx(ranks[0])
    assert plan.load("pump").connection == "off"
