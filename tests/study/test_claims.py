"""What is only not found is not called impossible: every claim is held against its proof."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import NoPlanError, NotFoundError
from planner.report.ended_words import open_sentence, search_sentences, unsure_sentences
from planner.report.order_words import other_rule_sentence
from planner.report.smaller_words import smaller_sentences
from planner.report.tables.smaller import smaller_table
from planner.report.tables.wishes import free_sentences, wish_sentences
from planner.search.frontier import Frontier, frontier, frontier_of
from planner.search.limits import SearchLimits, Stop, limits_for
from planner.search.problem import problems_of
from planner.study.any_price import reach_of
from planner.study.compare import compare
from planner.study.order_reasons import OtherRule
from planner.study.recommend import recommend
from planner.study.smallest import smallest
from planner.study.why_smaller import why_not_smaller
from planner.study.wish_cost import wish_costs
from tests.homes import base, book, cheapest, events, generator, home, motor, task
from tests.oracle.every_plan import true_frontier
from tests.oracle.wild import wild_book, wild_home

GOAL = 0.9
SHORT = SearchLimits(nodes=1, probe=1, all_nodes=1)
OVER = ("at any price", "out of its reach", "The most it keeps", "It cannot", "Nothing would be",
        "could not be connected")


@pytest.fixture(scope="module")
def evening():
    """Three loads that want to run together in the evening, and none may wait for long."""
    return home(base(0.5), task("range", 5.0, (18.0, 1.0), importance=4),
                task("dryer", 4.5, (18.0, 1.0), importance=2, wait_h=1.0),
                motor("air", 3.0, 9.0, importance=5, wait_h=0.25, use=events((16.0, 4.0))))


@pytest.fixture(scope="module")
def offered():
    """Four sizes, the smallest too small for most."""
    return book(generator(5.0, 2500.0), generator(6.0, 3000.0), generator(8.0, 4000.0),
                generator(12.0, 6000.0))


@pytest.fixture
def hurried(monkeypatch):
    """Let the questions that are asked by the dozen be searched for next to no time."""
    monkeypatch.setattr("planner.study.quick.QUICK", SHORT)
    monkeypatch.setattr("planner.study.quick.HASTY", SHORT)


@pytest.mark.parametrize("nodes", [1, 20, 100_000])
@pytest.mark.parametrize("seed", range(25))
def test_what_is_called_impossible_is(seed, nodes):
    """No plan reaches a goal where a search, however short, says no; with time it always knows."""
    one, sizes = wild_home(seed, 2 + seed % 3), wild_book(seed)
    truth = true_frontier(one, sizes)
    limits = SearchLimits(nodes=nodes, probe=1, all_nodes=20 * nodes)
    for goal in (0.0, 0.7, 1.0):
        there_is = any(offer.coverage >= goal - 1e-9 for offer in truth)
        said = reach_of(problems_of(one, sizes, limits), goal)
        assert said in ((True, None) if there_is else (False, None))
        assert said is not None or nodes < 100_000


def test_a_size_that_was_hardly_looked_at_is_not_called_too_small(evening, offered, hurried):
    """Neither its conflict nor the most that it keeps is stated as a fact."""
    plan = cheapest(evening, offered, GOAL)
    unsure = [one for one in why_not_smaller(evening, offered, plan, GOAL) if not one.proven]
    assert unsure
    for size in unsure:
        said = " ".join(smaller_sentences(size, plan, GOAL))
        assert not [words for words in OVER if words in said]
        assert "found" in said or "not known" in said
        assert "out of reach" not in str(smaller_table([size], GOAL).cells)


def test_with_time_the_same_is_stated_as_a_fact(evening, offered):
    """The usual search of this home is a proof: what cannot be is called so."""
    plan = cheapest(evening, offered, GOAL)
    found = why_not_smaller(evening, offered, plan, GOAL)
    assert all(size.proven for size in found)
    said = " ".join(" ".join(smaller_sentences(size, plan, GOAL)) for size in found)
    assert "out of its reach" in said
    assert "at any price" in said
    assert "out of reach" in str(smaller_table(found, GOAL).cells)


def test_no_saving_is_claimed_where_none_was_looked_for(evening, offered, hurried):
    """Where the search was cut short: "no saving was found", "none found", "at least"."""
    plan = cheapest(evening, offered, GOAL)
    found = wish_costs(evening, offered, plan, GOAL)
    assert not all(one.proven for one in found)
    said = " ".join((*free_sentences([one for one in found if not one.proven]),
                     *wish_sentences([one for one in found if not one.proven])))
    assert not [words for words in (*OVER, "not possible") if words in said]
    assert "No saving was found" in said


def test_a_saving_that_is_proven_is_a_fact(evening, offered):
    """The usual search of this home proves every price."""
    plan = cheapest(evening, offered, GOAL)
    found = wish_costs(evening, offered, plan, GOAL)
    assert all(one.proven for one in found)
    said = " ".join((*free_sentences(found), *wish_sentences(found)))
    assert "was found" not in said
    assert "at least" not in said


@pytest.mark.parametrize(("proven", "words"), [
    (True, "no plan of that kind keeps 90.0 %"),
    (False, "no plan of that kind was found that keeps 90.0 %")])
def test_the_other_rule_is_impossible_only_by_proof(evening, offered, proven, words):
    """And of the same equipment only what was found is said."""
    plan = cheapest(evening, offered, GOAL)
    other = OtherRule(by_importance=True, same_equipment=None, plan=None, proven=proven)
    said = other_rule_sentence(plan, other, GOAL, plan)
    assert words in said
    assert "no order of the same equipment was found that keeps what must run" in said


def test_a_goal_above_what_was_found_is_impossible_only_by_proof(evening, offered, monkeypatch):
    """A frontier that leaves the goal open refuses it as not found, with what was found."""
    small = replace(offered, generators=offered.generators[:1])
    known = frontier(evening, small)
    with pytest.raises(NoPlanError, match=r"covers 99 %. The most is") as refused:
        recommend(evening, small, 0.99, known=known)
    assert not isinstance(refused.value, NotFoundError)
    monkeypatch.setattr("planner.study.recommend.cheapest_of", lambda *_: None)
    with pytest.raises(NotFoundError, match=r"was found; whether there is one is not known. The "
                                            r"most that was found is"):
        recommend(evening, small, 0.99, known=replace(known, still_open=((0.0, 1.0),)))


def test_a_goal_that_the_frontier_left_open_is_looked_for_by_itself(evening, offered):
    """A frontier that was cut short does not hide a plan that a search for the goal finds."""
    known = frontier(evening, offered)
    wanted = known.covering(GOAL)
    cut = Frontier(tuple(one for one in known.points if one.coverage < GOAL), ((0.0, 1.0),))
    found = recommend(evening, offered, GOAL, known=cut, share=0.0)
    assert found.plan.cost_usd == pytest.approx(wanted.cost_usd)


def test_a_price_below_what_was_found_is_impossible_only_by_proof(evening, offered):
    """Where something cheaper is open, a plan for less is not denied."""
    known = frontier(evening, offered)
    less_usd = known.points[0].cost_usd - 100.0
    with pytest.raises(NoPlanError, match=r"costs .* or less\. The cheapest that") as refused:
        recommend(evening, offered, budget_usd=less_usd, known=known)
    assert not isinstance(refused.value, NotFoundError)
    with pytest.raises(NotFoundError, match="was found; whether there is one is not known"):
        recommend(evening, offered, budget_usd=less_usd,
                  known=replace(known, still_open=((less_usd - 1.0, 0.5),)))


def test_an_open_frontier_says_what_is_open(evening, offered):
    """Nothing where all is proven; else by how much, and whether something may be cheaper."""
    known = frontier(evening, offered)
    assert open_sentence(known) == ""
    first, *rest = known.points
    wide = replace(known, points=(*rest, replace(first, bound=first.coverage + 0.0123)))
    assert "may keep up to 1.3 points more for its price" in open_sentence(wide)
    assert "may be cheaper than the first" in open_sentence(
        replace(known, still_open=((first.cost_usd - 1.0, 0.1),)))


def test_sizes_that_a_stop_left_out_are_not_called_impossible(evening, offered):
    """They stand under not found, and the words say that it is not known."""
    ids = [one.id for one in offered.generators]
    everything = compare(evening, offered, ids, coverage=GOAL)
    assert unsure_sentences(everything, GOAL) == ()
    left_out = 0
    for looks in range(2, 40, 4):
        asked = iter([False] * looks + [True] * 100_000)
        limits = limits_for(stop=Stop(asked=asked.__next__))
        try:
            found = compare(evening, offered, ids, coverage=GOAL, limits=limits)
        except NotFoundError:
            continue
        assert set(found.missing) <= set(everything.missing)
        assert found.reference_known or found.reference is None
        said = " ".join(unsure_sentences(found, GOAL))
        assert bool(found.not_found) == ("can serve the home; no plan was found." in said)
        left_out += bool(found.not_found)
    assert left_out


def test_the_smallest_is_called_so_only_where_that_is_known(evening, offered, monkeypatch):
    """Where a smaller size was left open, the answer says so."""
    truth = smallest(evening, offered, GOAL)
    assert not truth.smaller_open

    def looked_at(problems, *rest, **more):
        if problems[0].menu.generator.id == "set-5":
            raise NotFoundError("Not looked at.")
        return frontier_of(problems, *rest, **more)

    monkeypatch.setattr("planner.study.smallest.frontier_of", looked_at)
    found = smallest(evening, offered, GOAL)
    assert found.smaller_open
    assert found.plan.choice == truth.plan.choice
    assert "Whether a smaller generator would do as well is not known." in search_sentences(
        replace(found, smaller_open=True), None)


@pytest.mark.parametrize("seconds", [5, 20, 60, 200, 1000, 10_000])
def test_a_clock_never_turns_what_was_not_found_into_a_fact(evening, offered, seconds):
    """At any time: a plan that reaches the goal, or the most so far, marked; or nothing found."""
    looks = iter(range(10_000_000))
    stop = Stop(float(seconds), clock=lambda: float(next(looks)))
    try:
        found = recommend(evening, offered, GOAL, share=0.0,
                          limits=limits_for(seconds=seconds, stop=stop))
    except NotFoundError:
        assert stop.ended == "clock"
        return
    assert found.reached == (found.plan.coverage >= GOAL)
    assert found.plan.bound is not None
    whole = frontier(evening, offered)
    best = max(one.coverage for one in whole.points if one.cost_usd <= found.plan.cost_usd + 1e-6)
    assert found.plan.bound >= best - 0.0005 - 1e-9
    if not found.reached:
        assert "No plan that keeps 90.0 % was found by then" in " ".join(
            search_sentences(found, stop))
