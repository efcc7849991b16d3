"""Frames of a simulated outage say what was counted in it, and stay small."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest

from planner.report.tables.outage import timeline_frame
from planner.report.tables.played import demand_frame, event_frame, strip_frame
from planner.simulation.faults import Fault
from planner.simulation.outage import simulate
from tests.homes import base, events, generator, home, load
from tests.simulation.plans import plan_of

CYCLES = ((1.0, 0.5), (5.0, 0.5), (9.0, 0.5), (13.0, 0.5), (17.0, 0.5), (21.0, 0.5))


@pytest.fixture(scope="module")
def plan():
    """Two of 4 kW that fit one at a time on 6 kW, b may wait half an hour; c is off."""
    house = home(base(0.5), load("a", 4.0, use=events((6.0, 2.0))),
                 load("b", 4.0, use=events((6.0, 1.0)), wait_h=0.5),
                 load("c", 1.0, use=events(*CYCLES), allowed=frozenset({"direct", "off"})))
    return plan_of(house, generator(6.0, 5000.0), "a", "b", off=("c",))


@pytest.fixture(scope="module")
def outage(plan):
    """Ten hours from midnight on."""
    return simulate(plan, plan.menu.house.home.days[0], 0, hours=10.0)


def spans_of(frame, load_id):
    """List the (start, end, state) spans of one load."""
    mine = frame[frame["load_id"] == load_id]
    return list(mine[["start_h", "end_h", "state"]].itertuples(index=False, name=None))


def test_the_loads_of_a_slot_add_up_to_the_mean(outage):
    """The stack is as high as the mean load of the generator in those fifteen minutes."""
    found = demand_frame(outage)
    stack = found.groupby("hour")["kw"].sum()
    minutes = timeline_frame(outage)["mean_kw"].to_numpy(dtype=float)
    assert stack.index.tolist() == [0.25 * slot for slot in range(41)]
    assert stack.to_numpy() == pytest.approx(minutes.reshape(41, 15).mean(axis=1), abs=1e-6)
    assert found.groupby("hour")["mean_kw"].first().to_numpy() == pytest.approx(stack.to_numpy())


def test_energy_is_kept(outage):
    """Slots times their length is what the engine gave, less the extra energy of starts."""
    found = demand_frame(outage)
    total_kwh = 0.25 * found["kw"].sum()
    engine_kwh, start_kwh = outage.tally.sums[0], outage.tally.sums[1]
    assert total_kwh == pytest.approx(engine_kwh - start_kwh, rel=1e-5)


def test_a_load_of_constant_draw_gets_its_own_energy(outage):
    """With constant draws alone the share of each load is exact."""
    found = demand_frame(outage)
    kwh = 0.25 * found.groupby("load_id")["kw"].sum()
    assert kwh["a"] == pytest.approx(outage.tally.kwh[1], rel=1e-3)


def test_the_highest_load_is_that_of_the_timeline(outage):
    """No peak is lost between slots."""
    found = demand_frame(outage)
    minutes = timeline_frame(outage)["top_kw"].to_numpy(dtype=float)
    tops = found.groupby("hour")["top_kw"].first().to_numpy()
    assert tops.tolist() == minutes.reshape(41, 15).max(axis=1).tolist()
    assert (found["top_kw"] >= found["mean_kw"] - 1e-6).all()


def test_who_never_runs_on_the_generator_is_not_in_the_stack(outage):
    """The load that is off has no share, even after the utility is back."""
    assert list(dict.fromkeys(demand_frame(outage)["load_id"]))[:1] == ["a"]
    assert "c" not in set(demand_frame(outage)["load_id"])


def test_strips_follow_the_seconds_of_every_minute(plan, outage):
    """A minute with running is running; one that only waits is waiting."""
    minutes = timeline_frame(outage)
    for start_h, end_h, state in spans_of(strip_frame(plan, outage), "b"):
        inside = minutes.iloc[round(60 * start_h):round(60 * end_h)]
        if state == "running":
            assert (inside["b_run_s"] > 0).all()
        elif state == "waiting":
            assert ((inside["b_wait_s"] > 0) & (inside["b_run_s"] == 0)).all()
        elif state == "not wanted":
            assert ((inside["b_wait_s"] == 0) & (inside["b_run_s"] == 0)).all()


def test_a_call_given_up_is_shown_when_the_log_says_so(plan, outage):
    """The second in turn waits while the first runs, then gives up in that minute."""
    said = event_frame(outage)
    gives_up = said[said["sentence"].str.startswith("b gives up")]["time"].tolist()
    assert gives_up
    hours, minutes, _ = (int(part) for part in gives_up[0].split(":"))
    spans = spans_of(strip_frame(plan, outage), "b")
    dropped = [span for span in spans if span[2] == "dropped"]
    assert dropped[0][0] == pytest.approx(hours + minutes / 60)
    assert spans[spans.index(dropped[0]) - 1][2] == "waiting"


def test_what_is_off_is_without_power_until_the_utility_returns(plan, outage):
    """Off standby power means dark for ten hours, then back."""
    spans = spans_of(strip_frame(plan, outage), "c")
    assert spans[0][0] == 0.0
    assert spans[0][2] == "without power"
    assert spans[0][1] == pytest.approx(10.0, abs=0.25)
    assert "without power" not in {state for _, _, state in spans[1:]}


def test_a_dark_house_is_without_power(plan):
    """An engine that never starts leaves every strip dark until the utility is back."""
    day = plan.menu.house.home.days[0]
    dark = simulate(plan, day, 0, hours=2.0, fault=Fault(failed_starts=99))
    found = strip_frame(plan, dark)
    assert spans_of(found, "base")[0] == (0.0, 2.0, "without power")
    assert len(demand_frame(dark)) == 0


def test_strips_cover_what_was_played_in_the_order_of_the_plan(plan, outage):
    """No gap, no overlap; always on, then by priority, then off."""
    found = strip_frame(plan, outage)
    assert list(dict.fromkeys(found["load_id"])) == ["base", "a", "b", "c"]
    for load_id in outage.ids:
        spans = spans_of(found, load_id)
        assert (spans[0][0], spans[-1][1]) == (0.0, outage.seconds / 3600.0)
        assert all(one[1] == after[0] and one[2] != after[2] for one, after in pairwise(spans))


@pytest.mark.parametrize(("hours", "slot_h"), [(72.0, 0.25), (720.0, 2.0)])
def test_frames_of_long_outages_stay_small(plan, hours, slot_h):
    """At most 400 slots per load, at most 1,500 spans, and energy is still kept."""
    long = simulate(plan, plan.menu.house.home.days[0], 0, hours=hours)
    found = demand_frame(long)
    assert found["hour"].drop_duplicates().iloc[1] == slot_h
    assert found.groupby("load_id").size().max() <= 400
    strips = strip_frame(plan, long)
    assert strips.groupby("load_id").size().max() <= 1500
    assert strips["end_h"].max() == pytest.approx(hours + 0.25)
    expected = long.tally.sums[0] - long.tally.sums[1]
    assert slot_h * found["kw"].sum() == pytest.approx(expected, rel=1e-5)
    runs = strips[strips["state"] == "running"]
    shown_h = (runs["end_h"] - runs["start_h"]).groupby(runs["load_id"]).sum()
    assert shown_h["a"] >= long.tally.run_s[1] / 3600.0


def test_an_outage_that_ends_within_a_minute_ends_there(plan):
    """The last minute and the last slot are not filled; nothing is played beyond the end."""
    odd = simulate(plan, plan.menu.house.home.days[0], 0, hours=1.01)
    assert strip_frame(plan, odd)["end_h"].max() == odd.seconds / 3600.0
    assert 0.25 * demand_frame(odd)["kw"].sum() == pytest.approx(
        odd.tally.sums[0] - odd.tally.sums[1], rel=1e-5)


def test_events_are_the_lines_of_the_outage(plan):
    """Time and sentence put together are the line; the second day is named."""
    long = simulate(plan, plan.menu.house.home.days[0], 0, hours=30.0, start_h=17.5)
    found = event_frame(long)
    assert [f"{time} {sentence}" for time, sentence in found.to_numpy()] == list(long.lines())
    assert found.iloc[0].tolist() == ["17:30:00", "the utility is lost"]
    assert found["time"].str.startswith("day 2 ").any()
    assert not np.any(found["sentence"].str.match(r"\d\d:"))
