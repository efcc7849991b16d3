"""Means over seeds with honest intervals, and service as the plan counts it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from planner.facts.home import DesignDay
from planner.report.tables.frames import frame
from planner.report.tables.outage import (
    equipment_table,
    outage_table,
    timeline_frame,
    weights_sentence,
)
from planner.simulation.outage import simulate
from planner.simulation.outcome.agreement import agree, agreement_of
from planner.simulation.outcome.mean import mean_of, student_95
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.simulation.settings import Settings
from tests.homes import base, events, generator, home, load
from tests.simulation.plans import plan_of

DAYS = (DesignDay("hot", "hot", "summer", 0.75, 70.0, 95.0),
        DesignDay("cold", "cold", "winter", 0.25, 20.0, 40.0))


@pytest.fixture(scope="module")
def plan():
    """Two that fit one at a time, the second calling in summer only; a third is left off."""
    house = home(base(0.5), load("a", 4.0, use=events((6.0, 2.0)), importance=5),
                 load("b", 4.0, use={"summer": events((6.0, 2.0))["every"]}, importance=2),
                 load("c", 4.0, use=events((12.0, 1.0)), importance=1,
                      allowed=frozenset({"direct", "off"})), days=DAYS)
    return plan_of(house, generator(6.0, 5000.0), "a", "b", off=("c",))


@pytest.fixture(scope="module")
def results(plan):
    """Four seeds of a day each, with modules that sense every call."""
    return Results(plan, 24.0, tuple(outages(plan, seeds=4, workers=2,
                                             settings=Settings(senses="calls"))))


@pytest.mark.parametrize("freedom", [1, 2, 3, 5, 10, 30, 199])
def test_the_point_of_student_is_the_tabulated_one(freedom):
    """Within 1 % of the exact point."""
    assert student_95(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=0.01)


def test_the_interval_is_the_usual_one():
    """Half width = t · s / √n; one value has none."""
    values = np.array([0.9, 0.95, 0.97, 0.91, 0.99, 0.93])
    low, high = stats.t.interval(0.95, 5, values.mean(), stats.sem(values))
    found = mean_of(values)
    assert found.value == pytest.approx((low + high) / 2)
    assert found.half == pytest.approx((high - low) / 2, rel=0.01)
    assert mean_of(values[:1]).half is None


def test_service_is_energy_served_of_energy_wanted_by_weight(results):
    """Days count by weight, a day counts at most what it wanted."""
    by_seed = results.service_by_seed()
    first, second = results.summaries[:2]
    assert (first.day, second.day, first.seed, second.seed) == ("hot", "cold", 0, 0)
    served = 0.75 * min(first.kwh[1], first.wanted_kwh[1]) + 0.25 * min(
        second.kwh[1], second.wanted_kwh[1])
    wanted = 0.75 * first.wanted_kwh[1] + 0.25 * second.wanted_kwh[1]
    assert by_seed[0, 1] == pytest.approx(served / wanted)
    assert by_seed[:, 3] == pytest.approx(0.0, abs=0.05)


def test_coverage_is_how_well_comforts_are_kept_by_weight_and_importance(results):
    """A comfort loses what it loses on all days, by weight, of what it could lose on them."""
    by_seed = results.kept_by_seed()
    home = results.plan.menu.house.home
    place = [one.id for one in home.comforts].index("b")
    first, second = (one.comforts[place] for one in results.summaries[:2])
    assert first.lost > 0.0
    assert second.losable == 0.0
    assert by_seed[0, place] == pytest.approx(1.0 - first.lost / first.losable)
    importance = results.plan.menu.house.importance
    assert results.coverage.value == pytest.approx(
        float((by_seed @ importance).mean() / importance.sum()))
    assert results.comforts()[place].kept.value == pytest.approx(by_seed[:, place].mean())


def test_the_second_in_turn_gets_less(results):
    """The first of the order is served nearly in full, the second waits and misses its use."""
    loads = {one.id: one for one in results.loads()}
    assert loads["a"].service.value > 0.95
    assert loads["b"].service.value < 0.5
    assert loads["b"].waits > 0.0
    assert loads["b"].missed > 0.0


def test_the_order_of_the_outages_changes_nothing(results, plan):
    """Results are those of the seeds, whatever order they come in."""
    turned = Results(plan, 24.0, tuple(reversed(results.summaries)))
    assert turned.coverage == results.coverage


def test_a_seed_that_lacks_a_day_is_left_out(results, plan):
    """An interruption in the middle of a seed does not tilt the weights."""
    cut = Results(plan, 24.0, results.summaries[:5])
    assert cut.seeds == 2
    with pytest.raises(ValueError, match="every design day"):
        Results(plan, 24.0, results.summaries[:1])


def test_several_at_a_time_is_one_at_a_time(results, plan):
    """Threads do not change what is found."""
    alone = Results(plan, 24.0, tuple(outages(plan, seeds=4, workers=1,
                                              settings=Settings(senses="calls"))))
    assert alone.coverage == results.coverage
    assert [one.fuel_btu for one in alone.summaries] == [
        one.fuel_btu for one in results.summaries]


def test_who_stops_taking_stops_the_work(plan):
    """A generator closed early leaves no thread at work."""
    taking = outages(plan, seeds=1000, workers=2)
    first = next(taking)
    taking.close()
    assert first.seed == 0
    assert next(taking, None) is None


def test_a_plan_that_serves_all_agrees_with_its_promise():
    """Planned 100 % is simulated within half a percent where there is room for everything."""
    house = home(base(0.5), load("a", 3.0, use=events((6.0, 1.0)), wait_h=1.0),
                 load("b", 2.0, use=events((6.0, 2.0)), wait_h=1.0))
    found = agree(plan_of(house, generator(12.0, 5000.0), "a", "b"), seeds=4)
    assert found.coverage.planned == 1.0
    assert found.coverage.difference == pytest.approx(0.0, abs=0.005)


def test_the_gap_is_simulated_minus_planned(results):
    """The difference is a figure of its own; only what counts in the coverage is in the list."""
    found = agreement_of(results)
    assert found.coverage.difference == pytest.approx(
        results.coverage.value - results.plan.coverage)
    assert {gap.id for gap in found.comforts} == {"a", "b", "c"}
    sizes = [abs(gap.difference) * gap.importance for gap in found.comforts]
    assert sizes == sorted(sizes, reverse=True)


def test_tables_show_what_was_found(results):
    """Frames carry the plain values in the units that their names say."""
    loads = frame(outage_table(results))
    assert list(loads["load"]) == ["base", "a", "b", "c"]
    assert loads["service"][1] == results.loads()[1].service.value
    figures = frame(equipment_table(results)).set_index("key")["value"]
    assert figures["Energy"] == pytest.approx(
        results.per_day(lambda one: one.engine_kwh).value)


def test_the_timeline_has_a_row_per_minute(plan):
    """Hours, power, frequency, dip, state, and seconds of running and waiting of every load."""
    outage = simulate(plan, DAYS[0], 0, hours=10.0)
    found = timeline_frame(outage)
    assert len(found) == -(-outage.seconds // 60)
    assert found["a_run_s"].sum() == outage.tally.run_s[1]
    assert np.isnan(found["lowest_hz"].iloc[-1])
    assert 40.0 < found["lowest_hz"].min() < 62.0


def test_one_seed_has_no_interval(plan):
    """A single outage gives a value without a width."""
    single = Results(plan, 24.0, tuple(outages(plan, seeds=1)))
    assert single.coverage.half is None
    assert replace(single, hours=24.0).coverage == single.coverage


def test_a_cell_holds_one_quantity_and_its_heading_the_unit(results):
    """No cell of waits mixes a count and minutes; means and extremes are told apart."""
    table = outage_table(results)
    place = {column.key: i for i, column in enumerate(table.columns)}
    cells = {row[0]: row for row in table.cells}
    assert float(cells["b"][place["waits"]]) > 0.0
    assert cells["b"][place["longest_wait_h"]].split()[-1] in ("min", "h")
    assert float(cells["b"][place["missed"]]) > 0.0
    assert cells["base"][place["waits"]] == cells["base"][place["longest_wait_h"]] == ""
    assert not any("," in cell for row in table.cells for cell in row)
    lines = {line.key: line for line in equipment_table(results).items}
    assert (lines["dark_s"].taken, lines["dark_s"].unit) == ("mean per day", "s")
    assert (lines["lowest_hz"].taken, lines["lowest_hz"].unit) == ("worst of all", "Hz")
    assert all(line.unit not in line.shown for line in lines.values())


def test_the_weights_of_the_days_are_said(results):
    """Three quarters hot, a quarter cold."""
    assert weights_sentence(results) == (
        "Per day: a mean per 24 h of outage. Every design day is played equally often and counts "
        "by its weight: hot 75 %, cold 25 %.")
