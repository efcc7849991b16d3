"""What bounds the plans of one size is the same in whatever order it is asked."""

from __future__ import annotations

import pytest

from planner.facts.home import CodeEntry
from planner.plan.code import direct_demand
from planner.search.desk import desk_of
from planner.search.ground import Ground
from planner.search.problem import problems_of
from planner.search.ways import BIT, Node
from planner.service.choice import MODULE, NO_STARTER, OFF
from tests.homes import ALL, base, book, events, generator, home, load

DIRECT_ONLY = frozenset({"direct"})
HOUSE = home(base(0.5), *(load(f"heater-{n}", 0.5, allowed=DIRECT_ONLY, use=events((8.0, 1.0)),
                               code=CodeEntry("appliance", 6000.0)) for n in range(4)),
             load("dryer", 0.5, allowed=ALL, use=events((9.0, 1.0))))
DRYER = 5


@pytest.mark.parametrize("first", [OFF, MODULE])
def test_what_fits_by_code_depends_on_what_is_off(first):
    """Where the dryer is moved away the optional method is not permitted, whatever came before.

    By it the rest is carried, by Part III it is not; so the rest fits exactly if the dryer takes
    turns.
    """
    firm = frozenset(one.id for one in HOUSE.loads if one.id != "dryer")
    entire, part = (direct_demand(HOUSE, firm, whole_area=True, entire=each).counts.total_va
                    for each in (True, False))
    assert entire < part - 200.0
    (problem,) = problems_of(HOUSE, book(generator(0.0005 * (entire + part), 3000.0)))
    ground = Ground(problem, desk_of(problem.house))
    found = {}
    for how in (first, OFF, MODULE):
        ways = ground.prices.open_ways.copy()
        ways[DRYER] = BIT[how]
        found[how] = ground.fit(Node(ways, (NO_STARTER,) * len(ways)))
    assert found[OFF] is None
    assert found[MODULE] is not None
