"""What is said of propane: a remedy works when it is followed, days are those of the spell."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.errors import Severity
from planner.physics.fuel import FILL_LIMIT_SHARE, RESERVE_SHARE, propane_gal_h
from planner.plan.plan import Plan
from planner.plan.site.burn import hardest_burn
from planner.plan.site.tank import mean_degf
from planner.plan.site.tank_findings import tank_findings
from planner.study.recommend import recommend

CASES = Path(__file__).resolve().parents[2] / "cases"
BOOK = read_book(CASES / "demo_price_book.toml")[0]
ADDED = {"all_electric_heat_pump": 45, "rural_propane_well": 56}


def recommended(name: str, percent: int | None = None) -> Plan:
    """Recommend a plan of a home in cases/, with another fill at delivery."""
    home = read_home(CASES / f"{name}.toml")[0]
    assert home.site is not None
    assert home.site.tank is not None
    if percent is not None:
        tank = replace(home.site.tank, delivery_share=percent / 100.0)
        home = replace(home, site=replace(home.site, tank=tank))
    return recommend(home, BOOK, 0.97).plan


@pytest.mark.parametrize("name", sorted(ADDED))
def test_the_fill_that_is_named_saves_what_it_says(name: str) -> None:
    """Followed, the recommended plan has no added tank, costs as much less, and no hour is short.

    Figures of this planner, kept so that a change shows.
    """
    plan = recommended(name)
    said = str(tank_findings(plan)[0])
    assert f'fill_at_delivery = "{ADDED[name]} %"' in said
    assert "save the 1,210 USD" in said
    fuller = recommended(name, ADDED[name])
    assert fuller.menu.works.tanks is not None
    assert fuller.menu.works.tanks.added == ()
    assert fuller.cost_usd == pytest.approx(plan.cost_usd - 1210.0)
    assert not any("hardest hour" in str(one) for one in tank_findings(fuller))


def test_the_days_are_held_against_the_spell() -> None:
    """A warning says the fill that lasts the spell, by hand within a percent; with it, a note."""
    plan = recommended("rural_propane_well")
    tanks = plan.menu.works.tanks
    assert tanks is not None
    share = 0.4
    burn = hardest_burn(plan, tanks, share)
    degf = mean_degf(plan.menu.house.home.days[burn.day])
    warned = tank_findings(plan)[-1]
    assert warned.severity is Severity.WARNING
    least = max(tanks.least_fill(burn.all_btu_h, degf) or 0.0, RESERVE_SHARE)
    by_hand = least + 72.0 * propane_gal_h(burn.all_btu_h) / tanks.all_gal
    named = int(str(warned).split("they need ")[1].split(" %")[0])
    assert 100.0 * by_hand <= named < 100.0 * by_hand + 1.0
    assert named / 100.0 < FILL_LIMIT_SHARE
