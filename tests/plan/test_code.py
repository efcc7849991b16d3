"""Which calculated load counts for what is always connected: the lesser permitted one."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.home import CodeBasis, CodeEntry
from planner.physics.demand import why_not_optional
from planner.plan.code import always_connected, direct_sheet
from planner.plan.menu import menu_of
from planner.service.choice import DIRECT, OFF, Choice
from planner.service.house import house_of
from tests.homes import ALL, book, generator, home, load

SELECTED = frozenset({"selected-circuits"})


def dwelling(**changes):
    """The house of NEC Annex D, D2(a), with its heat as one entry of five units."""
    entries = (("range", "cooking", 12_000.0, 1), ("water-heater", "appliance", 2500.0, 1),
               ("dishwasher", "appliance", 1200.0, 1), ("dryer", "dryer", 5000.0, 1),
               ("heat", "heating", 9000.0, 5), ("air", "cooling", 1380.0, 1))
    loads = [load(name, 1.0, allowed=ALL, code=CodeEntry(category, va, units))
             for name, category, va, units in entries]
    return home(*loads, floor_area_ft2=1500.0, code=CodeBasis("2017", "optional"), **changes)


def menu(one, kind="whole-house"):
    """Its menu with a generator of 20 kW."""
    size = generator(20.0, 4000.0)
    offered = book(size)
    if kind != "whole-house":
        offered = replace(offered, transfers=tuple(
            replace(part, kind=kind, positions=40) for part in offered.transfers))
    return menu_of(house_of(one), offered, size, kind)


def all_direct(one, but=None):
    """Everything always connected, one load perhaps on the utility side."""
    return Choice(tuple(OFF if ld.id == but else DIRECT for ld in one.loads),
                  (0,) * len(one.loads), ())


def test_both_methods_are_worked_out_and_the_lesser_counts():
    """D2(a) of NEC Annex D (2017) is 21,480 VA by 220.82.

    By Part III (derived): 3000 + 35 % of 6000 + 2500 + 1200 + range 8000 + dryer 5000 + heat 9000
    = 30,800 VA; the cooler and its motor belong to the season that does not count (2017).
    """
    one = dwelling()
    found = always_connected(menu(one), all_direct(one))
    assert found.why_not_optional == ""
    assert found.optional.total_va == pytest.approx(21_480.0)
    assert found.standard.total_va == pytest.approx(30_800.0)
    assert found.counts is found.optional
    assert direct_sheet(menu(one), all_direct(one)) == found.optional


def test_part_three_counts_where_it_is_less():
    """With nothing but the dwelling: 9000 VA by 220.82, 3000 + 35 % of 6000 = 5100 by Part III."""
    one = home(load("lights", 0.5, code=CodeEntry("general", 500.0)), floor_area_ft2=1500.0)
    found = always_connected(menu(one), all_direct(one))
    assert found.optional.total_va == pytest.approx(9000.0)
    assert found.standard.total_va == pytest.approx(5100.0)
    assert found.counts is found.standard


@pytest.mark.parametrize(("changes", "kind", "moved", "why"), [
    ({"service_a": 60.0}, "whole-house", None, "60 A"),
    ({}, "whole-house", "dryer", "a part"),
    ({"transfer_kinds": SELECTED}, "selected-circuits", None, "a part"),
])
def test_the_optional_method_is_for_one_large_feeder_of_the_whole_dwelling(
        changes, kind, moved, why):
    """A small service, a circuit on the utility side, selected circuits: Part III (220.82(A))."""
    one = dwelling(**changes)
    found = always_connected(menu(one, kind), all_direct(one, moved))
    assert why in found.why_not_optional
    assert found.why_not_optional.startswith("220.82(A) ")
    assert found.counts is found.standard
    assert found.optional.total_va < found.standard.total_va  # it would have been less


def test_the_method_of_the_file_does_not_decide():
    """A generator is no existing service: 220.83 says nothing about it, nor does a method alone."""
    sums = set()
    for method in ("standard", "optional", "existing", "measured"):
        one = dwelling()
        one = replace(one, code=replace(one.code, method=method))
        sums.add(round(direct_sheet(menu(one), all_direct(one)).total_va, 6))
    assert sums == {21_480.0}


def test_the_clause_follows_the_edition():
    """Article 220 is Article 120 in 2026."""
    assert why_not_optional("2026", 60.0, entire=True).startswith("120.82(A) ")
    assert why_not_optional("2023", 100.0, entire=True) == ""
