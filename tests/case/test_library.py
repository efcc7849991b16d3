"""The appliance library against its sources, and its use against a household's energy."""

from __future__ import annotations

import pytest

from planner.case.library import kinds
from planner.facts.home import DesignDay
from planner.service.use import calls_of, use_on
from tests.case.files import read_load

MILD = DesignDay("mild", "mild", "mild", 1.0, 55.0, 65.0)
SUMMER = DesignDay("hot", "hot", "summer", 1.0, 72.0, 93.0)


def test_the_library_is_large_enough():
    """The kinds that an estimator meets are there."""
    wanted = {
        "central air conditioner", "inverter air conditioner", "heat pump", "inverter heat pump",
        "heat pump back-up heat", "room air conditioner", "furnace blower", "gas furnace",
        "boiler circulator", "electric baseboard heat", "electric water heater",
        "heat pump water heater", "tankless electric water heater", "range", "cooktop",
        "wall oven", "microwave", "dishwasher", "garbage disposal", "clothes washer",
        "electric dryer", "gas dryer", "refrigerator", "freezer", "well pump", "sump pump",
        "sewage ejector", "booster pump", "pool pump", "pool heater", "spa", "vehicle charger",
        "garage door", "lighting and receptacles", "kitchen receptacles", "router and office",
        "television", "medical equipment", "air compressor", "workshop tools", "dehumidifier",
        "sauna", "space heater", "attic fan", "radiant floor heat", "irrigation pump", "aquarium",
        "security system",
    }
    assert wanted <= set(kinds())


@pytest.mark.parametrize(("tons", "amperes"), [(2, 16.7), (3, 24.2), (4, 31.7), (5, 39.2)])
def test_condensers_follow_the_regression_of_resstock(tmp_path, tons, amperes):
    """MCA at 230 V = 0.626 x kBtu/h + 1.634 (NREL ResStock, nameplate_rating_new_load.csv).

    The values at 24, 36, 48 and 60 kBtu/h are derived from the regression.
    """
    load = read_load(tmp_path, "central air conditioner", f'size = "{tons} ton"')
    assert load.code.va / 230 == pytest.approx(amperes, abs=0.05)
    assert 1000 * load.plate_kva / 230 == pytest.approx(amperes / 1.25, abs=0.05)
    assert load.running_a < 1000 * load.plate_kva / 240


@pytest.mark.parametrize(("tons", "low_a", "high_a"), [
    (2, 45, 60), (3, 75, 85), (4, 100, 125), (5, 130, 160)])
def test_condensers_start_within_the_usual_range(tmp_path, tons, low_a, high_a):
    """Locked-rotor currents of single-speed residential condensers; from memory."""
    load = read_load(tmp_path, "central air conditioner", f'size = "{tons} ton"')
    assert low_a <= 1000 * load.starting_kva / 240 <= high_a


def test_doe_wattages_bound_the_small_appliances():
    """The largest sizes stay within the wattages of the US Department of Energy.

    Estimating Appliance and Home Electronic Energy Use (title from memory, read in copies):
    refrigerator 725 W, dehumidifier 785 W, clothes washer from 350 W, hair dryer to 1875 W.
    """
    ends = {name: kinds()[name].sizes[0].running.points for name in kinds()}
    assert ends["refrigerator"][-1][1] == 0.725
    assert ends["dehumidifier"][-1][1] == 0.785
    assert ends["clothes washer"][0][1] == 0.35
    assert ends["hair dryer"][-1][1] == 1.875


@pytest.mark.parametrize(("kind", "lines", "low_kwh", "high_kwh"), [
    ("electric water heater", ['size = "50 gal"'], 9.0, 12.0),
    ("refrigerator", [], 1.2, 2.0),  # 0.2 kW for a third of the day
    ("freezer", [], 0.8, 1.6),
    ("clothes washer", [], 0.2, 0.7),
    ("electric dryer", [], 2.5, 5.0),
    ("dishwasher", [], 0.8, 1.6),
    ("microwave", [], 0.3, 1.5),
    ("vehicle charger", ['size = "32 A"'], 8.0, 20.0),
    ("well pump", ['size = "1 hp"'], 0.8, 3.0),
    ("lighting and receptacles", ['size = "2000 ft^2"'], 4.0, 8.0),
    ("router", [], 0.3, 1.0),
    ("home office", [], 0.5, 2.0),
])
def test_a_days_use_makes_sense_as_energy(tmp_path, kind, lines, low_kwh, high_kwh):
    """Calls times draw is a plausible day's energy; bounds are common practice, no source."""
    load = read_load(tmp_path, kind, *lines)
    kwh = 0.25 * (load.mean_kw or load.running_kw) * calls_of(use_on(load, MILD), MILD).sum()
    assert low_kwh <= kwh <= high_kwh


def test_a_refrigerator_runs_a_third_of_its_hours(tmp_path):
    """32 of 96 slots: run hours = plugged-in hours / 3.

    US Department of Energy, Estimating Appliance and Home Electronic Energy Use.
    """
    load = read_load(tmp_path, "refrigerator")
    assert abs(int(calls_of(use_on(load, MILD), MILD).sum()) - 32) <= 1


def test_a_hot_day_keeps_an_air_conditioner_busy_but_not_always(tmp_path):
    """On the summer design day it runs 8 to 16 hours; on a mild day not at all."""
    load = read_load(tmp_path, "central air conditioner", 'size = "3 ton"')
    hours = 0.25 * calls_of(use_on(load, SUMMER), SUMMER).sum()
    assert 6.0 <= hours <= 16.0
    assert not calls_of(use_on(load, MILD), MILD).any()


@pytest.mark.parametrize("kind", ["furnace blower", "gas furnace", "gas boiler",
                                  "boiler circulator"])
def test_what_burns_a_fuel_is_space_heating_equipment(kind):
    """NEC 220.53 excludes it from the appliances that are fastened in place (2017 to 2023)."""
    assert kinds()[kind].category == "fuel-heating"


def test_an_air_handler_counts_with_heating_or_cooling():
    """NEC 220.82(C), 220.53: air-conditioning and space-heating equipment (2017 to 2023)."""
    assert kinds()["air handler"].category == "air-handler"
