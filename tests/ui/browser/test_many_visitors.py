"""Twelve visitors at once keep apart."""

from __future__ import annotations

import re
from contextlib import ExitStack

import pytest

from planner.editing.items import with_items
from planner.editing.new_home import EMPTY_HOME
from tests.ui.browser.client import coming

NUMBER = 12
MOST_LOOKS = 40  # each waits for the plan a while
HOUSE, HEATER = "House of visitor", "Heater of visitor"
A_NAME = re.compile(rf"(?:{HOUSE}|{HEATER}) \d\d")


def names_of(place):
    """What a visitor calls the home and the water heater in it."""
    return {f"{what} {place:02d}" for what in (HOUSE, HEATER)}


def home_of(place):
    """The bytes of a home file in which the visitor's names stand."""
    text, times = re.subn(r'^label = ".*"$', f'label = "{HOUSE} {place:02d}"', EMPTY_HOME,
                          count=1, flags=re.MULTILINE)
    assert times == 1
    heater = {"label": f"{HEATER} {place:02d}", "kind": "electric water heater",
              "size": "50 gal"}
    return with_items(text, "loads", [heater]).encode("utf-8")


def area_of(place):
    """The floor area that a visitor types in."""
    return f"{1200 + place} ft^2"


@pytest.fixture
def clients(address):
    """Twelve visitors who have all come and see the first page."""
    with ExitStack() as stack:
        found = [stack.enter_context(coming(address)) for _ in range(NUMBER)]
        for one in found:
            one.arrive()
        for one in found:
            one.hear()
        yield found


def test_twelve_visitors_each_see_their_own_home_only(clients):
    """Each brings a home, changes it while the others do, and finds nothing of theirs."""
    for place, one in enumerate(clients):
        one.bring("A saved home file", f"home_{place:02d}.toml", home_of(place))
    for one in clients:
        one.hear()
        one.press("Open this home")
    for place, one in enumerate(clients):
        assert set(A_NAME.findall(one.hear())) == names_of(place)
        one.write("Floor area (assumed)", area_of(place))
    for place, one in enumerate(clients):
        page = one.hear()
        assert set(A_NAME.findall(page)) == names_of(place)
        assert {area_of(other) for other in range(NUMBER)
                if f'floor_area = \\"{area_of(other)}\\"' in page} == {area_of(place)}
        one.go("wishes")
    for place, one in enumerate(clients):
        page = one.hear()
        for _ in range(MOST_LOOKS):
            if re.search(rf"{HEATER} {place:02d}\W+runs", page):  # of its plan
                break
            one.arrive()
            page = one.hear()
        else:
            pytest.fail(f"No plan of visitor {place:02d} came up.")
        assert set(A_NAME.findall(page)) == names_of(place)
