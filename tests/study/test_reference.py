"""The reference in which no load is shed: the cheapest that carries everything at once."""

from __future__ import annotations

import pytest

from planner.search.problem import problems_of
from planner.study.reference import everything_direct
from tests.homes import base, book, events, generator, home, load, motor

SUPPER = events((18.0, 1.0))
HOUSE = home(base(1.0), load("range", 5.0, use=SUPPER),
             motor("air", 3.0, 12.0, use=events((17.0, 3.0))))


@pytest.mark.parametrize(("sizes", "wins"), [
    (((12.0, 4000.0), (16.0, 5000.0), (24.0, 9000.0)), 16.0),
    (((24.0, 4500.0), (16.0, 5000.0)), 24.0),
    (((16.0, 5000.0), (24.0, 5000.0)), 16.0),
    (((24.0, 5000.0), (16.0, 5000.0)), 16.0)])
def test_the_cheapest_that_carries_everything_is_the_reference(sizes, wins):
    """By price; of the same price the smaller; what cannot carry it all does not count."""
    found = everything_direct(HOUSE, book(*(generator(kw, usd) for kw, usd in sizes)))
    assert found is not None
    assert found.supply.generator.id == f"set-{wins:g}"
    assert all(part.connection == "direct" for part in found.loads)
    assert found.coverage == 1.0


def test_there_is_no_reference_where_nothing_carries_everything():
    """Too small for supper and a start, or a load that may not be always connected."""
    assert everything_direct(HOUSE, book(generator(6.0, 3000.0))) is None
    shed = home(base(1.0), load("dryer", 2.0, allowed=frozenset({"module"})))
    assert everything_direct(shed, book(generator(24.0, 3000.0))) is None


@pytest.mark.parametrize(("kva", "size"), [(17.0, "set-16"), (17.5, "set-24")])
def test_the_reference_starts_everything_at_once(kva, size):
    """At takeover both motors start: at X'd 0.2 and a dip of 30 % 16 kVA start 34.3 kVA."""
    offered = book(generator(16.0, 5000.0), generator(24.0, 9000.0))
    two = home(base(1.0), *(motor(name, 2.0, kva, use=SUPPER) for name in ("one", "other")))
    found = everything_direct(two, offered)
    assert found is not None
    assert found.supply.generator.id == size
    problem = next(one for one in problems_of(two, offered) if one.menu.generator.id == size)
    assert problem.passes_code(found.choice)
