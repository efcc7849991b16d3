"""The share of houses in which a plan holds, on homes where it is known by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import planner
from planner.facts.assumption import Assumption
from planner.facts.comfort import WITHIN_DEGF, WITHIN_MILES
from planner.facts.engine import GOVERNOR_S, INERTIA_S, SOFT_START_TIMES
from planner.physics.engine import start_rooms_kw
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from planner.service.kept import kept_of_all
from planner.service.loops import rules
from planner.service.loops.losing import EMPTY
from planner.service.replay import play
from planner.service.supply import supply_of
from planner.study.confidence import confidence_of, houses_like, share
from planner.study.confidence.guesses import book_guesses
from planner.study.confidence.playing import held_in, places_of, starters_of
from planner.study.confidence.share import held_by
from tests.homes import base, book, events, generator, home, load, task

HOUSES = 400


def doubted(one, spread):
    """The load with its draw assumed, within a share of it either way."""
    return replace(one, assumed=(Assumption("running", f"{one.running_kw:g} kW", "a guess",
                                            spread),))


def planned(house, kw, *connection, order=()):
    """A choice on the only set of a book, so heavy that no start troubles it."""
    problem = problems_of(house, book(generator(kw, 3000.0, inertia_s=5.0)))[0]
    return problem.plan(Choice(connection, (0,) * len(connection), order))


def asked(plan, count=HOUSES, **how):
    """The confidence of a plan over so many houses."""
    return confidence_of(plan, houses_like(plan.menu.house.home, count, **how))


def oven(name, **changes):
    """An oven of 4 kW in the evening that the code does not count."""
    plain = load(name, 4.0, use=events((18.0, 1.0)), **changes)
    return doubted(replace(plain, code=replace(plain.code, va=0.0)), 0.3)


def test_what_must_fit_beside_the_base_holds_in_the_houses_in_which_it_does():
    """1 kW and an oven of 2.8 to 5.2 kW in 5.6 kW: it does up to 4.6 kW, in 75 %."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, DIRECT)
    found = asked(plan)
    assert found.houses == HOUSES
    assert found.share == pytest.approx((4.6 - 2.8) / 2.4, abs=0.07)
    (matter,) = found.matters
    assert matter.share_if_known == 1.0


def test_what_is_behind_a_module_is_shed_and_holds_everywhere():
    """It is refused in some houses, but nothing was promised of it."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, MODULE, order=(1,))
    assert asked(plan).share == 1.0


def test_twins_share_one_guess_and_strangers_do_not():
    """Two of one kind move together: 9.4 kW hold both up to 4.2 kW each, strangers up to 8.4."""
    both = home(base(1.0), oven("one"), oven("other"))
    apart = home(base(1.0), oven("one"), oven("other", kind="another"))
    twins, strangers = (asked(planned(one, 9.4, DIRECT, DIRECT, DIRECT))
                        for one in (both, apart))
    assert len(twins.matters) == 1
    assert len(strangers.matters) == 2
    assert twins.share == pytest.approx((4.2 - 2.8) / 2.4, abs=0.07)
    low, width = 2 * 2.8, 2.4  # of the sum of two: 1 less the corner above 8.4
    assert strangers.share == pytest.approx(
        1.0 - (low + 2 * width - 8.4) ** 2 / (2 * width**2), abs=0.07)


def test_a_plan_is_played_once(monkeypatch):
    """Asked again it is not played; in which houses it holds is known as well."""
    plan = planned(home(base(1.0), oven("oven")), 5.2, DIRECT, DIRECT)
    houses = houses_like(plan.menu.house.home)
    whole = confidence_of(plan, houses)
    monkeypatch.setattr(share, "held_in", None)
    assert confidence_of(plan, houses) is whole
    assert held_by(plan, houses).mean() == whole.share


def test_who_waits_for_the_houses_is_asked_whether_it_still_does():
    """Each form is worked out with a word before it, and whoever listens may end that."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, DIRECT)
    told = []
    houses_like(plan.menu.house.home, 200, seed=5, forms=16).work_out(told.append)
    assert len(told) == 16
    with pytest.raises(KeyboardInterrupt):
        houses_like(plan.menu.house.home, 200, seed=6).work_out(interrupted)


def interrupted(_share):
    """Somebody who does not wait any longer."""
    raise KeyboardInterrupt


def test_where_nothing_is_assumed_one_house_says_it():
    """The plan was replayed in it already."""
    plan = planned(home(base(1.0), task("range", 4.0, (18.0, 1.0))), 6.0, DIRECT, MODULE,
                   order=(1,))
    found = confidence_of(plan)
    assert (found.share, found.houses, found.matters) == (1.0, 1, ())


def test_same_seed_same_houses():
    """Another seed draws others, the share stays near."""
    plan = planned(home(base(1.0), oven("oven")), 5.6, DIRECT, DIRECT)
    one, again, other = (asked(plan, 200, seed=seed) for seed in (1, 1, 2))
    assert one == again
    assert abs(one.share - other.share) < 0.15


CASES = Path(planner.__file__).parents[1] / "cases"


@pytest.mark.parametrize("name", ["suburban", "gas_heated_small", "rural_propane_well"])
def test_every_house_is_judged_as_the_replay_judges_it(name):
    """Houses put together from forms, and one worked out by itself and replayed: the same verdict.

    The least confident and the most confident plan of the frontier, so that both verdicts occur.
    """
    case = planner.read_home(CASES / f"{name}.toml")
    houses = houses_like(case, 40, forms=16)
    verdicts = set()
    for plan in planner.frontier(case).points:
        used = tuple(one for one in starters_of(plan) if one is not None)
        ranges = book_guesses(plan.supply.generator, used)
        at = places_of(houses, ranges)
        held = held_in(plan, houses, ranges, at)
        for number in range(0, houses.count, 2):
            assert replayed(plan, houses, number, ranges, at[number]) == held[number]
        verdicts |= set(held.tolist())
    assert verdicts == {False, True}


def replayed(plan, houses, number, ranges, at):
    """Whether the plan holds in a house that is worked out by itself, by the plain replay."""
    home, generator, book = houses.home, plan.supply.generator, plan.menu.book
    usual = {"inertia": INERTIA_S, "governor_lag": GOVERNOR_S, "start_seconds": SOFT_START_TIMES}
    said = {one.guess.places[0]: (usual[one.guess.key].low + usual[one.guess.key].high) / 2.0
            + where * (usual[one.guess.key].high - usual[one.guess.key].low) / 2.0
            for one, where in zip(ranges, at, strict=True)}
    engine = replace(
        generator, inertia_s=said.get((generator.id, "inertia"), generator.inertia_s),
        governor_s=said.get((generator.id, "governor_lag"), generator.governor_s))
    house = houses.house(number)
    supply = supply_of(house, engine, book)
    room_kw = supply.room_kw.copy()
    for i, starter in enumerate(starters_of(plan)):
        column = plan.choice.soft_start[i]
        if starter is not None and (starter.id, "start_seconds") in said:
            longer = said[starter.id, "start_seconds"] / SOFT_START_TIMES.value
            room_kw[i, column] = start_rooms_kw(
                supply.start_kw[i, [column]], longer * supply.start_s[i, [column]],
                supply.derated_kw, supply.kva, inertia_s=engine.inertia_s,
                governor_s=engine.governor_s)[0]
    planned = replace(supply, room_kw=room_kw, blind=plan.supply.blind)
    whole = replace(planned, capacity_kw=supply.derated_kw,
                    leg_a=supply.leg_a / home.limits.largest_share)
    power = planned.power(house, plan.choice.soft_start, plan.choice.sensing)
    connection, fits = plan.choice.connection_array(), rules.FITS
    if rules.direct_fits(connection, house.works, house.wiring,
                         whole.power(house, plan.choice.soft_start, plan.choice.sensing),
                         np.zeros(house.count, dtype=np.bool_))[0] != fits:
        return False
    state = play(house, power, plan.choice)
    total = np.zeros(state.ceiling.shape[0])
    rules.weigh(house.wiring, state, total)
    if any(rules.pick_up_of(i, house.wiring, power, state, total)[0] != fits
           for i in range(house.count) if rules.starts_unannounced(i, connection, power)):
        return False
    if rules.over_average(power, state) >= 0:
        return False
    for c, one in enumerate(kept_of_all(house, state)[0]):
        miles = one.comfort.promise.miles if one.comfort.promise else 0.0
        slack = {"room": WITHIN_DEGF, "car": WITHIN_MILES * (miles or 0.0)}.get(
            one.comfort.kind, EMPTY)
        if np.any(one.measured > house.cares.bound[c] + slack + EMPTY):
            return False
    return True


def test_a_house_takes_each_part_of_a_range_equally_often():
    """64 forms take each 64th of a range once, so a share is not a matter of luck in the forms."""
    houses = houses_like(home(base(1.0), oven("oven"), oven("other", kind="another")), 640)
    for column in houses.places.T:
        parts = np.bincount(((column + 1.0) * 32.0).astype(int), minlength=64)
        assert set(parts) == {10}
    assert abs(np.corrcoef(houses.places.T)[0, 1]) < 0.15
