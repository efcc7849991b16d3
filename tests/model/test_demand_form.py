"""The model's linear form of the calculated load is never above the code's own sheet."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import product
from typing import get_args

import numpy as np
import pytest

from planner.facts.home import CodeBasis, CodeCategory, CodeEdition, CodeEntry, CodeMethod
from planner.model.demand import demand_form, demand_forms
from planner.plan.code import direct_demand
from tests.homes import home, load

CATEGORIES, EDITIONS, METHODS = map(get_args, (CodeCategory, CodeEdition, CodeMethod))
by_the_book = pytest.mark.parametrize(("edition", "method"), list(product(EDITIONS, METHODS)))


def dwelling(edition, method, *entries, area_ft2=0.0, **changes):
    """A home with a load per code entry."""
    loads = [load(f"load-{number}", 1.0, code=entry) for number, entry in enumerate(entries)]
    return home(*loads, floor_area_ft2=area_ft2, code=CodeBasis(edition, method, **changes))


def form_and_sheet(one, direct, whole):
    """VA by the linear form and by the sheet that counts for some direct loads."""
    marks = np.array([float(ld.id in direct) for ld in one.loads])
    found = direct_demand(one, frozenset(direct), whole_area=whole, entire=whole)
    return demand_form(one, whole).lower_va(marks), found.counts.total_va


def optional_form_and_sheet(one, direct):
    """VA by the form and by the sheet of the optional method alone."""
    marks = np.array([float(ld.id in direct) for ld in one.loads])
    found = direct_demand(one, frozenset(direct), whole_area=True, entire=True)
    return demand_forms(one, True)[1].lower_va(marks), found.optional.total_va


def assert_never_above(one, rng, picks=5):
    """Whole house or selected circuits, none, all and random sets of direct loads."""
    ids = [ld.id for ld in one.loads]
    sets = [[], ids, *([name for name in ids if rng.random() < 0.6] for _ in range(picks))]
    for whole in (True, False):
        counted, forms = demand_form(one, whole), demand_forms(one, whole)
        for direct in sets:
            marks = np.array([float(ld.id in direct) for ld in one.loads])
            found = direct_demand(one, frozenset(direct), whole_area=whole, entire=whole)
            assert counted.lower_va(marks) <= found.counts.total_va + 1e-6
            for form, sheet in zip(forms, (found.standard, found.optional), strict=False):
                assert form.lower_va(marks) <= sheet.total_va + 1e-6


@by_the_book
@pytest.mark.parametrize("seed", range(25))
def test_never_above_the_sheet(edition, method, seed):
    """For random dwellings and sets of direct loads no form is above the sheet that it is for."""
    rng = random.Random(f"{edition} {method} {seed}")
    entries = [CodeEntry(rng.choice(CATEGORIES), float(rng.randrange(200, 15_000)),
                         units=rng.choice([1, 1, 1, 2, 5, 12]),
                         with_supplemental=rng.random() < 0.5)
               for _ in range(rng.randrange(1, 12))]
    added = tuple(f"load-{n}" for n in range(len(entries)) if rng.random() < 0.3)
    assert_never_above(dwelling(
        edition, method, *entries, area_ft2=float(rng.randrange(0, 5000)), added=added,
        small_appliance_circuits=rng.randrange(0, 6), laundry_circuits=rng.randrange(0, 3),
        measured_peak_kva=rng.choice([None, 9.0])), rng)


@by_the_book
@pytest.mark.parametrize("category", CATEGORIES)
def test_never_above_the_sheet_with_many_alike(edition, method, category):
    """One to fifty units of a kind, behind one entry or several, about every size of the tables.

    Each edition, method and category draws a quarter of the 64 cases of its own.
    """
    rng = random.Random(f"{edition} {method} {category}")
    cases = list(product((1, 2, 3, 4, 5, 11, 24, 43), (400.0, 1700.0, 3400.0, 3600.0,
                                                       8700.0, 8800.0, 12_600.0, 27_100.0)))
    for units, each_va in rng.sample(cases, 16):
        one = CodeEntry(category, units * each_va, units=units)
        other = replace(one, va=each_va, units=1)
        assert_never_above(dwelling(edition, method, one), rng, picks=0)
        assert_never_above(dwelling(edition, method, one, other, other), rng, picks=2)


@pytest.mark.parametrize(("edition", "exact_va"), [
    ("2017", 4500 + 1500 * 3 + 1000 + 0.4 * 9000 + 6000), ("2026", 8000 + 0.4 * 9500 + 6000)])
def test_exact_where_the_dwelling_fills_the_first_step(edition, exact_va):
    """With 1500 ft² and three circuits the optional method is linear, and the form equals it.

    2017: 4500 + 4500 VA, ten appliances' 10,000 VA and cooling 6000 VA at 100 % (220.82): the first
    10 kVA in full, 9000 VA at 40 %. 2026: 2 VA/ft², so 7500 + 10,000 VA, the first 8 kVA in full.
    The first step is not filled by the dwelling alone: the form is exact with all loads or none.
    """
    one = dwelling(edition, "optional", *(CodeEntry("appliance", 1000.0) for _ in range(10)),
                   CodeEntry("cooling", 6000.0), area_ft2=1500.0)
    lower_va, total_va = optional_form_and_sheet(one, [ld.id for ld in one.loads])
    assert total_va == pytest.approx(exact_va)
    assert lower_va == pytest.approx(total_va)
    lower_va, total_va = optional_form_and_sheet(one, [])
    assert lower_va == pytest.approx(total_va)


def test_exact_for_any_set_where_the_dwelling_alone_fills_the_first_step():
    """With 2500 ft² the dwelling counts 12,000 VA, so that every load adds 40 % of its own.

    Cooling and heating do not add up: the larger counts, heating at 65 % (220.82(C), 2023).
    """
    one = dwelling("2023", "optional", CodeEntry("appliance", 4500.0), CodeEntry("dryer", 5000.0),
                   CodeEntry("cooling", 6000.0), CodeEntry("heating", 10_000.0), area_ft2=2500.0)
    names = [ld.id for ld in one.loads]
    for marks in product((False, True), repeat=4):
        direct = [name for name, mark in zip(names, marks, strict=True) if mark]
        lower_va, total_va = optional_form_and_sheet(one, direct)
        assert lower_va == pytest.approx(total_va)
    assert total_va == pytest.approx(10_000 + 0.4 * (2000 + 9500) + 6500)


@pytest.mark.parametrize("peak_kva", [0.5, 3.0, 9.0, 60.0])
@pytest.mark.parametrize("seed", range(10))
def test_never_above_a_measured_bound(peak_kva, seed):
    """A form of a measured home is above neither the sheet of the loads nor 125 % of the peak."""
    rng = random.Random(f"measured {peak_kva} {seed}")
    entries = [CodeEntry(rng.choice(CATEGORIES), float(rng.randrange(200, 9000)))
               for _ in range(rng.randrange(1, 8))]
    one = dwelling("2023", "optional", *entries, area_ft2=float(rng.choice([0, 1500])),
                   measured_peak_kva=peak_kva, measured_days=365.0, measured_interval_min=15.0)
    assert_never_above(one, rng)
