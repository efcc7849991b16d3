"""The model's linear form of the calculated load is never above the code's own sheet."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from planner.case.home import CodeBasis, CodeEntry
from planner.model.demand import demand_form
from planner.physics.demand import calculated_load
from tests.homes import home, load

CATEGORIES = ("general", "small-appliance", "laundry", "appliance", "cooking", "dryer", "cooling",
              "heat-pump", "supplemental-heat", "heating", "vehicle", "motor")


@pytest.mark.parametrize("edition", ["2017", "2020", "2023", "2026"])
@pytest.mark.parametrize("method", ["standard", "optional", "existing"])
@pytest.mark.parametrize("seed", range(30))
def test_never_above_the_sheet(edition, method, seed):
    """For random dwellings and random sets of direct loads the form is at most the sheet's sum."""
    rng = random.Random(f"{edition} {method} {seed}")
    loads = [load(f"load-{n}", 1.0, code=CodeEntry(
        rng.choice(CATEGORIES), float(rng.randrange(200, 15_000)),
        units=rng.choice([1, 1, 1, 2, 5]),
        with_supplemental=rng.random() < 0.5)) for n in range(rng.randrange(1, 12))]
    one = replace(home(*loads), floor_area_ft2=float(rng.randrange(0, 5000)),
                  code=CodeBasis(edition, method, 2, 1))
    for whole in (True, False):
        form = demand_form(one, whole)
        for _ in range(5):
            direct = [ld.id for ld in loads if rng.random() < 0.6]
            sheet = calculated_load(one, direct, whole_area=whole)
            marks = np.array([float(ld.id in direct) for ld in loads])
            assert form.lower_va(marks) <= sheet.total_va + 1e-6
