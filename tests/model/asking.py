"""Questions to the model, with some of its rules left out, or put to one of the solvers."""

from __future__ import annotations

from unittest.mock import patch

import pytest

from planner.model.build import build, maximise_coverage, minimise_cost
from planner.model.rules import RULES
from planner.model.solver import solve

ANY_SUM_USD = 1e6


def most_coverage(tables, usd=ANY_SUM_USD, *, without=None, prefer=None):
    """The largest coverage for a sum, proven."""
    model = built(tables, without)
    maximise_coverage(model, usd)
    return proven(model, prefer)


def least_usd(tables, coverage, *, without=None, prefer=None):
    """The smallest installed cost for a coverage, proven."""
    model = built(tables, without)
    minimise_cost(model, coverage)
    return proven(model, prefer)


def built(tables, without=None):
    """The model of these tables, without the rule of that name."""
    kept = tuple(rule for rule in RULES if rule.__name__ != without)
    assert len(kept) == len(RULES) - (without is not None)
    with patch("planner.model.build.RULES", kept):
        return build(tables)


def proven(model, prefer=None):
    """The optimum of the model; None if it is proven that there is no plan."""
    answer = solve(model.problem, prefer=prefer)
    assert answer.proven
    if answer.infeasible:
        return None
    assert answer.objective == pytest.approx(answer.bound, abs=1e-5)
    return answer.objective
