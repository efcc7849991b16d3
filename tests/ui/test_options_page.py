"""Options and the outage: points, pins, owning cost, what is played."""

from __future__ import annotations

import re

import pytest

from planner.jobs.content import Goal, PlanKey
from planner.plan.compliance import compliance_of
from planner.plan.method import method_findings
from planner.report.choice_words import sized
from planner.report.code_words import counted_sentence, way_sentence
from planner.report.comforts.comfort_words import comfort_phrase
from planner.report.tables.plan import WAITS_OF_A_PLAN
from planner.report.words import money, share
from planner.search.frontier import frontier
from planner.search.limits import EXACT_LIMITS, USUAL_LIMITS, SearchLimits
from planner.study.basis import Basis
from planner.study.owning import owning_cost, owning_frontier
from tests.ui.opening import (
    SMALL,
    keys,
    on_the_table,
    opened,
    said,
    settled,
    told,
    turned,
    two_plans,
)
from ui.answers import Case, choices, key_of, recommended
from ui.readings import book_of, home_of
from ui.session import MOST_PINS


@pytest.fixture(scope="module")
def points():
    """Give the plans that no other beats, straight from the engine."""
    found = on_the_table(*two_plans())
    return frontier(home_of(found).facts, book_of(found).facts).points


def choose(at, plan):
    """Choose a plan of the curve behind its fold."""
    at.selectbox(key="plan of the curve").set_value(key_of(plan)).run()
    at.button(key="choose plan").click().run()


def test_every_point_is_in_the_table(points):
    """The table beside the chart has one row for each plan of the engine, price and coverage."""
    at = settled(opened(on_the_table(*two_plans()), "options"))
    assert not at.exception
    frames = [one.value for one in at.dataframe if len(one.value) == len(points)]
    texts = [" ".join(map(str, row)) for frame in frames for row in frame.to_numpy()]
    for plan in points:
        assert [one for one in texts if money(plan.cost_usd) in one and share(plan.coverage) in one]
    assert len(at.selectbox(key="plan of the curve").options) == len(points)


def test_what_is_not_proven_is_said_and_can_be_looked_for_longer(monkeypatch):
    """Quick and exact stand there only where something is open; exact leaves nothing open here."""
    asked = []

    def hurried(*home_and_book, limits=USUAL_LIMITS, **more):
        asked.append(limits)
        short = SearchLimits(nodes=1, probe=1, all_nodes=100)
        return frontier(*home_and_book, **more, limits=short if limits is USUAL_LIMITS else limits)

    monkeypatch.setattr("ui.answers.frontier", hurried)
    found = on_the_table(*two_plans())
    at = settled(opened(found, "options"), leaving=("options", "recommended for sure"))
    assert not at.exception
    assert "Not all of this is proven" in told(at)
    assert "patience" in keys(at, "button_group")
    at.get("button_group")[keys(at, "button_group").index("patience")].set_value("exact").run()
    at = settled(at, leaving=("options", "recommended for sure"))
    assert not at.exception
    assert found.patience == "exact"
    assert asked[-1] == EXACT_LIMITS
    assert "Not all of this is proven" not in told(at)
    assert "patience" in keys(at, "button_group")
    case = Case(found, home_of(found).facts, book_of(found).facts)
    assert case.known_by == "exact"
    found.set_patience("quick")
    assert case.known_by == "quick"


def test_where_all_is_proven_nobody_is_asked_for_patience():
    """The usual case: no word about it."""
    at = settled(opened(on_the_table(*two_plans()), "options"), leaving=("options",))
    assert "patience" not in keys(at, "button_group")
    assert "proven:" not in told(at)


def test_a_plan_that_is_picked_is_shown(points):
    """Picking a point shows that plan with its price; a new goal shows the recommended one."""
    found = on_the_table(*two_plans())
    at = settled(opened(found, "options"), leaving=("options",))
    choose(at, points[0])
    settled(at, leaving=("options",))
    assert found.picked == key_of(points[0])
    assert f"Total {money(points[0].cost_usd)}." in told(at)
    at.number_input(key="coverage typed").set_value(90.0).run()
    settled(at, leaving=("options",))
    assert found.picked is None
    case = Case(found, home_of(found).facts, book_of(found).facts)
    assert f"Total {money(recommended(case).value.plan.cost_usd)}." in told(at)


def test_what_the_code_asks_of_a_plan_stands_beside_it(points):
    """Both sums, the way it complies and what is to be verified, as the command line says them."""
    found = on_the_table(*two_plans())
    found.goal = Goal(none_starved=False)
    at = settled(opened(found, "options"), leaving=("options",))
    last = points[-1]
    choose(at, last)
    settled(at, leaving=("options",))
    compliance = compliance_of(last)
    assert counted_sentence(compliance) in told(at)
    assert way_sentence(compliance) in told(at)
    assert "frequency alone" in told(at)


def test_findings_of_a_plan_stand_on_its_page(points):
    """A calculated load that fits by one method only is said, with what to do."""
    found = on_the_table(*two_plans())
    found.goal = Goal(none_starved=False)
    at = settled(opened(found, "options"), leaving=("options",))
    for plan in points:
        choose(at, plan)
        settled(at, leaving=("options",))
        for one in method_findings(plan):
            assert one.sentence in told(at)
            assert one.remedy in told(at)
        assert WAITS_OF_A_PLAN in told(at)


def test_what_an_outage_is_like_stands_before_the_loads(points):
    """Each comfort of the plan shown is in a table, with what it is like on its hardest day."""
    found = on_the_table(*two_plans())
    at = settled(opened(found, "options"), leaving=("options",))
    plan = points[-1]
    choose(at, plan)
    settled(at, leaving=("options",))
    tables = [list(one.value.columns) for one in at.dataframe]
    place = next(n for n, columns in enumerate(tables) if "On its hardest day" in columns)
    assert place < next(n for n, columns in enumerate(tables) if "Connection" in columns)
    frame = at.dataframe[place].value
    for kept in plan.comforts:
        mine = frame[frame["Comfort"] == kept.comfort.label]
        assert comfort_phrase(kept, plan.menu.house) in set(mine["On its hardest day"])


def test_pins_are_kept_and_the_oldest_gives_way():
    """Up to four plans are pinned; a fifth takes the place of the oldest, none stands twice."""
    found = on_the_table(*two_plans())
    keys_of_plans = [PlanKey(one.id, 0.9) for one in book_of(found).facts.generators]
    for number, key in enumerate(keys_of_plans[: MOST_PINS + 1], start=1):
        found.pin(key)
        found.pin(key)
        assert len(found.pins) == min(number, MOST_PINS)
    assert found.pins == tuple(keys_of_plans[1 : MOST_PINS + 1])
    found.pin(found.pins[0])
    assert len(found.pins) == MOST_PINS


def test_the_plan_shown_is_pinned_and_unpinned_where_it_stands(points):
    """One button pins it and lets it go; pinned it stands side by side till it is let go."""
    found = on_the_table(*two_plans())
    at = settled(opened(found, "options"), leaving=("options",))
    for plan in points[:2]:
        choose(at, plan)
        at.button(key="pin shown").click().run()
        assert "unpin shown" in keys(at)
        assert "pin shown" not in keys(at)
    assert f"Pinned for the comparison: 2 of {MOST_PINS}" in told(at)
    assert found.pins == tuple(map(key_of, points[:2]))
    settled(turned(at, "options"), leaving=("smaller",))
    assert not at.exception
    words = said(at)
    assert all(money(plan.cost_usd) in words for plan in points[:2])
    assert all(plan.supply.generator.label in words for plan in points[:2])
    assert "against the chosen plan" in words
    gone = found.pins[0]
    at.button(key=f"unpin {gone.generator} {gone.coverage}").click().run()
    assert found.pins == (key_of(points[1]),)
    assert not at.exception


def test_four_pinned_plans_stand_side_by_side(points):
    """Each has a card and a column; comforts that differ are told in their units."""
    found = on_the_table(*two_plans())
    larger = [one.id for one in book_of(found).facts.generators
              if points[-1].cost_usd < one.price + one.installation][:2]
    for key in (*map(key_of, points[:2]), *(PlanKey(one, found.goal.coverage) for one in larger)):
        found.pin(key)
    assert len(found.pins) == MOST_PINS
    at = settled(opened(found, "options"), leaving=("smaller",))
    assert not at.exception
    words = told(at)
    for point in found.pins:
        assert next(one.label for one in book_of(found).facts.generators
                    if one.id == point.generator) in words
    assert words.count("against the chosen plan") >= MOST_PINS - 1
    assert words.count("degF") > MOST_PINS


def test_a_pin_of_a_size_that_is_gone_does_not_fail():
    """A pinned size that the book no longer has is said to have no plan, everywhere."""
    found = on_the_table(SMALL)
    found.pin(PlanKey("no-such-set", 0.9))
    found.outage_plan = found.pins[0]
    at = opened(found)
    for page in ("options", "outage"):
        settled(turned(at, page), leaving=("options", "smaller"))
        assert not at.exception, page
        assert "no plan" in told(at).casefold() or "has a plan" in told(at), page


def test_a_size_can_be_pinned_from_the_comparison():
    """A size is chosen and pinned for the goal; the recommended plan is pinned in a click."""
    found = on_the_table(*two_plans())
    at = settled(opened(found, "options"), leaving=("smaller",))
    at.button(key="pin shown").click().run()
    settled(at, leaving=("smaller",))
    assert len(found.pins) == 1
    size = book_of(found).facts.generators[-1]
    at.selectbox(key="size to pin").set_value(size.id).run()
    at.button(key="pin size").click().run()
    settled(at, leaving=("smaller",))
    assert not at.exception
    assert found.pins[1] == PlanKey(size.id, found.goal.coverage)
    assert size.label in told(at)


def test_owning_cost_is_the_engines():
    """With owning cost each plan's sum over the years is the engine's, and the years can be set."""
    found = on_the_table(*two_plans())
    found.goal = Goal(sturdy=False)
    at = settled(opened(found, "options"), leaving=("options",))
    assert "Owning cost " not in told(at).replace("Owning cost\n", "")
    next(one for one in at.get("button_group") if one.key == "owning").set_value(True).run()
    settled(at, leaving=("options",))
    assert not at.exception
    assert found.basis == Basis()
    at.number_input(key="years").set_value(20.0).run()
    at.number_input(key="outage hours").set_value(100.0).run()
    settled(at, leaving=("options",))
    assert found.basis == Basis(20.0, 100.0)
    last = owning_frontier(home_of(found).facts, book_of(found).facts, found.basis)[-1]
    choose(at, last)
    settled(at, leaving=("options",))
    assert f"Owning cost {money(owning_cost(last, found.basis).usd)}" in told(at)
    next(one for one in at.get("button_group") if one.key == "owning").set_value(False).run()
    assert found.basis is None


def test_options_are_pinned_in_a_click():
    """The options to begin a talk with are pinned together, and the button rests then."""
    found = on_the_table(*two_plans())
    at = settled(opened(found, "options"))
    assert not at.exception
    at.button(key="pin options").click().run()
    settled(at)
    assert 1 <= len(found.pins) <= 3
    assert at.button(key="pin options").disabled
    assert not at.exception


def test_an_outage_is_played_as_it_was_wished():
    """Hour, length and seed are kept over a page change; another seed is another outage."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "outage"))
    at.number_input(key="outage length").set_value(6.0).run()
    at.number_input(key="outage start").set_value(6.5).run()
    at.number_input(key="outage seed").set_value(7).run()
    settled(at)
    assert not at.exception
    assert (found.outage.hours, found.outage.start_h, found.outage.seed) == (6.0, 6.5, 7)
    settled(turned(turned(at, "wishes"), "outage"), leaving=("wishes", "reasons"))
    assert at.number_input(key="outage length").value == 6.0
    assert at.number_input(key="outage seed").value == 7
    for day in home_of(found).facts.days:
        at.radio(key="outage day").set_value(day.id).run()
        settled(at)
        assert not at.exception
        assert at.radio(key="outage day").value == day.id


def test_many_outages_are_played_when_asked():
    """The switch plays them and shows comfort; nothing is played before it is asked for."""
    found = on_the_table(SMALL)
    found.outage = type(found.outage)(hours=4.0)
    at = settled(opened(found, "outage"))
    assert "95 % interval of the mean" not in told(at)
    at.toggle(key="play many").set_value(True).run()
    settled(at)
    assert not at.exception
    assert "95 % interval of the mean" in told(at)


def usd(text):
    """Read all amounts of a text [USD]."""
    return [float(one.replace(",", "")) for one in re.findall(r"([\d,]+) USD", text)]


@pytest.mark.parametrize("name", [SMALL, "suburban.toml"])
def test_the_first_line_says_the_difference_of_two_prices_that_are_shown(name):
    """What is saved is the price of the last card less that of the recommended one."""
    at = settled(opened(on_the_table(name), "options"), leaving=("smaller",))
    assert not at.exception
    first = next(text for text in told(at).splitlines() if text.startswith("#### "))
    price, saved = usd(first)
    prices = [usd(text)[0] for text in told(at).splitlines() if text.startswith("### ")]
    assert price in prices
    assert saved == prices[-1] - price
    assert "against the generator with which nothing waits" in first


def test_the_familys_budget_stands_beside_the_price():
    """What is left of it, or lacking, is the difference to the price of the recommended plan."""
    found = on_the_table(SMALL)
    found.can_spend_usd = 20_000.0
    at = settled(opened(found, "options"))
    plan = recommended(Case(found, home_of(found).facts, book_of(found).facts)).value.plan
    assert f"{money(20_000.0 - plan.cost_usd)} less than the family's budget" in told(at)


def test_the_cheaper_card_names_what_it_drops():
    """Each promise that the suburban home gives up for the price stands on the card, in words."""
    found = on_the_table("suburban.toml")
    at = settled(opened(found, "options"), leaving=("smaller",))
    case = Case(found, home_of(found).facts, book_of(found).facts)
    cheaper = choices(case).value.named("cheaper")
    assert cheaper.given_up
    labels = {one.id: one.label for one in case.home.comforts}
    for wish in cheaper.given_up:
        assert f"▲ Drops {labels[wish.comfort]} (" in told(at)
    assert told(at).count("▲ Drops ") == len(cheaper.given_up)


def test_a_card_that_is_missing_says_why():
    """A place without a card has a sentence, and nothing is looked for any more."""
    at = settled(opened(on_the_table(SMALL), "options"), leaving=("smaller",))
    assert "No plan was found that costs a tenth less" in told(at)
    assert "Being looked for" not in told(at)


def test_an_option_is_chosen_and_the_recommended_one_again():
    """The day, the price behind its fold and the outage page are those of the chosen option."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "options"), leaving=("smaller",))
    case = Case(found, home_of(found).facts, book_of(found).facts)
    ways = choices(case).value
    last = ways.nothing_waits.plan
    at.button(key="choose nothing waits").click().run()
    settled(at, leaving=("smaller",))
    assert found.picked == found.outage_plan == key_of(last)
    assert f"Total {money(last.cost_usd)}." in told(at)
    assert f"An outage day: {sized(last)}" in told(at)
    settled(turned(at, "outage"))
    assert last.supply.generator.label in told(at)
    turned(at, "options")
    at.button(key="choose recommended").click().run()
    assert found.picked is None
    assert f"Total {money(ways.recommended.plan.cost_usd)}." in told(at)
