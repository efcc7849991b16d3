"""Assumed values are ranked by what hangs on them, as planning anew confirms."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import NoPlanError
from planner.facts.assumption import Assumption
from planner.facts.home import DesignDay, Use
from planner.report.tables.verify import (
    doubt_data,
    effect_sentence,
    quiet_sentence,
    verify_table,
    what_sentence,
)
from planner.study.verify.ranking import EFFECTS, WEIGHT_SPREAD, Doubt, End, to_verify
from planner.study.verify.trial import Stand
from tests.homes import (
    base,
    book,
    cheapest,
    events,
    generator,
    home,
    load,
    motor,
    tank,
    task,
)

PRACTICE = "common practice, no source"
DIRECT = frozenset({"direct"})
SETS = tuple(generator(kw, usd, short_time=3.0)  # a start is refused for its kVA alone
             for kw, usd in ((6.0, 3000.0), (10.0, 5000.0), (14.0, 6000.0), (24.0, 9000.0)))
OFFERED = book(*SETS, soft_starters=())
GOAL = 0.9


def guessed(one, **spreads):
    """Mark values of a load as assumed, with their plausible errors."""
    texts = {"running": f"{one.running_kw:.4g} kW",
             "locked_rotor": f"{1000.0 * one.starting_kva / one.volts:.4g} A",
             "nameplate": f"{one.code.va:.0f} VA"}
    return replace(one, assumed=tuple(Assumption(key, texts[key], PRACTICE, spread)
                                      for key, spread in spreads.items()))


def well_home(**spreads):
    """A well pump of 15 kVA at locked rotor; 10 kW start 16.7 kVA, with 30 % more none."""
    pump = motor("well", 1.5, 15.0, must_run=True, allowed=DIRECT, label="Well pump")
    return home(guessed(base(0.5), running=0.5), guessed(pump, **spreads),
                guessed(load("dryer", 5.0, wait_h=3.0, use=events((18.0, 1.0))), running=0.1))


def mixed_home():
    """A home on whose values everything hangs, down to nothing at all."""
    return home(
        guessed(base(1.0), running=0.3),
        guessed(task("range", 6.5, (17.0, 1.0), (18.5, 1.0)), running=0.3, nameplate=0.1),
        guessed(motor("well", 1.5, 12.0, must_run=True, allowed=DIRECT, use=events((3.0, 1.0))),
                locked_rotor=0.3, running=0.2),
        guessed(task("dryer", 5.0, (17.5, 1.0), wait_h=1.0, importance=1), running=0.15),
        guessed(tank("heater", importance=2), running=0.1),
    )


def changed(old, load_id, **factors):
    """Build the home anew with running draw or starting kVA of one load multiplied."""
    def grown(one):
        draw, start = factors.get("running", 1.0), factors.get("locked_rotor", 1.0)
        return replace(one, running_kw=one.running_kw * draw, running_kva=one.running_kva * draw,
                       starting_kva=one.starting_kva * start)

    return replace(old, loads=tuple(grown(one) if one.id == load_id else one
                                    for one in old.loads))


def doubts_of(house, offered=OFFERED, goal=GOAL):
    """Plan a home and ask what to verify."""
    plan = cheapest(house, offered, goal)
    return plan, to_verify(house, offered, plan, goal)


def test_the_start_that_decides_the_size_is_verified_first():
    """At its upper end the plan is refused and the next size is needed; nothing else does that."""
    plan, doubts = doubts_of(well_home(locked_rotor=0.3, running=0.05))
    first = doubts[0]
    assert (first.load_id, first.key, first.effect) == ("well", "locked_rotor", "breaks")
    assert first.gravest.value == "81.25 A"
    assert "starting kVA" in first.gravest.stand.refusal
    assert plan.supply.generator.id == "set-10"
    assert first.gravest.instead.supply.generator.id == "set-14"
    assert first.gravest.size_change_kw == pytest.approx(4.0)
    assert all(doubt.effect != "breaks" for doubt in doubts[1:])


def test_a_value_of_the_file_is_never_in_doubt():
    """The same home with a nameplate for the pump asks about the rest only."""
    _, doubts = doubts_of(well_home())
    assert {doubt.load_id for doubt in doubts} == {"base", "dryer"}
    given = home(base(0.5), motor("well", 1.5, 15.0, allowed=DIRECT))
    assert doubts_of(given)[1] == ()


def test_a_choice_of_use_is_not_in_doubt():
    """What has no plausible error, an importance or a wait, cannot be read off a nameplate."""
    wish = Assumption("importance", "3", "a wish", 0.0)
    assert doubts_of(home(base(0.5, assumed=(wish,))))[1] == ()


def test_what_breaks_the_plan_stands_before_size_price_coverage_and_nothing():
    """Some break it and some do nothing, in the stated order, the larger first within an effect."""
    _, doubts = doubts_of(mixed_home())
    assert {doubt.effect for doubt in doubts} >= {"breaks", "nothing"}
    keys = []
    for doubt in doubts:
        end = doubt.gravest
        keys.append((EFFECTS.index(doubt.effect), not end.no_plan, -abs(end.size_change_kw),
                     -abs(end.price_change_usd), end.coverage_change > 0.0,
                     -abs(end.coverage_change)))
        assert all(EFFECTS.index(other.effect) >= EFFECTS.index(doubt.effect)
                   for other in doubt.ends)
    assert keys == sorted(keys)


def test_ends_rank_by_the_size_of_their_effect():
    """No plan at all before a larger size, more money before less, loss of coverage before gain."""
    stands, refused = Stand("", 0.9, 1.0), Stand("too much")
    plan = cheapest(home(base(1.0)), OFFERED, GOAL)
    ranked = [
        End("a", refused, True, None, "breaks", 0.0, 0.0, 0.0),
        End("b", refused, True, plan, "breaks", 4.0, 900.0, 0.0),
        End("c", refused, True, plan, "breaks", 2.0, 950.0, 0.0),
        End("d", stands, True, plan, "size", -2.0, -300.0, 0.0),
        End("e", stands, True, plan, "price", 0.0, -300.0, 0.02),
        End("f", stands, True, plan, "price", 0.0, 200.0, -0.05),
        End("g", stands, True, plan, "coverage", 0.0, 0.0, -0.01),
        End("h", stands, True, plan, "coverage", 0.0, 0.0, 0.05),
        End("i", stands, False, None, "nothing", 0.0, 0.0, 0.0),
    ]
    shuffled = sorted(ranked, key=lambda end: "ebhgadifc".index(end.value))
    names = [end.value for end in sorted(shuffled, key=lambda end: end.gravity)]
    assert names == list("abcdefghi")
    assert Doubt("it", "It", "size", "1", PRACTICE, 0.3, tuple(shuffled)).gravest is ranked[0]


@pytest.mark.parametrize("house", [well_home(locked_rotor=0.3, running=0.05), mixed_home()],
                         ids=["well", "mixed"])
def test_each_end_is_what_planning_the_changed_home_gives(house):
    """Size and price at each end equal the plan of a home built with that value."""
    plan, doubts = doubts_of(house)
    checked = 0
    for doubt in doubts:
        if doubt.key not in ("running", "locked_rotor"):
            continue
        for factor, end in zip((1 - doubt.spread, 1 + doubt.spread), doubt.ends, strict=True):
            other = changed(house, doubt.load_id, **{doubt.key: factor})
            if not end.solved:
                assert end.effect == "nothing"
                continue
            try:
                anew = cheapest(other, OFFERED, GOAL)
            except NoPlanError:
                assert end.no_plan
                continue
            assert end.instead is not None
            assert end.price_change_usd == pytest.approx(anew.cost_usd - plan.cost_usd)
            assert end.size_change_kw == pytest.approx(
                anew.supply.derated_kw - plan.supply.derated_kw)
            checked += 1
    assert checked >= 2


def test_a_goal_out_of_reach_at_one_end_is_said():
    """With the largest set only, a pump 30 % harder to start leaves no plan at all."""
    house, only = well_home(locked_rotor=0.3), book(SETS[1], soft_starters=())
    _, doubts = doubts_of(house, only)
    assert doubts[0].gravest.no_plan
    assert "no plan of the price book was found that reaches the goal" in effect_sentence(doubts[0])


def test_what_nothing_hangs_on_comes_last():
    """The base may draw half as much again on a set with room for it."""
    _, doubts = doubts_of(well_home(locked_rotor=0.3))
    quiet = next(doubt for doubt in doubts if doubt.load_id == "base")
    assert quiet.effect == doubts[-1].effect == "nothing"
    assert not any(end.solved for end in quiet.ends)
    assert effect_sentence(quiet) == "nothing found within its range"


def test_the_weights_of_design_days_are_in_doubt():
    """Half the weight more or less, the rest in proportion; coverage moves as by hand."""
    days = (DesignDay("hot", "Hot day", "summer", 0.4, 70.0, 95.0),
            DesignDay("cold", "Cold day", "winter", 0.6, 0.0, 20.0))
    turns = {"allowed": frozenset({"module"})}
    house = home(
        base(1.0), load("range", 7.0, importance=1, use=events((12.0, 1.0)), **turns),
        load("air", 5.0, use={"summer": Use(kind="events", events=((12.0, 2.0),))}, **turns),
        days=days, never_before=(("range", "air"),))
    offered = book(generator(10.0, 5000.0))
    plan = cheapest(house, offered, 0.5)
    assert plan.coverage == pytest.approx((0.6 * 1 + 1.0 * 3) / 4)
    doubts = to_verify(house, offered, plan, 0.5)
    assert {(doubt.load_id, doubt.key) for doubt in doubts} == {
        ("hot", "weight"), ("cold", "weight")}
    hot = next(doubt for doubt in doubts if doubt.load_id == "hot")
    assert hot.spread == WEIGHT_SPREAD
    # The range is served on the cold day only. 0.2 of 0.8 is a quarter, 0.6 of 1.2 is half.
    assert [end.value for end in hot.ends] == ["25 %", "50 %"]
    assert [end.stand.coverage for end in hot.ends] == [
        pytest.approx((0.75 * 1 + 1.0 * 3) / 4), pytest.approx((0.5 * 1 + 1.0 * 3) / 4)]
    assert hot.gravest.coverage_change == pytest.approx(0.875 - 0.9)
    assert effect_sentence(hot) == "At 50 % 87.5 % is kept instead of 90.0 %."


def test_large_homes_can_plan_anew_only_where_the_replay_shows_most():
    """The value that breaks the plan comes first; the others stand with what the replay says."""
    house = mixed_home()
    plan, all_anew = doubts_of(house)
    few = to_verify(house, OFFERED, plan, GOAL, most_anew=1)
    solved = [doubt for doubt in few if doubt.gravest.solved]
    assert [(doubt.load_id, doubt.key) for doubt in solved] == [("range", "running")]
    breaks = next(doubt for doubt in all_anew if doubt.load_id == "range")
    assert solved[0].gravest.gravity == breaks.gravest.gravity
    shown = {(doubt.load_id, doubt.key): [end.stand for end in doubt.ends] for doubt in all_anew}
    assert shown == {(doubt.load_id, doubt.key): [end.stand for end in doubt.ends]
                     for doubt in few}
    left = next(doubt for doubt in few if doubt.effect == "breaks" and not doubt.gravest.solved)
    assert "not planned anew" in effect_sentence(left)


def test_progress_ends_at_the_whole():
    """The caller is told each share, the last of them 1."""
    house = well_home(locked_rotor=0.3)
    told = []
    to_verify(house, OFFERED, cheapest(house, OFFERED, GOAL), GOAL, told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0


def test_the_table_names_load_value_range_effect_and_means():
    """A row can be read on its own, and the data say the same."""
    _, doubts = doubts_of(well_home(locked_rotor=0.3))
    row = verify_table(doubts).records[0]
    assert row["load"] == "Well pump"
    assert row["assumed"] == "locked-rotor current 62.5 A, plausibly 43.75 A to 81.25 A"
    assert "the plan is refused" in row["effect"]
    assert "the recommended generator is the 14 kW generator, 650 USD more" in row["effect"]
    assert "LRA" in row["how"]
    assert what_sentence(doubts[0]) == (
        f"Well pump: locked-rotor current assumed 62.5 A ({PRACTICE}).")
    data = doubt_data(doubts[0])
    assert (data["effect"], data["at"], data["size_change_kw"]) == ("breaks", "81.25 A", 4.0)
    quiet = [doubt for doubt in doubts if doubt.effect == "nothing"]
    assert quiet_sentence(doubts).startswith(f"{len(quiet)} other assumed value")
