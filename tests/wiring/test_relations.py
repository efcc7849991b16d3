"""What needs what, what excludes what, who stands before whom."""

from __future__ import annotations

from planner.wiring import build, exclusions, order_pairs, requires_closure
from tests.homes import base, home, load


def test_requires_reaches_through_any_number_of_steps():
    """An air conditioner that needs a blower that needs a control needs both."""
    house = home(load("air", 3.0, requires=("blower",)), load("blower", 0.5, requires=("control",)),
                 load("control", 0.1))
    assert requires_closure(house) == {
        "air": frozenset({"blower", "control"}),
        "blower": frozenset({"control"}),
        "control": frozenset(),
    }


def test_not_with_holds_both_ways_if_one_of_the_two_says_so():
    """Naming the pair on one side or on both gives the same single pair."""
    one_side = home(load("heat", 5.0, not_with=("air",)), load("air", 3.0))
    both = home(load("heat", 5.0, not_with=("air",)), load("air", 3.0, not_with=("heat",)))
    assert exclusions(one_side) == exclusions(both) == {frozenset({"heat", "air"})}


def test_never_before_puts_the_second_of_the_pair_first():
    """"The dryer never before the air" means the air stands before the dryer."""
    house = home(load("dryer", 5.0), load("air", 3.0), never_before=(("dryer", "air"),))
    assert order_pairs(house) == {("air", "dryer")}


def test_never_before_carries_over():
    """Range before air and air before dryer make range before dryer."""
    house = home(load("dryer", 5.0), load("air", 3.0), load("range", 8.0),
                 never_before=(("dryer", "air"), ("air", "range")))
    assert order_pairs(house) == {("air", "dryer"), ("range", "air"), ("range", "dryer")}


def test_a_module_idles_its_load_and_all_that_require_it():
    """Opening the blower's module stops the air conditioner, not the other way round."""
    house = home(base(0.5), load("air", 3.0, requires=("blower",)), load("blower", 0.5))
    wiring = build(house)
    assert wiring.idled_by_module("blower") == {"air", "blower"}
    assert wiring.idled_by_module("air") == {"air"}
