"""Pressure, regulators and heating value of a home's gas, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.site import GasAppliance, GasService, PipeRun, Site
from planner.facts.site_parts import GasPart, SiteParts
from planner.plan.site.findings import site_findings
from planner.plan.site.fuel import unknown_burners
from planner.plan.site.parts import Blocked
from planner.plan.site.works import works_of
from planner.search.cheapest import cheapest_of
from planner.search.problem import problems_of
from planner.service.house import house_of
from tests.homes import base, book, load
from tests.plan.test_site_works import METERS, PIPES, at, burning, ways_at

FROM_2_PSI = tuple(
    GasPart(f"r{ft3_h:g}", f"regulator of {ft3_h:g}", ft3_h, usd, 40.0, inlet_psi=2.0)
    for ft3_h, usd in ((110.0, 60.0), (250.0, 90.0), (600.0, 150.0)))
FROM_10_PSI = GasPart("r10", "regulator from 10 psi", 600.0, 300.0, 40.0, inlet_psi=10.0)
UNSTATED = GasPart("bare", "regulator", 600.0, 1.0, 1.0)
TREE = GasService(
    pressure_psi=2.0,
    appliances=(GasAppliance("furnace", "Furnace", 103700.0), GasAppliance("fire", "Fire", 41480.0),
                GasAppliance("pool", "Pool heater", 414800.0)),
    runs=(PipeRun("main", 40.0, size="1"),
          PipeRun("inside", 20.0, "main", "3/4", appliances=("furnace", "fire")),
          PipeRun("pool", 10.0, "main", "3/4", appliances=("pool",)),
          PipeRun("last", 30.0, "main", generator=True)))
PARTS = SiteParts(pipes=PIPES, regulators=(*FROM_2_PSI, FROM_10_PSI, UNSTATED))


def lines_at(gas, parts=PARTS, fuel="natural gas"):
    """What a way costs, by the text of its lines, pipe left out."""
    way, = ways_at(Site(gas=gas), parts, fuel=fuel)
    return {line.text: line.usd for line in way.lines if not line.text.startswith("gas pipe")}


def test_at_two_psi_every_outlet_has_a_regulator():
    """NFPA 54 ch. 5 (from memory): generator 192.9, furnace and fire 140, pool heater 400 ft³/h.

    Heats over 1037 Btu/ft³ (EIA); the cheapest of 110, 250 and 600 ft³/h that passes its own.
    """
    assert lines_at(TREE) == {
        "regulator of 250, at the generator, installed": 130.0,
        "regulator of 250, at Furnace and Fire, installed": 130.0,
        "regulator of 600, at Pool heater, installed": 190.0}
    alone = replace(TREE, runs=(PipeRun("g", 60.0, generator=True),))
    assert lines_at(alone) == {"regulator of 250, at the generator, installed": 130.0}


@pytest.mark.parametrize(("in_wc", "is_regulated"), [(7.0, False), (14.0, False), (15.0, True)])
def test_above_what_appliances_take_there_are_regulators(in_wc, is_regulated):
    """NFPA 54 ch. 5 (from memory): up to 14 in w.c. none, above it at each of three outlets."""
    found = lines_at(replace(TREE, pressure_psi=in_wc / 27.6799))
    assert len(found) == (3 if is_regulated else 0)


def test_a_run_of_its_own_leaves_the_others_their_regulators():
    """Where a run straight from the meter costs less, the pipe that is there keeps its pressure."""
    low = replace(TREE, runs=(PipeRun("main", 400.0, size="1/2"), *TREE.runs[1:]))
    way, = ways_at(Site(gas=low), PARTS)
    assert [piece.id for piece in way.gas.pieces] == ["a run of its own"]
    assert len(way.gas.regulators.others) == 2


def test_a_regulator_takes_the_pressure_of_the_pipe():
    """At 10 psi only the one for 10 psi stands there, though others cost less; at 15 psi none.

    One whose maker states no inlet is never chosen.
    """
    pipe = GasService(pressure_psi=10.0, runs=(PipeRun("g", 60.0, generator=True),))
    assert lines_at(pipe) == {"regulator from 10 psi, at the generator, installed": 340.0}
    assert lines_at(replace(pipe, pressure_psi=15.0)) == {
        "gas regulator for 15 psi at the generator": None}
    assert lines_at(replace(pipe, pressure_psi=2.0), SiteParts(pipes=PIPES, regulators=(
        UNSTATED,))) == {"gas regulator for 2 psi at the generator": None}


def test_propane_passes_in_less_volume():
    """200,000 Btu/h at 2488 Btu/ft³ are 80.4 ft³/h, as 127 of natural gas (gravities 1.5, 0.6).

    NFPA 58 Annex B and the law of an orifice (both from memory): 110 ft³/h do not pass it.
    """
    pipe = GasService(pressure_psi=2.0, runs=(PipeRun("g", 60.0, generator=True),))
    assert lines_at(pipe, fuel="propane") == {
        "regulator of 250, at the generator, installed": 130.0}


def needing(in_wc):
    """A size that needs so much pressure at its inlet."""
    plain = burning(10.0, 1000.0)
    return replace(plain, ratings={fuel: replace(one, inlet_in_wc=in_wc)
                                   for fuel, one in plain.ratings.items()})


def test_a_size_that_gets_too_little_pressure_is_not_offered():
    """7 in w.c. less 6 leave 1, and it needs 5 (derived); the loss that is named lets it stand."""
    gas = GasService(7.0 / 27.6799, drop_in_wc=6.0, runs=(PipeRun("g", 60.0, generator=True),))
    blocked = ways_at(Site(gas=gas), PARTS, size=needing(5.0))
    assert isinstance(blocked, Blocked)
    assert "may fall to 1 inWC, and it needs 5" in blocked.sentence
    assert 'drop = "2.0 inWC"' in blocked.remedy
    assert not isinstance(ways_at(Site(gas=replace(gas, drop_in_wc=2.0)), PARTS,
                                  size=needing(5.0)), Blocked)
    assert isinstance(ways_at(Site(gas=replace(gas, drop_in_wc=2.1)), PARTS,
                              size=needing(5.0)), Blocked)
    assert not isinstance(ways_at(Site(gas=gas), PARTS), Blocked)  # no maker's figure, no check


def test_where_no_smaller_loss_helps_more_pressure_is_asked_for():
    """2 in w.c. are below 5 before anything is lost; propane comes from a supplier."""
    gas = GasService(2.0 / 27.6799)
    for fuel, who in (("natural gas", "gas utility"), ("propane", "propane supplier")):
        blocked = ways_at(Site(gas=gas), PARTS, size=needing(5.0), fuel=fuel)
        assert blocked.remedy == f"Ask the {who} for more pressure."
    regulated = ways_at(Site(gas=GasService(2.0)), PARTS, size=needing(5.0))
    assert not isinstance(regulated, Blocked)


def test_leaner_gas_takes_a_larger_meter():
    """200,000 + 103,700 Btu/h are 292.9 ft³/h at 1037 Btu/ft³ (EIA) and 303.7 at 1000 (derived)."""
    gas = GasService(meter_ft3_h=300.0, appliances=(GasAppliance("a", "A", 103700.0),))
    way, = ways_at(Site(gas=gas), SiteParts(meters=METERS))
    assert way.gas.meter is None
    way, = ways_at(Site(gas=replace(gas, btu_per_ft3=1000.0)), SiteParts(meters=METERS))
    assert way.gas.generator_ft3_h + way.gas.others_ft3_h == pytest.approx(303.7)
    assert way.gas.meter is METERS[0]


def test_what_burns_gas_and_is_not_counted_is_named():
    """A furnace that an appliance speaks of is known, the dryer and the range are not."""
    loads = [load(name, 0.3, kind=kind) for name, kind in (
        ("furnace", "gas furnace"), ("dryer", "gas dryer"), ("oven", "gas range"),
        ("stove", "range"))]
    gas = GasService(appliances=(GasAppliance("f", "F", 8e4, load="furnace"),))
    assert [one.id for one in unknown_burners(at(Site(gas=gas), *loads))] == ["dryer", "oven"]
    assert [one.id for one in unknown_burners(at(None, *loads))] == ["furnace", "dryer", "oven"]


def test_the_plan_says_what_the_pressure_costs_and_what_is_not_known():
    """The regulators of the other outlets are named with their price, the dryer as not known."""
    dryer = load("dryer", 0.3, kind="gas dryer", label="Dryer", allowed=frozenset({"direct"}))
    one = at(Site(gas=TREE), base(1.0), dryer)
    offered = book(burning(10.0, 1000.0), site=PARTS)
    plan = cheapest_of(problems_of(one, offered), one, offered, 0.0)
    said = [str(finding) for finding in site_findings(plan)]
    assert any("at 2 psi each outlet" in text and "320 USD" in text
               and "Furnace and Fire; Pool heater" in text for text in said)
    assert any("what Dryer burns (gas.appliances)" in text for text in said)
    way, = works_of(house_of(one), offered, offered.generators[0])
    assert way.usd == plan.menu.works.usd
