"""Why not smaller: the conflict is one, the limit is the one, and the remedy is a remedy."""

from __future__ import annotations

from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.search.cheapest import cheapest_of
from planner.search.frontier import frontier_of
from planner.search.problem import sized
from planner.study.why_smaller import why_not_smaller
from planner.study.why_smaller.conflict import can_be_met, conflict_of, reaches
from planner.study.why_smaller.limits import binding_of, limits_of
from planner.study.why_smaller.remedies import remedies_of
from planner.study.wishes import (
    given_up,
    goal_after,
    goal_when_keeping,
    keeping,
    wishes_of,
    without,
)
from tests.homes import (
    base,
    book,
    cheapest,
    events,
    generator,
    home,
    load,
    motor,
    random_home,
    task,
)

CASES = Path(__file__).parents[3] / "cases"
GOAL = 0.9


@pytest.fixture(scope="module")
def offered():
    """Five sizes, the smallest too small for most."""
    return book(generator(5.0, 2500.0), generator(6.0, 3000.0), generator(8.0, 4000.0),
                generator(12.0, 6000.0), generator(24.0, 9000.0))


@pytest.fixture(scope="module")
def evening():
    """Three loads that want to run together in the evening, and none may wait for long."""
    return home(base(0.5), task("range", 5.0, (18.0, 1.0), importance=4),
                task("dryer", 4.5, (18.0, 1.0), importance=2, wait_h=1.0),
                motor("air", 3.0, 9.0, importance=5, wait_h=0.25, use=events((16.0, 4.0))))


def from_cases(name):
    """One of the homes in cases/ with the demonstration prices."""
    return read_home(CASES / f"{name}.toml")[0], read_book(CASES / "demo_price_book.toml")[0]


def assert_irreducible(house, prices, size, goal):
    """Together the wishes cannot be met at this size; all but any one of them can."""
    found = conflict_of(house, prices, size, goal)
    assert not can_be_met(house, prices, size, goal, found.wishes)
    for wish in found.wishes:
        assert can_be_met(house, prices, size, goal, without(found.wishes, wish)), wish
    return found


@pytest.mark.parametrize("size", ["set-5", "set-6"])
def test_a_conflict_is_one_and_has_no_part_too_many(evening, offered, size):
    """Its wishes cannot be met together at any price, and dropping any one makes it possible."""
    found = assert_irreducible(evening, offered, size, GOAL)
    assert found.wishes


def test_a_conflict_of_a_real_home_is_irreducible():
    """So it is where the code decides what may always be on."""
    house, prices = from_cases("gas_heated_small")
    found = assert_irreducible(house, prices, "air-8-5", 0.0)
    assert {(wish.kind, wish.comfort) for wish in found.wishes} >= {("must-run", "pit")}


def test_several_wishes_dropped_at_once_leave_what_one_by_one_leaves(offered):
    """The conflict is that of the plain filter, which drops one wish after the other."""
    compared = 0
    for seed, size in product(range(12), ("set-5", "set-8", "set-12")):
        house = random_home(seed, 5)
        kept = wishes_of(house)
        if can_be_met(house, offered, size, 1.0, kept):
            continue
        for wish in wishes_of(house):
            fewer = without(kept, wish)
            if not can_be_met(house, offered, size, 1.0, fewer):
                kept = fewer
        assert conflict_of(house, offered, size, 1.0).wishes == tuple(reversed(kept))
        compared += 1
    assert compared > 12


def test_the_conflict_is_confirmed_without_the_search_for_one_plan(evening, offered):
    """The whole frontier of the reduced home stays below the goal."""
    found = conflict_of(evening, offered, "set-6", GOAL)
    plans = frontier_of(sized(found.home, offered, "set-6"), found.home, offered).points
    assert max(plan.coverage for plan in plans) < found.coverage


def test_giving_up_a_wish_never_makes_the_rest_harder(evening, offered):
    """What can be met with some wishes can be met with fewer: this is what makes the walk exact."""
    wishes = wishes_of(evening)
    for size in ("set-6", "set-8", "set-12"):
        met = [can_be_met(evening, offered, size, GOAL, wishes[start:])
               for start in range(len(wishes) + 1)]
        assert met == sorted(met), size


def test_what_is_given_up_does_not_raise_the_share_that_may_be_missed(evening):
    """With every wish kept the goal is the goal; a tenth of all importance is forgiven, no more."""
    wishes = wishes_of(evening)
    assert goal_when_keeping(evening, wishes, GOAL) == pytest.approx(GOAL)
    kept = [wish for wish in wishes if wish.load_ids == ("air",)]
    assert goal_when_keeping(evening, kept, GOAL) == pytest.approx(1.0 - 0.1 * 11.0 / 5.0)
    assert goal_when_keeping(evening, [], GOAL) == 0.0


def test_a_load_that_a_kept_one_needs_stays(offered):
    """An air conditioner cannot be kept while its blower is taken away."""
    house = home(base(0.5), load("blower", 0.5, must_run=True),
                 motor("air", 3.0, 9.0, requires=("blower",)))
    air = next(wish for wish in wishes_of(house) if wish.load_ids == ("air",))
    blower = keeping(house, [air]).load("blower")
    assert (blower.must_run, blower.importance) == (False, 0)
    assert "direct" in blower.allowed
    assert keeping(house, []).load("blower").allowed == {"off"}
    assert can_be_met(house, offered, "set-12", GOAL, [air])


def test_the_number_of_the_limit_is_where_it_turns(evening, offered):
    """With the least value found the wishes can be met; a little below it they cannot."""
    conflict = conflict_of(evening, offered, "set-6", GOAL)
    found = binding_of(conflict, offered, "set-6")
    problems = sized(conflict.home, offered, "set-6")
    limits = {limit.key: limit for limit in limits_of(problems[0])}

    def met(value_of):
        def changed(problem):
            for one in found.shortages if found.together else found.shortages[:1]:
                problem = limits[one.key].moved(problem, value_of(one))
            return problem

        return reaches(problems, conflict.coverage, changed)

    assert found.shortages
    assert all(one.needed > one.given for one in found.shortages)
    assert met(lambda one: one.needed)
    assert not met(lambda one: one.needed - one.within)


def test_a_limit_that_is_lifted_in_vain_is_not_named(offered):
    """Where only running power is short, no other limit is blamed."""
    house = home(base(0.5), load("oven", 7.0, must_run=True, use=events((18.0, 1.0))),
                 code=replace(home().code, edition="2023"))
    roomy = book(generator(6.0, 3000.0, ratings={
        "natural gas": replace(generator(6.0, 1.0).ratings["natural gas"], amperes=80.0)}))
    conflict = conflict_of(house, roomy, "set-6", 0.0)
    found = binding_of(conflict, roomy, "set-6")
    assert [wish.load_ids for wish in conflict.wishes] == [("oven",)]
    keys = {one.key for one in found.shortages}
    assert "running" in keys
    assert not keys & {"legs", "start-power", "start-dip"}


def test_the_calculated_load_lifted_alone_moves_nothing_else(evening, offered):
    """Room for the code is not a larger engine: what a slot counts at least stays as it was."""
    (problem,) = sized(evening, offered, "set-6")
    code = next(limit for limit in limits_of(problem) if limit.key == "code")
    lifted = code.moved(problem, 40.0).supply
    assert lifted.derated_kw == 40.0
    assert lifted.floor_kw == pytest.approx(0.3 * problem.supply.derated_kw)
    assert lifted.average_kw == problem.supply.average_kw


def test_every_remedy_is_one(evening, offered):
    """Planned afresh with the change, the size reaches the goal at the price that was said."""
    conflict = conflict_of(evening, offered, "set-6", GOAL)
    found = remedies_of(evening, offered, "set-6", GOAL, conflict.wishes, ["dryer", "range", "air"])
    assert found
    assert [one.cost_usd for one in found] == sorted(one.cost_usd for one in found)
    for one in found:
        again = cheapest_of(sized(one.home, offered, "set-6"), one.home, offered,
                            goal_after(evening, one.home, GOAL))
        assert again is not None
        assert again.cost_usd == pytest.approx(one.cost_usd)
        assert one.home != evening


def test_every_smaller_size_is_explained_largest_first(evening, offered):
    """Each either would do but costs no less, or has a conflict; nothing larger is listed."""
    plan = cheapest(evening, offered, GOAL)
    sizes = why_not_smaller(evening, offered, plan, GOAL)
    kw = [size.derated_kw for size in sizes]
    assert kw == sorted(kw, reverse=True)
    assert kw
    assert kw[0] < plan.supply.derated_kw
    for size in sizes:
        assert (size.enough is None) == (size.conflict is not None)
        if size.enough is not None:
            assert size.enough.cost_usd >= plan.cost_usd - 1e-6
        elif size.most is not None:
            assert size.most.coverage < GOAL


def test_giving_up_says_what_it_says(evening):
    """A must-run load becomes a comfort; a comfort loses its importance and may be left off."""
    house = replace(evening, never_before=(("dryer", "air"),), order_rule="importance")
    by_kind = {wish.kind: wish for wish in wishes_of(house)}
    assert given_up(house, by_kind["order"]).order_rule == "free"
    assert given_up(house, by_kind["never-before"]).never_before == ()
    dropped = given_up(house, by_kind["comfort"])
    load_id = by_kind["comfort"].load_ids[0]
    assert dropped.load(load_id).importance == 0
    assert "off" in dropped.load(load_id).allowed


@pytest.mark.parametrize(("wait_h", "longer_h"), [
    (0.0, 1.0), (0.5, 1.0), (3.0, 6.0), (12.0, 23.75)])
def test_a_longer_wait_is_twice_as_long(wait_h, longer_h):
    """An hour where there was none, else double; never beyond the day in which a call ends."""
    house = home(base(0.5),
                 task("oven", 5.0, (0.0, wait_h + 0.5), importance=5),
                 task("dryer", 4.5, (0.0, 0.5), importance=3, wait_h=wait_h))
    offered = book(generator(6.0, 3000.0))
    assert frontier_of(sized(house, offered, "set-6"), house, offered).covering(1.0) is None
    (found,) = [one for one in remedies_of(house, offered, "set-6", 1.0, (), ["dryer"])
                if one.kind == "longer-wait"]
    assert (found.before, found.after) == (wait_h, longer_h)
    assert found.home.load("dryer").wait_h == longer_h


def test_a_larger_dip_is_the_largest_that_contactors_bear():
    """30 % and no more: what starts within it is a remedy, what takes 31 % is not."""
    for kva, helps in ((12.8, True), (13.5, False)):
        air = replace(motor("air", 2.0, kva, importance=5, use=events((12.0, 2.0))),
                      soft_start_fits=False)
        house = home(base(0.5), air)
        offered = book(generator(6.0, 3000.0))
        found = [one for one in remedies_of(house, offered, "set-6", 1.0, (), [])
                 if one.kind == "larger-dip"]
        assert [one.after for one in found] == ([0.30] if helps else [])
        assert (0.2 * kva / 6.0) / (1 + 0.2 * kva / 6.0) < 0.3001 or not helps


def test_a_wish_about_the_order_may_be_dropped():
    """Where only the order forbids a plan, dropping the pair is a remedy, and it is planned."""
    house = home(base(0.5), task("oven", 5.0, (18.0, 1.0), importance=5),
                 task("dryer", 4.0, (18.0, 0.5), importance=1, wait_h=3.0),
                 never_before=(("oven", "dryer"),))
    offered = book(generator(6.0, 3000.0))
    found = {one.kind: one for one in remedies_of(house, offered, "set-6", 1.0, (), [])}
    assert found["drop-pair"].home.never_before == ()
    assert found["drop-pair"].plan.coverage == 1.0
