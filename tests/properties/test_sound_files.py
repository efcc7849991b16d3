"""What the readers call sound, the rest can work with: at the ends of all bounds as well."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import get_args

import tomlkit
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.case import bounds
from planner.case.book.read import read_book_text
from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.errors import CaseError, NoPlanError
from planner.facts.home import CodeEdition, CodeMethod
from planner.facts.price_book import FuelUse, Rating
from planner.physics.demand import calculated_load
from planner.report.data import frontier_data
from planner.report.demand import demand_data
from planner.report.home import home_data
from planner.search.frontier import Frontier, frontier

CASES = Path(__file__).parents[2] / "cases"
BOOK = (CASES / "demo_price_book.toml").read_text("utf-8")
HOME = (CASES / "gas_heated_small.toml").read_text("utf-8")


def one_of(*allowed):
    """An end of a bound, or something between that is usual."""
    return st.sampled_from([end for one in allowed for end in (one.least, one.most)])


def rarely(strategy):
    """Mostly nothing, so that the rest of a table is sound often enough."""
    return st.one_of(st.none(), st.none(), strategy)


TENTHS = st.sampled_from([0.05, 0.5, 1.0])
LOADS = st.fixed_dictionaries({"kind": st.sampled_from(sorted(kinds()))}, optional={
    "leg": st.sampled_from(["L1", "L2", "both"]),
    "running": one_of(bounds.DRAW_KW, bounds.DRAW_KVA, bounds.DRAW_A),
    "nameplate": one_of(bounds.DRAW_KW, bounds.DRAW_KVA, bounds.DRAW_A),
    "mca": one_of(bounds.DRAW_A), "locked_rotor": one_of(bounds.START_A),
    "motor": st.one_of(one_of(bounds.SHAFT), st.sampled_from(["1.5 hp", "10 hp", "12 hp"])),
    "code_letter": st.sampled_from("AGU"), "power_factor": TENTHS, "start_power_factor": TENTHS,
    "surge": st.lists(st.fixed_dictionaries({
        "for": one_of(bounds.SURGE_TIME), "kw": one_of(bounds.SURGE_KW),
        "kva": one_of(bounds.SURGE_KVA)}), max_size=2),
    "wait": one_of(bounds.WAIT), "importance": st.integers(0, 5), "must_run": st.booleans(),
    "heating_units": st.sampled_from([1, 50]),
    "connections": st.sampled_from([["direct"], ["direct", "off"], ["module"], ["off"]]),
    "use": st.fixed_dictionaries({"every": st.one_of(
        st.just({"kind": "always"}),
        st.fixed_dictionaries({"kind": st.just("cooling"), "balance": one_of(bounds.TEMPERATURE),
                               "design": one_of(bounds.TEMPERATURE),
                               "full_duty": one_of(bounds.DUTY), "offset": one_of(bounds.OFFSET)}),
    )}),
})
HOMES = st.fixed_dictionaries({
    "home": st.fixed_dictionaries({
        "label": st.just("House"), "service": one_of(bounds.SERVICE),
        "floor_area": one_of(bounds.AREA), "altitude": one_of(bounds.ALTITUDE),
        "summer_design": st.sampled_from(["140 degF", "95 degF"]),
        "winter_design": st.sampled_from(["-80 degF", "10 degF"]),
        "fuel": st.sampled_from(["natural gas", "propane"]),
        "transfer": st.sampled_from([["whole-house"], ["selected-circuits"]])}),
    "code": st.fixed_dictionaries({
        "edition": st.sampled_from(get_args(CodeEdition)),
        "method": st.just("measured"),
        "small_appliance_circuits": st.sampled_from([0, 20]),
        "laundry_circuits": st.sampled_from([0, 10]), "added": st.just(["it-0"]),
        "measured": st.fixed_dictionaries({
            "peak": one_of(bounds.MEASURED_KVA), "interval": one_of(bounds.INTERVAL),
            "days": st.sampled_from(bounds.MEASURED_DAYS)})}),
    "limits": st.fixed_dictionaries({"allowed_dip": one_of(bounds.ALLOWED_DIP),
                                     "largest_share": one_of(bounds.LARGEST_SHARE)}),
    "panels": st.just([{"id": "main", "feeder": bounds.RATING.most}]),
    "days": st.lists(st.fixed_dictionaries({
        "season": st.sampled_from(["summer", "winter", "mild"]),
        "weight": st.sampled_from(bounds.WEIGHT), "low": st.just("-80 degF"),
        "high": one_of(bounds.TEMPERATURE)}), min_size=1, max_size=2),
    "loads": st.lists(LOADS, min_size=1, max_size=3),
})
RATING = st.fixed_dictionaries({
    "power": one_of(bounds.GENERATOR_KW), "apparent": one_of(bounds.GENERATOR_KVA),
    "current": one_of(bounds.RATING), "no_load": st.just("1 Btu/h"),
    "half_load": st.just("2 Btu/h"), "full_load": st.just(bounds.HEAT.most)})


def for_any_size(book):
    """The demonstration book and, beside it, whatever carries the largest loads of all bounds."""
    heat = FuelUse(1e6, 2e6, 5e7)
    most = Rating(bounds.RATING_KVA, bounds.RATING_KVA, bounds.LARGEST_RATING_A, heat)
    generator = replace(book.generators[-1], id="huge", ratings={"natural gas": most,
                                                                 "propane": most})
    whole = next(one for one in book.transfers if one.kind == "whole-house")
    picked = next(one for one in book.transfers if one.kind == "selected-circuits")
    module = next(one for one in book.modules if one.action == "contactor")
    large = {"amperes": bounds.LARGEST_RATING_A}
    return replace(
        book, generators=(*book.generators, generator),
        transfers=(*book.transfers, replace(whole, id="huge", rating_a=bounds.LARGEST_RATING_A),
                   replace(picked, id="huge-picked", rating_a=bounds.LARGEST_RATING_A)),
        modules=(*book.modules, replace(module, id="huge", poles=2, motor_hp=1e3, **large)),
        soft_starters=(*book.soft_starters,
                       replace(book.soft_starters[0], id="huge", factor=0.01, **large)))


def numbered(raw, *keys):
    """Give each item of the lists of a file an id."""
    for key in keys:
        raw[key] = [{"id": f"it-{number}", **row} for number, row in enumerate(raw[key])]
    return tomlkit.dumps(raw)


def worked(home, book):
    """Let the code and the planner work at a home; an answer of each, or that no plan is there."""
    for edition in get_args(CodeEdition):
        for method in get_args(CodeMethod):
            code = replace(home.code, edition=edition, method=method)
            sheet = calculated_load(replace(home, code=code))
            json.dumps(demand_data(sheet), allow_nan=False)
            assert sheet.minimum_service_a is None or (
                sheet.minimum_service_a >= sheet.whole_amperes_a)
    json.dumps(home_data(home), allow_nan=False)
    try:
        found = frontier(home, book)
    except NoPlanError:
        found = Frontier(())
    json.dumps(frontier_data(home, book, found), allow_nan=False)


def if_sound(read, text):
    """Give what a text says; nothing where it is refused, as the bounds let many be."""
    try:
        return read(text, "the.toml")[0]
    except CaseError:
        return None


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(HOMES)
def test_a_sound_home_can_be_calculated_and_planned(raw):
    """At the ends of the bounds: a sheet by every method and edition, and plans or a refusal."""
    book = for_any_size(read_book_text(BOOK, "book.toml")[0])
    home = if_sound(read_home_text, numbered(raw, "days", "loads"))
    if home is not None:
        worked(home, book)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.fixed_dictionaries({
    "label": st.just("Book"), "notice": st.just("Invented."), "relocation": one_of(bounds.MONEY),
    "permits": one_of(bounds.MONEY), "maintenance_per_year": one_of(bounds.MONEY),
    "natural_gas": one_of(bounds.GAS_PRICE), "propane": one_of(bounds.PROPANE_PRICE)}),
    st.lists(st.fixed_dictionaries({
        "label": st.just("Set"), "cooling": st.just("air"),
        "reactance": st.sampled_from(bounds.REACTANCE), "short_time": one_of(bounds.SHORT_TIME),
        "derating": st.fixed_dictionaries({
            "altitude": st.sampled_from(["0 % per 1 ft", "10 % per 1000 ft"]),
            "altitude_from": one_of(bounds.DATUM),
            "temperature": st.sampled_from(["0 % per 1 degF", "10 % per 10 degF"]),
            "temperature_from": one_of(bounds.TEMPERATURE)}),
        "price": one_of(bounds.PRICE), "installation": one_of(bounds.MONEY),
        "inertia": one_of(bounds.INERTIA), "droop": one_of(bounds.DROOP),
        "ratings": st.fixed_dictionaries({"natural gas": RATING})}), min_size=1, max_size=3))
def test_a_sound_price_book_can_be_planned_with(book, generators):
    """A plain home with a book at the ends of its bounds: plans, or that there is none."""
    raw = {**tomlkit.parse(BOOK).unwrap(), "book": book, "generators": generators}
    offered = if_sound(read_book_text, numbered(raw, "generators"))
    if offered is not None:
        worked(read_home_text(HOME, "home.toml")[0], offered)
