"""Who waits for whom is read off the replay, with the numbers of the moment."""

from __future__ import annotations

import pytest

from planner.facts.home import SurgeStep
from planner.search.problem import problems_of, sized
from planner.service.choice import DIRECT, MODULE, Choice
from planner.study.any_price import choice_reaching
from planner.study.why_smaller.waiting import waiting_of
from tests.homes import base, book, events, generator, home, load, motor, task
from tests.oracle.wild import wild_book, wild_home


def planned(house, prices, connection, order):
    """A plan with this choice on the only size of a price book."""
    problem = sized(house, prices, prices.generators[0].id)[0]
    return problem.plan(Choice(connection, (0,) * len(connection), order))


def test_a_load_that_is_refused_is_listed_with_what_it_lacked():
    """A dryer behind a range is 2.5 kW short at six, for its whole hour and no longer."""
    house = home(base(0.5), load("range", 5.0, use=events((18.0, 2.0))),
                 load("dryer", 4.0, use=events((18.0, 1.0))))
    plan = planned(house, book(generator(7.0, 3000.0)), (DIRECT, MODULE, MODULE), (1, 2))
    (found,) = waiting_of(plan)
    assert (found.load_id, found.short_of, found.unit) == ("dryer", "running", "kW")
    assert found.missing == pytest.approx(0.5 + 5.0 + 4.0 - 7.0)
    assert (found.from_h, found.to_h, found.lost_h) == (18.0, 19.0, pytest.approx(1.0))
    assert found.service == 0.0
    assert found.ahead == ("range",)


def test_a_start_that_lacks_power_is_told_from_running():
    """A motor that could run but not start beside another load lacks starting power."""
    house = home(base(0.5), load("range", 3.0, use=events((18.0, 2.0))),
                 motor("air", 2.0, 9.0, surge=(SurgeStep(1.0, 6.3, 9.0),),
                       use=events((18.0, 1.0))))
    plan = planned(house, book(generator(6.0, 3000.0)), (DIRECT, MODULE, MODULE), (1, 2))
    (found,) = waiting_of(plan)
    room_kw = float(plan.supply.room_kw[2, 0])
    assert (found.load_id, found.short_of, found.unit) == ("air", "start-power", "kW")
    assert found.missing == pytest.approx(0.5 + 3.0 - room_kw)


def test_loads_that_never_run_together_are_no_shortage():
    """What is refused because its opposite is on lacks no power."""
    house = home(base(0.5), load("heat", 2.0, use=events((18.0, 1.0))),
                 load("cool", 2.0, use=events((18.0, 1.0)), not_with=("heat",)))
    plan = planned(house, book(generator(7.0, 3000.0)), (DIRECT, MODULE, MODULE), (1, 2))
    (found,) = waiting_of(plan)
    assert (found.load_id, found.short_of, found.missing) == ("cool", "apart", 0.0)


def test_nothing_is_listed_where_nothing_is_lost():
    """A load that waits and is served all the same loses nothing."""
    house = home(base(0.5), load("range", 5.0, use=events((18.0, 1.0))),
                 task("dryer", 4.0, (18.0, 1.0), wait_h=2.0))
    plan = planned(house, book(generator(7.0, 3000.0)), (DIRECT, MODULE, MODULE), (1, 2))
    assert waiting_of(plan) == ()


def test_the_greatest_loss_stands_first_and_the_rest_is_cut():
    """Three loads behind one: the longest without service is named first, two at most are asked."""
    late = [load(name, 4.0, use=events((18.0, hours)))
            for name, hours in (("a", 0.5), ("b", 1.5), ("c", 1.0))]
    house = home(base(0.5), load("range", 5.0, use=events((18.0, 2.0))), *late)
    plan = planned(house, book(generator(8.0, 3000.0)),
                   (DIRECT, MODULE, MODULE, MODULE, MODULE), (1, 2, 3, 4))
    assert [one.load_id for one in waiting_of(plan, most=2)] == ["b", "c"]


def test_it_is_told_of_plans_with_modules_that_sense_too():
    """What stands behind the load that waits is left out, whatever module it has."""
    told = 0
    for seed in range(60):
        house, prices = wild_home(seed, 4), wild_book(seed)
        for problem in problems_of(house, prices):
            reaching = choice_reaching([problem], 0.4)
            if reaching is not None and reaching[1].sensing:
                told += bool(waiting_of(problem.plan(reaching[1])))
    assert told
