"""The page of wishes: the goal, pairs, an order of one's own, prices of wishes, what is stale."""

from __future__ import annotations

import threading
import tomllib

import pytest

from planner.report.comforts.family_comforts import like_sentence
from planner.report.words import instead_of, money, share
from planner.study.confidence import TO_QUOTE
from planner.study.own_order import in_own_order
from planner.study.recommend import recommend
from planner.wiring.promises import promise_text
from tests.ui.opening import (
    SMALL,
    left,
    on_the_table,
    opened,
    said,
    settled,
    told,
    turned,
    two_plans,
)
from ui import answers
from ui.demos import demo_text
from ui.readings import book_of, home_of

PRICES = ("wishes", "reasons")  # what each wish costs, and why this order


def never_before(found):
    """Read the pairs of the file on the table."""
    return tomllib.loads(found.home_text).get("wishes", {}).get("never_before", [])


def plan_of(found):
    """Give the plan that was recommended, as the desk of the visitor knows it."""
    case = answers.Case(found, home_of(found).facts, book_of(found).facts)
    known = answers.recommended(case).value
    assert known is not None
    return known.plan


def test_the_recommended_plan_is_the_engines():
    """Generator, price and coverage on the page are those that every command recommends.

    The cheapest in the house as it is assumed is there for who asks for it.
    """
    found = on_the_table(SMALL)
    at = settled(opened(found, "wishes"), leaving=PRICES)
    home, book = home_of(found).facts, book_of(found).facts
    cheapest, sturdy = (recommend(home, book, found.goal.coverage, share=least)
                        for least in (0.0, TO_QUOTE))
    words = told(at)
    assert sturdy.plan.supply.generator.label in words
    assert money(sturdy.plan.cost_usd) in words
    assert share(sturdy.plan.coverage) in words
    assert f"holds in {sturdy.confidence.of_100} of 100 houses like this" in words
    assert sturdy.plan.cost_usd > cheapest.plan.cost_usd
    assert "Provisional" not in words
    at.button(key="take cheapest").click()
    words = told(settled(at, leaving=PRICES))
    assert money(cheapest.plan.cost_usd) in words
    assert "A quote takes 75 of 100" in words


def test_what_an_outage_is_like_stands_beside_the_wishes():
    """The room's temperature on the hardest days and what is as always, before any load."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "wishes"), leaving=PRICES)
    room = plan_of(found).comforts[0]
    words = told(at)
    assert like_sentence(room, plan_of(found)) in words
    assert "degF" in like_sentence(room, plan_of(found))
    assert words.index("On the hardest day") < words.index("Always on")


def test_a_goal_by_budget_buys_the_most_for_it():
    """With a budget the plan costs no more than it, and less money never covers more."""
    found = on_the_table(*two_plans())
    at = settled(opened(found, "wishes"), leaving=PRICES)
    at.get("button_group")[0].set_value("budget").run()
    assert found.goal.by == "budget"
    covered = []
    for budget_usd in (7_750.0, 14_000.0):
        at.number_input(key="budget typed").set_value(budget_usd).run()
        settled(at, leaving=PRICES)
        assert not at.exception
        assert at.slider(key="budget slide").value == budget_usd
        plan = plan_of(found)
        assert plan.cost_usd <= budget_usd
        assert money(plan.cost_usd) in told(at)
        covered.append(plan.coverage)
    assert covered[0] < covered[1]
    at.slider(key="budget slide").set_value(0.0).run()
    settled(at, leaving=PRICES)
    assert at.error
    assert not at.exception
    left(found)


def test_the_table_of_wishes_is_by_comfort():
    """One row for each comfort of the home, with its importance and what is promised."""
    found = on_the_table(SMALL)
    at = opened(found, "wishes")
    left(found)
    home = home_of(found).facts
    table = at.data_editor[0].value
    assert table["label"].tolist() == [one.label for one in home.comforts]
    assert table["importance"].tolist() == [one.importance for one in home.comforts]
    assert table["promise"].tolist() == [promise_text(one.promise) for one in home.comforts]


def test_only_what_has_a_deadline_is_asked_how_long_it_may_wait():
    """A room or a tank catches up by itself; a dryer may be late."""
    found = on_the_table(SMALL)
    at = opened(found, "wishes")
    left(found)
    waiting = at.data_editor[1].value["label"].tolist()
    assert "Clothes washer" in waiting
    assert "Air conditioner" not in waiting


def test_a_pair_is_added_and_removed():
    """Two choices and a click write a pair into the file; Remove takes out that pair alone."""
    found = on_the_table()
    before = never_before(found)
    assert len(before) == 2
    at = opened(found, "wishes")
    assert at.button(key="add pair").disabled
    at.selectbox(key="pair ahead").set_value("water-heater").run()
    assert at.button(key="add pair").disabled
    at.selectbox(key="pair later").set_value("pool-pump").run()
    at.button(key="add pair").click().run()
    assert not at.exception
    assert never_before(found) == [*before, ["pool-pump", "water-heater"]]
    assert at.selectbox(key="pair later").value is None
    assert "Water heater, 50 gal goes ahead of Pool pump." in told(at)
    at.button(key="remove pair 0").click().run()
    assert never_before(found) == [before[1], ["pool-pump", "water-heater"]]
    for _ in range(2):
        at.button(key="remove pair 0").click().run()
    assert never_before(found) == []
    assert not at.exception
    left(found)


def test_the_same_pair_cannot_be_added_twice():
    """A pair that is there already cannot be added again, nor a load against itself."""
    found = on_the_table()
    later, ahead = never_before(found)[0]
    at = opened(found, "wishes")
    at.selectbox(key="pair ahead").set_value(ahead).run()
    at.selectbox(key="pair later").set_value(later).run()
    assert at.button(key="add pair").disabled
    labels = {one["id"]: one.get("label", one["id"])
              for one in tomllib.loads(found.home_text)["loads"]}
    assert labels[ahead] not in at.selectbox(key="pair later").options
    left(found)


def test_the_rule_for_the_order_lands_in_the_file():
    """Turns by importance are a wish of the file, and the plan is asked for anew."""
    found = on_the_table()
    at = opened(found, "wishes")
    at.radio(key="order rule").set_value("importance").run()
    assert tomllib.loads(found.home_text)["wishes"]["order"] == "importance"
    assert at.radio(key="order rule").value == "importance"
    at.radio(key="order rule").set_value("free").run()
    assert tomllib.loads(found.home_text)["wishes"]["order"] == "free"
    left(found)


def tried_order(found):
    """Give the order that was found with two neighbours the other way round: one that works."""
    plan = plan_of(found)
    order = [plan.loads[i].id for i in plan.choice.order]
    swapped = [(*order[:n], order[n + 1], order[n], *order[n + 2:]) for n in range(len(order) - 1)]
    return next(one for one in swapped if in_own_order(plan, one).plan is not None)


def test_an_order_of_ones_own_shows_what_it_would_cover():
    """The page says what the same equipment covers in the tried order; Back forgets it."""
    found = on_the_table()
    at = settled(opened(found, "wishes"), leaving=PRICES)
    assert "This is the order that was found." in told(at)
    found.own_order = tried_order(found)
    tried = in_own_order(plan_of(found), found.own_order)
    settled(at, leaving=PRICES)
    assert not at.exception
    assert tried.plan is not None
    covers = instead_of(tried.plan.coverage, plan_of(found).coverage)
    assert f"keeps {covers}" in told(at).replace("*", "")
    at.button(key="order back").click().run()
    assert found.own_order == ()
    assert "This is the order that was found." in told(at)


def test_an_order_of_ones_own_is_kept_as_wishes():
    """Keeping it writes the pairs and plans anew: in the new plan they hold."""
    found = on_the_table()
    before = found.home_text
    at = settled(opened(found, "wishes"), leaving=PRICES)
    wanted = tried_order(found)
    found.own_order = wanted
    settled(at, leaving=PRICES)
    at.button(key="order keep").click().run()
    settled(at, leaving=PRICES)
    assert not at.exception
    assert not at.error
    assert found.own_order == ()
    pairs = never_before(found)
    assert pairs
    priority = {part.id: part.priority for part in plan_of(found).loads if part.priority}
    broken = [(later, ahead) for later, ahead in pairs
              if later in priority and ahead in priority and priority[later] < priority[ahead]]
    assert broken == []
    turned(at, "home").button(key="step back").click().run()
    assert found.home_text == before


def test_an_order_of_other_loads_is_not_tried():
    """An order left from another plan does not stand in the way of the one that was found."""
    found = on_the_table()
    found.own_order = ("no-such-load", "range")
    at = settled(opened(found, "wishes"), leaving=PRICES)
    assert not at.exception
    assert "This is the order that was found." in told(at)


@pytest.fixture
def held(monkeypatch):
    """Let the next search for a plan wait until the test lets it go on."""
    gate, plain = threading.Event(), answers.recommend
    gate.set()

    def slow(*args, **changes):
        assert gate.wait(60.0)
        return plain(*args, **changes)

    monkeypatch.setattr(answers, "recommend", slow)
    monkeypatch.setattr(answers, "AT_ONCE_S", 0.05)
    yield gate
    gate.set()


def test_a_stale_answer_is_marked_as_stale(held):
    """While a new plan is searched for, the old one stays, marked; then the mark goes."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "wishes"), leaving=PRICES)
    assert "Out of date" not in told(at)
    old = money(plan_of(found).cost_usd)
    held.clear()
    at.number_input(key="coverage typed").set_value(50.0).run()
    assert not at.exception
    words = told(at)
    assert "Out of date" in words
    assert "The recommended plan: being calculated; you can go on meanwhile" in words
    assert old in words
    assert at.get("progress")
    held.set()
    settled(at)
    assert "Out of date" not in told(at)
    assert not at.get("progress")


def test_the_first_answer_in_work_shows_progress_and_no_plan(held):
    """Before anything is known the page shows progress, and nothing that could pass for a plan."""
    held.clear()
    found = on_the_table(SMALL)
    at = opened(found, "wishes")
    assert not at.exception
    assert at.get("progress")
    assert "Out of date" not in told(at)
    assert "USD installed" not in said(at)
    held.set()
    settled(at, leaving=PRICES)
    assert money(plan_of(found).cost_usd) in told(at)


@pytest.mark.parametrize("wrong", [
    "wishes = 1", 'wishes = "x"', "wishes = []", "[[wishes]]", "[wishes]\nnever_before = 3",
    "[wishes]\nnever_before = [[1], {}]", "[wishes]\norder = [1]", "[wishes]\norder = { a = 1 }"])
def test_wishes_of_another_kind_are_an_error_that_is_said(wrong):
    """The page draws with a file whose wishes are no wishes, and says what is wrong with it."""
    whole = demo_text(SMALL)
    text = f"{whole}\n{wrong}\n" if wrong.startswith("[") else f"{wrong}\n{whole}"
    at = opened(on_the_table(SMALL, text), "wishes")
    assert not at.exception
    assert "Nothing can be planned before that is corrected." in said(at)
