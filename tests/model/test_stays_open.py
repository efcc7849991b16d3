"""Modules that stay open and the controller that drives them: least costs worked out by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.facts.price_book import Controller
from tests.homes import book
from tests.model.asking import least_usd
from tests.model.tiny import DIRECT_OR_OFF, engine, house, tables_of, work

pytestmark = pytest.mark.solver


@pytest.mark.parametrize(("controllers", "least"), [
    ({2: 100.0}, 3350.0), ({1: 75.0}, 3450.0), ({1: 75.0, 2: 220.0}, 3450.0),
    ({1: 75.0, 2: 150.0}, 3400.0), ({2: 260.0}, 3500.0), ({}, 3500.0)])
def test_modules_that_stay_open_count_for_the_controller(controllers, least):
    """Two machines too large for 5 kW: each is moved for 300, or its module for 175 stays open.

    `controllers` are prices by the modules that they drive. 2900 and: both modules and a
    controller for two, 350 + 100; one of them, 175 + 75 + 300, also where one for two costs 145
    more; both where it costs 75 more; both moved where a controller costs more than it saves, or
    there is none.
    """
    sizes = book(engine(5.0), relocation=300.0, controllers=tuple(
        Controller(f"for-{n}", f"for {n}", n, usd, 0.0) for n, usd in controllers.items()))
    sizes = replace(sizes, modules=(replace(sizes.modules[0], price=75.0),))
    tables = tables_of(house(work("lathe", 1.0, 40, allowed=frozenset({"direct"})),
                             work("kiln", 6.0, 40, allowed=DIRECT_OR_OFF),
                             work("forge", 7.0, 40, allowed=DIRECT_OR_OFF)), sizes)
    assert least_usd(tables, 0.0) == pytest.approx(least, abs=1e-5)
