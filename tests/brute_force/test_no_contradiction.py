"""However short the search: frontier, plan for a goal or a budget, and comparison agree."""

from __future__ import annotations

import pytest

from planner.errors import NoPlanError, NotFoundError
from planner.search.frontier import frontier
from planner.search.limits import LEAST_GAIN, USUAL_LIMITS, SearchLimits
from planner.study.compare import compare
from planner.study.recommend import recommend
from tests.oracle.wild import wild_book, wild_home

SAME = 1e-9


def asked(question):
    """Give the plan that answers a question, or the refusal."""
    try:
        return question().plan
    except NoPlanError as refused:
        return refused


@pytest.fixture(scope="module", params=range(24))
def small(request):
    """A wild home of 3-4 loads beside its base, and a book of three sizes."""
    return wild_home(request.param, 3 + request.param % 2), wild_book(request.param)


@pytest.mark.parametrize("limits", [
    USUAL_LIMITS, SearchLimits(nodes=1, probe=1, all_nodes=60),
    SearchLimits(nodes=1, probe=1, all_nodes=200), SearchLimits(gap=0.05)])
def test_no_answer_denies_another(small, limits):
    """No plan of any answer keeps more than the frontier says is possible for its price.

    What the frontier calls impossible no answer does, and what an answer calls impossible is none
    of the frontier's plans.
    """
    one, sizes = small
    try:
        whole = frontier(one, sizes, limits=limits)
    except NoPlanError:
        return
    shown = []
    for goal in (0.5, 0.9, 1.0):
        found, first = asked(lambda goal=goal: recommend(
            one, sizes, goal, share=0.0, none_starved=False, limits=limits)), whole.covering(goal)
        if isinstance(found, NoPlanError):
            assert first is None
            assert isinstance(found, NotFoundError) == whole.may_cover(goal)
        else:
            assert found.coverage >= goal - SAME
            assert first is None or found.cost_usd == pytest.approx(first.cost_usd)
            shown.append(found)
    for budget_usd in (whole.points[0].cost_usd - 1.0, whole.points[-1].cost_usd):
        found = asked(lambda usd=budget_usd: recommend(
            one, sizes, budget_usd=usd, share=0.0, limits=limits))
        if isinstance(found, NoPlanError):
            assert budget_usd < whole.points[0].cost_usd
            assert isinstance(found, NotFoundError) == whole.may_cost(budget_usd)
        else:
            shown.append(found)
    compared = compare(one, sizes, [each.id for each in sizes.generators], coverage=0.9,
                       none_starved=False, limits=limits)
    sized = {plan.supply.generator.id for plan in whole.points}
    assert not sized & set(compared.missing)
    for plan in (*shown, *compared.plans.values()):
        bound = whole.bound_at(plan.cost_usd)
        if bound is None:
            assert plan.cost_usd >= whole.points[0].cost_usd - 1e-6 or whole.may_be_cheaper
        else:
            assert plan.coverage <= bound + LEAST_GAIN + SAME
