"""The page of what is worked by hand: what kills comes first, then what floods, then figures."""

from __future__ import annotations

import pytest

from planner.report.portable.steps import DANGERS, SOURCE_OF_STEPS
from tests.ui.opening import SMALL, left, on_the_table, opened, settled, told
from ui import answers


def in_this_order(words, *parts):
    """Each part stands on the page, each behind the one before."""
    places = [words.index(part) for part in parts]
    assert places == sorted(places)


def test_what_kills_is_said_while_it_is_being_calculated(monkeypatch):
    """Before any answer is there, the dangers stand above its progress."""
    monkeypatch.setattr(answers, "AT_ONCE_S", 0.0)
    found = on_the_table(SMALL)
    at = opened(found, "portable")
    words = told(at)
    left(found)
    in_this_order(words, "By hand", "What kills", *DANGERS, "Groups of loads: being calculated")
    assert "It carries" not in words


@pytest.mark.parametrize("heading", ["When the utility fails", "When the utility is back"])
def test_dangers_floods_and_steps_come_before_the_comparison(heading):
    """Dangers, what overflows and why, the machine, the steps, the plan beside it."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "portable"))
    words = told(at)
    left(found)
    in_this_order(words, *DANGERS, "Not recommended for this home",
                  "Floods: Sump pit overflows on Windy day in October at 8:00 and 22:00",
                  "It carries 8.6 kW", "Noise: 74 dB at 23 ft", heading,
                  "Only the electrician fits", SOURCE_OF_STEPS, "counted over all comforts")


def test_tables_that_families_read_wrap():
    """What is on and OFF, the offers, the plan beside it stand in tables that cut nothing."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "portable"))
    headings = [list(one.value.columns) for one in at.table]
    left(found)
    assert ["Comfort", "Recommended plan, by itself",
            "By hand, while somebody works it"] in headings
    assert ["From", "On", "OFF"] in headings
    assert ["Generator and transfer", "Cost", "Breaks", "Kept", "Work a day"] in headings
