"""How long the fuel lasts and what a day of it costs, held against the burn by hand."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.errors import Severity
from planner.physics.fuel import NATURAL_GAS_BTU_PER_FT3, PROPANE_BTU_PER_GAL
from planner.physics.noise import level_db
from planner.plan.site.burn import burn_of
from planner.plan.site.findings import site_findings
from planner.plan.site.place_findings import place_findings
from planner.report.site.fuel import fuel_sentences
from planner.report.site.words import noise_sentences, place_sentences
from tests.homes import cheapest

CASES = Path(__file__).resolve().parents[2] / "cases"
BOOK = read_book(CASES / "demo_price_book.toml")[0]


def plan_of(name, **changes):
    """The cheapest plan of a home in cases/ that covers everything, with a changed site."""
    home = read_home(CASES / f"{name}.toml")[0]
    site = replace(home.site, **changes) if changes else home.site
    return cheapest(replace(home, site=site), BOOK, 0.97)


def most_btu_h(plan):
    """What is burned on average on the day on which it is most."""
    return max(burn_of(plan, day).all_btu_h for day in range(len(plan.menu.house.home.days)))


def test_propane_is_told_in_days_and_dollars():
    """Days from full and from the delivery; gallons and dollars of the worst day, rounded up."""
    plan = plan_of("rural_propane_well")
    lasts, a_day = fuel_sentences(plan)
    gal = 24.0 * most_btu_h(plan) / PROPANE_BTU_PER_GAL
    said = float(a_day.split("up to ")[1].split(" gal")[0])
    assert gal <= said < gal + 1.0
    usd = float(a_day.split("about ")[1].split(" USD")[0].replace(",", ""))
    assert gal * BOOK.propane_per_gal <= usd + 1e-9 < gal * BOOK.propane_per_gal + 1.0
    days = float(lasts.split("last ")[1].split(" days")[0])
    assert 0.0 < days * gal <= 0.6 * plan.menu.works.tanks.all_gal
    assert "from full (80 %)" in lasts
    assert "from 40 %" in lasts
    assert lasts.split("the plan is for ")[1].startswith("3.")


def test_an_unknown_tank_is_said():
    """Without a tank in the file nobody knows how long it lasts."""
    assert "not known" in fuel_sentences(plan_of("rural_propane_well", tank=None))[0]


def test_natural_gas_is_told_by_the_day():
    """Cubic feet of the worst day, and that it is the generator alone without appliances."""
    plan = plan_of("suburban")
    (said,) = fuel_sentences(plan)
    ft3 = 24.0 * most_btu_h(plan) / NATURAL_GAS_BTU_PER_FT3
    assert ft3 <= float(said.split("up to ")[1].split(" ft³")[0].replace(",", "")) < ft3 + 10.0
    assert "for the generator alone" in said


@pytest.mark.parametrize(("changes", "words"), [
    ({"opening_ft": 2.0}, ["2 ft from a door, window or vent"]),
    ({"opening_ft": 5.0, "wall_ft": 5.0}, []),
    ({"wall_ft": 1.5}, ["1.5 ft from a wall that burns"]),
    ({"wall_ft": 1.5, "wall_is_combustible": False}, []),
    ({"opening_ft": 4.9, "wall_ft": 4.9}, ["4.9 ft from a door", "4.9 ft from a wall"]),
])
def test_a_generator_too_near_is_warned_of_beside_every_price(changes, words):
    """NFPA 37 4.1.4: 5 ft from openings and from walls that burn; among what a plan says, too."""
    home = read_home(CASES / "rural_propane_well.toml")[0]
    place = replace(home.site.place, **{"opening_ft": None, "wall_ft": None, **changes})
    near = replace(home, site=replace(home.site, place=place))
    found = list(place_findings(near))
    assert [one.severity for one in found] == [Severity.WARNING] * len(words)
    for one, word in zip(found, words, strict=True):
        assert word in one.sentence
    assert [one.startswith("The generator stands") for one in place_sentences(near)] == [
        True] * len(words)


def test_what_a_plan_says_holds_what_is_wrong_with_the_place():
    """A quote for a generator 2 ft from a window is never clean."""
    place = replace(read_home(CASES / "rural_propane_well.toml")[0].site.place, opening_ft=2.0)
    said = site_findings(plan_of("rural_propane_well", place=place))
    assert any("carbon monoxide kills" in one.sentence for one in said)


def test_the_neighbour_hears_what_the_law_of_distance_says():
    """Free field, rounded up to a whole dB; nothing where nobody says how far."""
    place = replace(read_home(CASES / "rural_propane_well.toml")[0].site.place, neighbour_ft=40.0)
    plan = plan_of("rural_propane_well", place=place)
    (said,) = noise_sentences(plan)
    level = level_db(plan.supply.generator.noise_db, 40.0)
    assert level <= float(said.split("up to ")[1].split(" dB")[0]) < level + 1.0
    assert "40 ft away" in said
    assert noise_sentences(plan_of("rural_propane_well")) == ()
