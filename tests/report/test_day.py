"""Frames of a planned day say what its replay says, slot by slot."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from planner.facts.home import DesignDay
from planner.report.tables.day import demand_frame, merged, strip_frame
from tests.homes import base, events, home, load, random_home
from tests.report.plans import generator, plan_of

DAYS = (DesignDay("hot", "hot", "summer", 0.75, 70.0, 95.0),
        DesignDay("cold", "cold", "winter", 0.25, 20.0, 40.0))
OFF_TOO = frozenset({"direct", "module", "off"})


@pytest.fixture(scope="module")
def plan():
    """Dryer before range on 6 kW: range cannot wait, tub waits, spa is off; summer only for tub."""
    tub = {"summer": events((6.0, 2.0))["every"]}
    house = home(base(0.5), load("range", 4.0, use=events((6.0, 1.0), (12.0, 1.0))),
                 load("tub", 3.0, nature="task", use=tub, wait_h=3.0),
                 load("dryer", 4.0, use=events((6.0, 1.0))),
                 load("spa", 2.0, use=events((20.0, 1.0)), allowed=OFF_TOO), days=DAYS)
    return plan_of(house, generator(6.0, 5000.0), "dryer", "range", "tub", off=("spa",))


def spans_of(frame, load_id):
    """List the (start, end, state) spans of one load."""
    mine = frame[frame["load_id"] == load_id]
    return list(mine[["start_h", "end_h", "state"]].itertuples(index=False, name=None))


def per_slot(frame):
    """Add up the kW of each slot, in order of the hour."""
    return frame.groupby("hour")["kw"].sum().to_numpy()


@pytest.mark.parametrize("place", [0, 1])
def test_the_loads_add_up_to_the_replay(plan, place):
    """In every slot of either day the stack is as high as the demand of the replay."""
    found = per_slot(demand_frame(plan, DAYS[place]))
    assert found == pytest.approx(plan.service.load_kw[96 * place:96 * (place + 1)])


@pytest.mark.parametrize("seed", range(12))
def test_the_loads_of_random_homes_add_up(seed):
    """The same for random homes whose loads all take turns, woken and excluded ones among them."""
    house = random_home(seed, 5)
    house = replace(house, never_before=(), order_rule="free", loads=tuple(
        replace(one, must_run=False, allowed=one.allowed | {"module"}) for one in house.loads))
    turns = [one.id for one in house.loads[1:]]
    found = plan_of(house, generator(7.0, 1.0), *reversed(turns))
    assert per_slot(demand_frame(found, house.days[0])) == pytest.approx(found.service.load_kw)


def test_what_a_later_turn_wakes_is_on_too():
    """A fan whose own turn came first runs while the furnace behind it needs it."""
    house = home(base(0.5), load("fan", 1.0, use=events((1.0, 0.25))),
                 load("furnace", 2.0, use=events((6.0, 1.0)), requires=("fan",)))
    found = plan_of(house, generator(6.0, 1.0), "fan", "furnace")
    frame = demand_frame(found, house.days[0])
    fan = frame[(frame["load_id"] == "fan") & (frame["kw"] > 0.0)]
    assert fan["hour"].tolist() == [1.0, 6.0, 6.25, 6.5, 6.75]
    assert per_slot(frame) == pytest.approx(found.service.load_kw)
    assert (6.0, 7.0, "running") in spans_of(strip_frame(found, house.days[0]), "fan")


def test_only_loads_that_are_on_that_day_are_shown_and_the_biggest_first(plan):
    """The base takes 12 kWh, tub 6, the rest 4 each in file order; off or idle loads are absent."""
    hot = demand_frame(plan, DAYS[0])
    assert list(dict.fromkeys(hot["load_id"])) == ["base", "tub", "range", "dryer"]
    assert "tub" not in set(demand_frame(plan, DAYS[1])["load_id"])
    assert hot.groupby("load_id").size().eq(96).all()
    assert hot["hour"].min() == 0.0
    assert hot["hour"].max() == 23.75


def test_strips_stand_as_in_the_table_of_the_plan(plan):
    """Always on, then by priority, then what is off."""
    order = list(dict.fromkeys(strip_frame(plan, DAYS[0])["load_id"]))
    assert order == ["base", "dryer", "range", "tub", "spa"]


def test_strips_say_who_runs_waits_drops_and_is_without_power(plan):
    """The dryer has the first turn, the range cannot wait, the tub follows, the spa gets nothing.

    The tub's eight calls begin at 6 and run from 7 to 9: four of them were put off.
    """
    found = strip_frame(plan, DAYS[0])
    assert spans_of(found, "base") == [(0.0, 24.0, "running")]
    assert spans_of(found, "dryer")[1] == (6.0, 7.0, "running")
    assert spans_of(found, "range")[1:4] == [
        (6.0, 7.0, "dropped"), (7.0, 12.0, "not wanted"), (12.0, 13.0, "running")]
    assert spans_of(found, "tub") == [
        (0.0, 6.0, "not wanted"), (6.0, 7.0, "waiting"), (7.0, 9.0, "running"),
        (9.0, 24.0, "not wanted")]
    assert (20.0, 21.0, "without power") in spans_of(found, "spa")


@pytest.mark.parametrize("day", DAYS)
def test_the_spans_of_a_load_cover_its_day(plan, day):
    """No gap, no overlap, and no two neighbours alike."""
    found = strip_frame(plan, day)
    for load_id in plan.menu.house.ids:
        spans = spans_of(found, load_id)
        assert spans[0][0] == 0.0
        assert spans[-1][1] == 24.0
        for one, after in pairwise(spans):
            assert one[1] == after[0]
            assert one[2] != after[2]


def test_running_time_in_the_strips_is_that_of_the_demand(plan):
    """Both frames tell of the same hours."""
    strips = strip_frame(plan, DAYS[0])
    runs = strips[strips["state"] == "running"]
    hours = (runs["end_h"] - runs["start_h"]).groupby(runs["load_id"]).sum()
    demand = demand_frame(plan, DAYS[0])
    on = demand[demand["kw"] > 0.0].groupby("load_id").size() * 0.25
    assert hours.to_dict() == on.to_dict()


def test_a_day_of_another_home_is_refused(plan):
    """A frame never shows a day that the plan was not made for."""
    with pytest.raises(ValueError, match="not in tuple"):
        demand_frame(plan, replace(DAYS[0], id="other"))


def test_merging_keeps_every_place():
    """Spans are half open, follow each other, and nothing gives nothing."""
    assert merged(["a", "a", "b", "a"]) == [(0, 2, "a"), (2, 3, "b"), (3, 4, "a")]
    assert merged([]) == []


def test_a_home_at_rest_has_an_empty_demand():
    """Without anything on there are columns and no rows, and every strip is at rest."""
    house = home(load("lamp", 1.0, use={"every": replace(base(1.0).use["every"], kind="never")}))
    found = plan_of(house, generator(6.0, 1.0))
    assert list(demand_frame(found, house.days[0]).columns) == ["hour", "load", "load_id", "kw"]
    assert len(demand_frame(found, house.days[0])) == 0
    assert spans_of(strip_frame(found, house.days[0]), "lamp") == [(0.0, 24.0, "not wanted")]
    assert np.all(found.service.load_kw == 0.0)
