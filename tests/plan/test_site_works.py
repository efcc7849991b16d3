"""What a size needs at its site: gas, tank and wire on hand-made homes, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.price_book import FuelUse
from planner.facts.site import GasAppliance, GasService, PipeRun, PropaneTank, Site
from planner.facts.site_parts import GasPart, Pipe, SiteParts, TankPart, Wire
from planner.physics.fuel import fuel_btu_h
from planner.plan.site.findings import site_findings
from planner.plan.site.fuel import mean_limit_kw
from planner.plan.site.gas import gas_work
from planner.plan.site.parts import Blocked
from planner.plan.site.tank import Tanks, intermittent_btu_h, tanks_of
from planner.plan.site.works import blocked_sizes, works_of
from planner.search.cheapest import cheapest_of
from planner.search.problem import problems_of
from planner.service.house import house_of
from planner.service.loops.inputs import NEVER_KW
from tests.homes import base, book, clock, generator, home, motor

PIPES = tuple(Pipe(size, size, size, usd) for size, usd in (
    ("1/2", 10.0), ("3/4", 12.0), ("1", 15.0), ("1-1/4", 20.0)))
METERS = (GasPart("m400", "meter of 400", 400.0, 300.0, 100.0),
          GasPart("m700", "meter of 700", 700.0, 500.0, 100.0))
SMALL = TankPart("small", "tank of 100", 100.0, 24.0, 60.0, 400.0, 100.0)
LARGE = TankPart("large", "tank of 500", 500.0, 41.0, 104.0, 1800.0, 200.0)
FUEL = FuelUse(50000.0, 100000.0, 200000.0)


def burning(kw, usd, **changes):
    """A size that burns 200,000 Btu/h at full load, 100,000 at half and 50,000 at none."""
    plain = generator(kw, usd)
    ratings = {fuel: replace(one, fuel=FUEL) for fuel, one in plain.ratings.items()}
    return replace(plain, ratings=ratings, **changes)


def at(site, *loads, fuel="natural gas", days=(), **changes):
    """A home at a site."""
    one = home(*(loads or (base(1.0),)), site=site, fuel=fuel, **changes)
    return replace(one, days=tuple(days)) if days else one


def ways_at(site, parts, *loads, fuel="natural gas", size=None, **changes):
    """The ways of one size at a site."""
    size = size or burning(10.0, 1000.0)
    one, offered = at(site, *loads, fuel=fuel, **changes), book(size, site=parts)
    return works_of(house_of(one), offered, size)


def test_a_meter_that_is_too_small_is_changed_for_the_cheapest_that_passes_all():
    """200,000 + 103,700 Btu/h at 1037 Btu/ft³ (EIA) are 192.9 and 100 ft³/h: 292.9 in all."""
    gas = GasService(meter_ft3_h=292.0, appliances=(GasAppliance("a", "A", 103700.0),))
    way, = ways_at(Site(gas=gas), SiteParts(meters=METERS))
    assert way.gas.generator_ft3_h == pytest.approx(192.86, abs=0.01)
    assert way.gas.others_ft3_h == pytest.approx(100.0)
    assert way.gas.meter is METERS[0]
    assert way.usd == 400.0
    enough, = ways_at(Site(gas=replace(gas, meter_ft3_h=293.0)), SiteParts(meters=METERS))
    assert enough.gas.meter is None
    assert enough.usd == 0.0


def test_where_no_meter_passes_enough_the_size_is_not_offered():
    """The smaller size stands, the larger one is blocked, and the plan says so and why."""
    gas = GasService(meter_ft3_h=150.0)
    small, large = burning(10.0, 1000.0), replace(burning(20.0, 2000.0), id="large")
    ratings = {fuel: replace(one, fuel=FuelUse(3e4, 6e4, 1e5))
               for fuel, one in small.ratings.items()}
    one, offered = at(Site(gas=gas)), book(replace(small, ratings=ratings), large)
    assert {p.menu.generator.id for p in problems_of(one, offered)} == {"set-10"}
    (size, why), = blocked_sizes(house_of(one), offered)
    assert size.id == "large"
    assert "150 ft³/h" in why.sentence
    plan = cheapest_of(problems_of(one, offered), one, offered, 0.0)
    said = [str(finding) for finding in site_findings(plan)]
    assert any("not considered" in text and "20 kW" in text for text in said)


def test_pipe_is_sized_for_all_and_the_cheaper_way_is_taken():
    """UPC 1316.1.1 (longest-length method) on a tree of two pieces, 30 ft and 30 ft, 60 ft in all.

    The trunk carries 192.9 + 100 ft³/h: 1-1/4 in by the row of 60 ft (257 in 1 in, 528 in 1-1/4 in,
    IFGC 2018 Table 402.4(2), from memory), where 1 in lies. Larger: 30 · 20 + 30 · 15 = 1,050 USD
    (193 ft³/h in 1 in). A run of its own, 60 ft of 1 in, costs 900 USD and is taken.
    """
    gas = GasService(appliances=(GasAppliance("a", "A", 103700.0),), runs=(
        PipeRun("trunk", 30.0, size="1", appliances=("a",)),
        PipeRun("last", 30.0, "trunk", generator=True)))
    way, = ways_at(Site(gas=gas), SiteParts(pipes=PIPES))
    piece, = way.gas.pieces
    assert (piece.id, piece.size, way.usd) == ("a run of its own", "1", 900.0)
    dear = tuple(replace(one, usd_per_ft=25.0) if one.size == "1" else one for one in PIPES)
    way, = ways_at(Site(gas=gas), SiteParts(pipes=dear))
    assert [(one.id, one.size, one.laid) for one in way.gas.pieces] == [
        ("trunk", "1-1/4", True), ("last", "1", True)]
    assert way.usd == 30.0 * 20.0 + 30.0 * 25.0


def test_pipe_that_is_there_and_large_enough_costs_nothing():
    """A trunk of 1-1/4 in carries 292.9 ft³/h at 60 ft; only the new piece is laid."""
    gas = GasService(appliances=(GasAppliance("a", "A", 103700.0),), runs=(
        PipeRun("trunk", 30.0, size="1-1/4", appliances=("a",)),
        PipeRun("last", 30.0, "trunk", generator=True)))
    way, = ways_at(Site(gas=gas), SiteParts(pipes=PIPES))
    assert [(one.size, one.laid) for one in way.gas.pieces] == [("1-1/4", False), ("1", True)]
    assert way.usd == 450.0


def test_two_psi_needs_a_regulator_and_less_pipe():
    """At 2 psi 60 ft of 1/2 in carry 192.9 ft³/h (615 in IFGC 2018 Table 402.4(5))."""
    gas = GasService(pressure_psi=2.0, runs=(PipeRun("g", 60.0, generator=True),))
    parts = SiteParts(pipes=PIPES, regulators=(
        GasPart("r", "regulator", 250.0, 90.0, 40.0, inlet_psi=2.0),))
    way, = ways_at(Site(gas=gas), parts)
    assert [line.usd for line in way.lines] == [130.0, 600.0]
    without, = ways_at(Site(gas=gas), SiteParts(pipes=PIPES))
    assert [line.usd for line in without.lines] == [None, 600.0]


@given(st.floats(50001.0, 199999.0), st.lists(st.floats(0.0, 10.0), min_size=4, max_size=12),
       st.floats(60000.0, 190000.0))
def test_an_average_within_the_limit_never_burns_more(btu_h, loads, half):
    """Whatever the loads: if their mean is within the limit, so is their fuel (Jensen)."""
    use = FuelUse(50000.0, half, 200000.0)
    limit = mean_limit_kw(btu_h, 10.0, use)
    mean = sum(loads) / len(loads)
    if 0.0 < limit < mean:
        loads = [kw * limit / mean for kw in loads]
    if sum(loads) / len(loads) <= limit:
        burned = sum(fuel_btu_h(kw, 10.0, use) for kw in loads) / len(loads)
        assert burned <= btu_h * (1.0 + 1e-9)


def test_the_limit_of_the_average_is_not_too_strict():
    """A steady load at a concave curve, and one of nothing or all at a convex one, reach it."""
    concave, convex = FuelUse(5e4, 15e4, 2e5), FuelUse(5e4, 1e5, 2e5)
    steady = mean_limit_kw(12e4, 10.0, concave)
    assert fuel_btu_h(steady, 10.0, concave) == pytest.approx(12e4)
    share = mean_limit_kw(12e4, 10.0, convex) / 10.0
    assert (1.0 - share) * 5e4 + share * 2e5 == pytest.approx(12e4)
    assert mean_limit_kw(4e4, 10.0, convex) < 0.0


def test_a_tank_makes_vapour_by_its_table():
    """500 gal at 40 % and 0 degF make 182,000 Btu/h (common practice, no source), two twice that.

    The fill for 150,000 Btu/h lies between 20 % (113,750) and 30 % (154,700): 28.9 % (derived).
    """
    one, two = Tanks((500.0,)), Tanks((500.0, 500.0))
    assert one.vapour_btu_h(0.4, 0.0) == 182000.0
    assert two.vapour_btu_h(0.4, 0.0) == 364000.0
    assert one.least_fill(150000.0, 0.0) == pytest.approx(0.2885, abs=1e-4)
    assert one.least_fill(300000.0, 0.0) is None


def test_how_long_a_tank_lasts():
    """It lasts until the vapour ends, or the reserve is reached (derived).

    From 40 % to 28.85 % of 500 gal at 91,452 Btu/gal (EIA) and 150,000 Btu/h: 34.0 h; where the
    reserve of 20 % is higher, that counts: 100,000 Btu/h at 20 degF last 91.5 h.
    """
    tank = Tanks((500.0,))
    assert tank.lasts_h(150000.0, 0.4, 0.0) == pytest.approx(
        (0.4 - 0.28852) * 500.0 * 91452.0 / 150000.0, rel=1e-3)
    assert tank.lasts_h(100000.0, 0.4, 20.0) == pytest.approx(0.2 * 500 * 91452.0 / 1e5)
    assert tank.lasts_h(500000.0, 0.4, 0.0) == 0.0


@given(st.floats(0.25, 0.8), st.floats(-20.0, 60.0), st.floats(0.0, 200.0))
def test_the_largest_draw_lasts_as_long_as_asked(fill, degf, hours):
    """The draw that is found lasts, and one a percent larger does not, or makes no vapour."""
    tank = Tanks((250.0,))
    most = tank.most_btu_h(fill, degf, hours)
    assert most <= tank.vapour_btu_h(fill, degf)
    if most > 1000.0 and hours > 0.0:
        assert tank.lasts_h(most, fill, degf) >= hours * (1.0 - 1e-9)
        more = 1.01 * most
        assert more > tank.vapour_btu_h(fill, degf) or tank.lasts_h(more, fill, degf) < hours


def test_the_hour_is_held_to_the_rule_for_intermittent_draw():
    """D·L·K at 40 % and 0 degF: 41 · 104 · 80 = 341,120 Btu/h (from memory).

    Colder or emptier than it reaches it gives nothing; a tank that the book lacks is not known.
    """
    offered = book(burning(10.0, 1.0), site=SiteParts(tanks=(LARGE,)))
    assert intermittent_btu_h(Tanks((500.0,)), offered, 0.4, 0.0) == pytest.approx(341120.0)
    assert intermittent_btu_h(Tanks((500.0,)), offered, 0.4, -16.0) == 0.0
    assert intermittent_btu_h(Tanks((500.0,)), offered, 0.09, 0.0) == 0.0
    assert intermittent_btu_h(Tanks((250.0,)), offered, 0.4, 0.0) is None


def test_a_tank_is_added_only_where_it_frees_something():
    """No tank of the home may feed all that a size can give on average: then nothing is added."""
    parts = SiteParts(tanks=(SMALL, LARGE))
    site = Site(tank=PropaneTank(1000.0, delivery_share=0.8))
    way, = ways_at(site, parts, fuel="propane")
    assert way.tanks.added == ()
    assert min(way.limits.fuel_kw) >= NEVER_KW
    ways = ways_at(Site(tank=PropaneTank(100.0)), parts, fuel="propane")
    assert [one.usd for one in ways] == sorted(one.usd for one in ways)
    assert ways[0].tanks.added == ()
    for cheap, dear in pairwise(ways):
        assert any(a < b for a, b in zip(cheap.limits.fuel_kw, dear.limits.fuel_kw, strict=True))


def test_a_tank_that_is_too_small_is_added_to_or_kept_fuller():
    """A plan that needs the tank says why, its price and the fill that does without.

    Followed, the plan costs that much less. The fill has something to spare, and not much: with a
    fifth less of it the tank is bought again.
    """
    parts = SiteParts(tanks=(LARGE,))
    loads = base(1.0), clock("oven", 5.0, (6.0, 12.0))
    size = burning(10.0, 1000.0)

    def cheapest(share):
        one = at(Site(tank=PropaneTank(150.0, delivery_share=share)), *loads, fuel="propane",
                 winter_degf=0.0)
        offered = book(size, site=parts)
        return cheapest_of(problems_of(one, offered), one, offered, 1.0)

    plan = cheapest(0.15)
    assert plan.menu.works.tanks.added == (LARGE,)
    text = next(str(one) for one in site_findings(plan) if "tank of 500" in str(one))
    percent = int(text.split('fill_at_delivery = "')[1].split(" %")[0])
    assert "saves the 2,000 USD" in text
    fuller = cheapest(percent / 100.0)
    assert fuller.menu.works.tanks.added == ()
    assert fuller.cost_usd == pytest.approx(plan.cost_usd - 2000.0)
    assert cheapest(0.8 * percent / 100.0).menu.works.tanks.added == (LARGE,)


def test_a_promise_in_days_asks_for_a_larger_tank():
    """Half a day lasts on the tank that is there, five do not; what is bought makes them."""
    parts = SiteParts(tanks=(SMALL, LARGE))
    size = burning(10.0, 1000.0)

    def cheapest(days):
        one = at(Site(tank=PropaneTank(250.0, delivery_share=0.6), fuel_days=days), base(3.0),
                 fuel="propane")
        offered = book(size, site=parts)
        return cheapest_of(problems_of(one, offered), one, offered, 0.0)

    assert cheapest(0.5).menu.works.tanks.added == ()
    plan = cheapest(5.0)
    tanks = plan.menu.works.tanks
    assert tanks.added
    assert tanks.lasts_h(87500.0, 0.6, 60.0) >= 120.0  # 3 kW on the chord of 50,000 to 200,000


def test_a_home_without_a_tank_buys_one():
    """`count` of nothing: one of the book stands there, and is in the price."""
    ways = ways_at(Site(tank=PropaneTank(500.0, count=0)), SiteParts(tanks=(LARGE,)),
                   fuel="propane")
    assert all(way.tanks.added for way in ways)
    bare = ways_at(Site(tank=PropaneTank(500.0, count=0)), SiteParts(), fuel="propane")
    assert isinstance(bare, Blocked)
    assert tanks_of(at(Site()), book()) == ()


def test_a_wire_that_is_too_long_is_laid_larger_and_more():
    """A motor that dips too far through the least wire gets a larger one, at a price, or none."""
    wires = tuple(Wire(size, size, size, "copper", usd) for size, usd in (
        ("6", 1.0), ("2", 2.0), ("4/0", 5.0), ("500", 9.0)))
    loads = base(0.5), motor("pump", 1.0, 12.0)
    size = generator(10.0, 1000.0)
    near = ways_at(Site(wire_ft=30.0), SiteParts(wires=wires), *loads, size=size)
    assert len(near) == 1
    assert near[0].feeder.size == near[0].feeder.first
    far = ways_at(Site(wire_ft=900.0), SiteParts(wires=wires), *loads, size=size)
    assert [way.usd for way in far] == sorted(way.usd for way in far)
    assert far[0].limits.feeder_ohm > near[0].limits.feeder_ohm
    for cheap, dear in pairwise(far):
        assert dear.limits.feeder_ohm < cheap.limits.feeder_ohm


def test_what_has_no_price_is_said_and_not_in_the_sum():
    """A trench without a price in the book leaves the sum alone and a warning."""
    site = Site(trench_ft=40.0, wire_ft=20.0)
    one, offered = at(site), book(burning(10.0, 1000.0))
    plan = cheapest_of(problems_of(one, offered), one, offered, 0.0)
    plain = replace(one, site=None)
    assert plan.cost_usd == cheapest_of(problems_of(plain, offered), plain, offered, 0.0).cost_usd
    said = [str(finding) for finding in site_findings(plan)]
    assert any("trench, 40 ft: the price book has no price" in text for text in said)
    assert any("what the gas meter passes" in text for text in said)


def test_nothing_known_changes_nothing():
    """A home that says nothing of its site has one way, free and without limits, and a note."""
    size = burning(10.0, 1000.0)
    one, offered = at(None), book(size)
    way, = works_of(house_of(one), offered, size)
    assert (way.id, way.usd, way.limits.fuel_kw, way.limits.feeder_ohm) == ("", 0.0, (), 0.0)
    plan = cheapest_of(problems_of(one, offered), one, offered, 0.0)
    note, = site_findings(plan)
    assert "nothing is known" in note.sentence
    assert not isinstance(gas_work(house_of(one), offered, size), Blocked)
