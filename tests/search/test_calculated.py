"""Rows of the calculated load are never above the sheet of anything that a node can become."""

from __future__ import annotations

import random
from itertools import product
from typing import get_args

import numpy as np
import pytest

from planner.facts.home import CodeBasis, CodeCategory, CodeEdition, CodeEntry
from planner.plan.code import direct_demand
from planner.search.calculated import Calculated
from tests.homes import home, load

CATEGORIES, EDITIONS = map(get_args, (CodeCategory, CodeEdition))


def dwelling(edition, *entries, area_ft2=0.0, **changes):
    """A home with a load per code entry."""
    loads = [load(f"load-{number}", 1.0, code=entry) for number, entry in enumerate(entries)]
    return home(*loads, floor_area_ft2=area_ft2, code=CodeBasis(edition, "standard", **changes))


MEASURED = {"measured_days": 365.0, "measured_interval_min": 15.0}


def sheets_of(one, marks, whole):
    """VA by the standard, the optional and the measured sheet for some direct loads."""
    direct = frozenset(ld.id for ld, mark in zip(one.loads, marks, strict=True) if mark)
    found = direct_demand(one, direct, whole_area=whole, entire=whole)
    by_loads = [found.standard.total_va, *([found.optional.total_va] if whole else [])]
    return [*by_loads, *([found.measured.total_va] if found.measured else [])]


def rows_of(one, firm, may, whole):
    """Rows by each method that may be permitted."""
    return Calculated(one, whole_house=whole).methods(firm, may, entire=whole)


@pytest.mark.parametrize("days", [None, 365.0, 40.0])
@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("seed", range(60))
def test_never_above_the_sheet(edition, seed, days):
    """For random dwellings, measured or not, what is decided, and what becomes of the rest."""
    rng = random.Random(f"rows {edition} {seed}")
    kinds = rng.sample(CATEGORIES, rng.randrange(1, 6))
    entries = [CodeEntry(rng.choice(kinds), float(rng.randrange(200, 12_000)),
                         units=rng.choice([1, 1, 1, 1, 2, 5]),
                         with_supplemental=rng.random() < 0.5)
               for _ in range(rng.randrange(1, 10))]
    measured = {} if days is None else {
        **MEASURED, "measured_peak_kva": rng.uniform(1.0, 20.0), "measured_days": days,
        "added": tuple(f"load-{n}" for n in range(len(entries)) if rng.random() < 0.3)}
    one = dwelling(edition, *entries, area_ft2=float(rng.choice([0, 900, 2500])), **measured)
    for whole in (True, False):
        fate = np.array([rng.choice(["firm", "may", "may", "never"]) for _ in entries])
        firm, may = fate == "firm", fate == "may"
        for _ in range(8):
            picked = may & np.array([rng.random() < 0.5 for _ in entries])
            rows = rows_of(one, firm, may, whole)
            for each, total_va in zip(rows, sheets_of(one, firm | picked, whole), strict=True):
                lower_va = each.constant_va + each.added_va[:, picked].sum(axis=1)
                assert (lower_va <= total_va + 1e-6).all()


@pytest.mark.parametrize("days", [None, 365.0, 40.0])
@pytest.mark.parametrize(("edition", "whole"), list(product(EDITIONS, (True, False))))
def test_the_sheet_itself_where_all_is_decided(edition, whole, days):
    """Of a range, a dryer, three appliances, a motor, cooling and heat: the largest row is it."""
    measured = {} if days is None else {
        **MEASURED, "measured_peak_kva": 4.0, "measured_days": days, "added": ("load-1",)}
    one = dwelling(edition, CodeEntry("cooking", 9000.0), CodeEntry("dryer", 5600.0),
                   CodeEntry("appliance", 1200.0), CodeEntry("appliance", 4500.0),
                   CodeEntry("appliance", 600.0), CodeEntry("motor", 900.0),
                   CodeEntry("small-appliance", 1000.0), CodeEntry("general", 2600.0),
                   CodeEntry("cooling", 4800.0), CodeEntry("heating", 5000.0), area_ft2=1500.0,
                   **measured)
    for marks in ([True] * 10, [True, False] * 5, [False] * 10):
        firm = np.array(marks)
        rows = rows_of(one, firm, np.zeros(10, dtype=bool), whole)
        for each, total_va in zip(rows, sheets_of(one, firm, whole), strict=True):
            assert each.constant_va.max() == pytest.approx(total_va)
