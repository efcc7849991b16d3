"""Reading a home: the order of the file changes nothing, and what is odd is said."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.case.read import read_home
from planner.errors import CaseError, Severity
from tests.case.files import HEAD, load_text, read_text

LOADS = (
    load_text("lights", "lighting and receptacles", 'size = "1800 ft^2"'),
    load_text("fridge", "refrigerator"), load_text("freezer", "freezer"),
    load_text("second-freezer", "freezer"), load_text("office", "router and office"),
    load_text("air", "central air conditioner", 'size = "3 ton"', 'requires = ["blower"]'),
    load_text("blower", "furnace blower"), load_text("micro", "microwave"),
    load_text("dish", "dishwasher", 'leg = "L2"'), load_text("washer", "clothes washer"),
)
SETTINGS = settings(max_examples=30, deadline=None,
                    suppress_health_check=[HealthCheck.function_scoped_fixture])


@SETTINGS
@given(order=st.permutations(LOADS))
def test_the_order_of_the_file_changes_no_load(tmp_path, order):
    """Shuffled loads are the same loads by id, legs included."""
    plain = read_text(tmp_path, HEAD + "".join(LOADS))
    shuffled = read_text(tmp_path, HEAD + "".join(order))
    assert {load.id: load for load in shuffled.loads} == {load.id: load for load in plain.loads}
    assert shuffled.days == plain.days


@SETTINGS
@given(kinds=st.lists(st.sampled_from(["freezer", "microwave", "dishwasher", "television",
                                       "garbage disposal", "gas dryer"]), min_size=1, max_size=12))
def test_balanced_legs_differ_by_no_more_than_the_largest_load(tmp_path, kinds):
    """Largest first to the emptier leg: the difference never exceeds the largest one-leg load."""
    text = HEAD + "".join(load_text(f"load-{n}", kind) for n, kind in enumerate(kinds))
    loads = read_text(tmp_path, text).loads
    legs = {leg: sum(x.running_kva for x in loads if x.leg == leg) for leg in ("L1", "L2")}
    assert abs(legs["L1"] - legs["L2"]) <= max(x.running_kva for x in loads) + 1e-9


def test_weights_are_normalised(tmp_path):
    """Weights 1 and 3 become a quarter and three quarters."""
    home = read_text(tmp_path, HEAD + LOADS[0])
    assert [day.weight for day in home.days] == [0.25, 0.75]


def test_defaults_of_the_house(tmp_path):
    """Id from the file's stem, label from the id, first panel, free order, 25 % dip, 90 %."""
    home = read_text(tmp_path, HEAD + LOADS[0])
    assert home.id == "house"
    assert home.load("lights").label == "Lights"
    assert home.load("lights").panel == "main"
    assert (home.order_rule, home.transfer_kinds) == ("free", {"whole-house"})
    assert (home.limits.allowed_dip, home.limits.largest_share) == (0.25, 0.9)
    assert home.expected == {}


def test_everything_of_the_file_arrives(tmp_path):
    """Sections, pairs, measured demand and expectations reach the home in its own units."""
    text = HEAD.replace('method = "optional"', """method = "measured"
[code.measured]
peak = "7.2 kVA"
days = 365
interval = "1 h"
with_generation = true""") + """
[[panels]]
id = "attic"
feeder = "60 A"
fed_from = "main"
[limits]
allowed_dip = "20 %"
largest_share = "90 %"
[wishes]
order = "importance"
never_before = [["dish", "fridge"]]
[expected]
calculated_load_va = 12000
""" + LOADS[1] + load_text("dish", "dishwasher", 'label = "The dishwasher"', 'panel = "attic"',
                           'wait = "90 min"', "importance = 2", 'not_with = ["fridge"]')
    home = read_text(tmp_path, text)
    assert (home.code.measured_peak_kva, home.code.measured_days) == (7.2, 365.0)
    assert (home.code.measured_interval_min, home.code.measured_with_generation) == (60.0, True)
    assert home.panels[1].fed_from == "main"
    assert home.panels[1].feeder_a == 60.0
    assert (home.limits.allowed_dip, home.limits.largest_share) == (0.2, 0.9)
    assert home.never_before == (("dish", "fridge"),)
    assert home.order_rule == "importance"
    assert home.expected == {"calculated_load_va": 12000}
    dish = home.load("dish")
    assert (dish.label, dish.panel, dish.wait_h) == ("The dishwasher", "attic", 1.5)
    assert (dish.importance, dish.not_with) == (2, ("fridge",))


def test_assumed_legs_are_said(tmp_path):
    """One note names every load whose leg was chosen for it."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + "".join(LOADS[1:4]), encoding="utf-8")
    _, findings = read_home(path)
    assert [finding.severity for finding in findings] == [Severity.NOTE]
    assert "freezer, fridge, second-freezer" in findings[0].sentence


def test_a_load_that_never_calls_is_said(tmp_path):
    """A kiln that is used on mild days calls on none of two other days: a warning."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + load_text("kiln", "kiln", 'size = "9 kW"'), encoding="utf-8")
    _, findings = read_home(path)
    assert [finding.severity for finding in findings] == [Severity.WARNING]
    assert "calls on none" in findings[0].sentence


def test_the_price_book_stands_beside_the_home(tmp_path):
    """Its path is relative to the file that names it; none named, none found."""
    path = tmp_path / "house.toml"
    fridge = load_text("fridge", "refrigerator")
    path.write_text(HEAD + fridge, encoding="utf-8")
    assert read_home(path)[0].price_book is None
    path.write_text(HEAD.replace('label = "A', 'price_book = "book.toml"\nlabel = "A') + fridge,
                    encoding="utf-8")
    assert read_home(path)[0].price_book == tmp_path / "book.toml"


@pytest.mark.parametrize("weight", [0, -1, True, "0.5", 1e-9, 1001, "inf", "nan", "9" * 400])
def test_a_weight_is_a_bare_number_within_bounds(tmp_path, weight):
    """Zero, negative, true, text, far too small and far too large are refused."""
    shown = f'"{weight}"' if weight == "0.5" else str(weight).lower()
    path = tmp_path / "house.toml"
    path.write_text(HEAD.replace("weight = 1", f"weight = {shown}") + LOADS[0], encoding="utf-8")
    with pytest.raises(CaseError, match=r"A number from 0\.001 to 1000 is expected"):
        read_home(path)
