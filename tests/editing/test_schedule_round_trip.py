"""A panel schedule that was written is read again as the same circuits."""

from pathlib import Path

import pytest

from planner.case.read import read_home, read_home_text
from planner.editing.any_list import read_any
from planner.editing.new_home import new_home_text
from planner.quoting import not_a_formula
from planner.report.panel_schedule import schedule_text
from planner.site.circuits import circuits_of, device_of, leg_at

CASES = Path(__file__).parents[2] / "cases"
HOMES = sorted(path.name for path in CASES.glob("*.toml")
               if not path.name.startswith(("broken_", "demo_price_book")))


@pytest.fixture(params=HOMES)
def home(request):
    """Every home of the cases."""
    return read_home(CASES / request.param)[0]


def told(home):
    """Kind, poles, breaker and leg of all loads; lights of a whole floor have no one breaker."""
    return sorted((load.kind, load.poles, load.panel,
                   "several" if (device := device_of(load)) is None else device.breaker_a)
                  for load in home.loads)


def test_export_then_import_gives_the_same_kinds_breakers_and_poles(home):
    """Nothing of a circuit is lost on the way out and in, nor which panel it is in."""
    listed = read_any(schedule_text(home), "out.csv")
    again, _ = read_home_text(new_home_text(listed, home.label), "again.toml")
    assert told(again) == told(home)
    assert [(one.feeder_a, one.fed_from) for one in again.panels[1:]] == [
        (one.feeder_a, one.fed_from) for one in home.panels[1:]]


def test_positions_agree_with_legs_and_none_is_taken_twice(home):
    """A circuit of one pole stands where its leg is, one of two on both legs, each by itself."""
    for panel in home.panels:
        here = [one for one in circuits_of(home) if one.panel == panel.id and one.positions]
        taken = [position for one in here for position in one.positions]
        assert len(taken) == len(set(taken))
        assert taken
        for one in here:
            legs = {leg_at(position) for position in one.positions}
            assert legs == ({"L1", "L2"} if one.leg == "both" else {one.leg})
            assert one.load is None or one.poles == one.load.poles


@pytest.mark.parametrize("cell", ["=1+1", "+1", "-2", "@sum", "  =cmd", "\t=x"])
def test_no_cell_acts_as_a_formula(cell):
    """What begins as a formula does gets an apostrophe."""
    assert not_a_formula(cell) == f"'{cell}"
    assert not_a_formula("a=b") == "a=b"
