"""How late work is done, and whose work is not done: worked out by hand on tiny homes."""

from __future__ import annotations

import pytest

from planner.report.comforts.missed_words import missed_loads, told
from planner.report.comforts.waits import longest_wait_h, wait_words, waiting
from planner.report.starved import poor_sentences
from tests.homes import base, clock, home, tank, task
from tests.report.plans import generator, plan_of

LIGHTS = base(1.0)
OVEN = clock("oven", 4.0, (18.0, 2.0), label="Oven")


def of(*loads, turns, kw=6.0):
    """A plan of so many kW; the oven stands first."""
    return plan_of(home(LIGHTS, *loads), generator(kw, 3000.0), *turns)


def test_work_is_as_late_as_what_stands_ahead_makes_it():
    """The oven leaves room at 20:00, the dryer wanted to begin at 19:00: an hour."""
    plan = of(OVEN, task("dryer", 4.0, (19.0, 1.0), wait_h=3.0), turns=("oven", "dryer"))
    assert longest_wait_h(plan, "dryer") == pytest.approx(1.0)
    assert wait_words(plan, "dryer") == "up to 1 h"
    assert [part.id for part in waiting(plan)] == ["dryer"]


def test_a_pause_makes_work_late_as_well():
    """Begun at 17:30, cut by the oven at 18:00, ended at 20:30: two hours later than 18:30."""
    plan = of(OVEN, task("washer", 4.0, (17.5, 1.0), wait_h=0.0, pause_slots=8),
              turns=("oven", "washer"))
    assert longest_wait_h(plan, "washer") == pytest.approx(2.0)


def test_work_that_is_given_up_is_not_late():
    """It may wait half an hour and would have to wait one: its comfort says that it is not done."""
    plan = of(OVEN, task("dryer", 4.0, (19.0, 1.0), wait_h=0.5), turns=("oven", "dryer"))
    assert longest_wait_h(plan, "dryer") == 0.0
    assert told(plan.comfort("dryer"), plan) == "not done"


def test_what_keeps_a_level_has_no_wait():
    """The tank is refused for two hours and catches up; nobody waits for it."""
    plan = of(OVEN, tank("heater"), turns=("oven", "heater"))
    assert plan.load("heater").longest_wait_h > 0.0
    assert waiting(plan) == ()


def test_of_several_the_one_that_is_not_done_is_named():
    """The washer is always on and done; the dryer is lost to the oven."""
    plan = of(OVEN, task("washer", 1.0, (8.0, 1.0), label="Washer", comfort="clothes"),
              task("dryer", 4.0, (19.0, 1.0), wait_h=0.5, label="Dryer", comfort="clothes"),
              turns=("oven", "dryer"))
    kept = plan.comfort("clothes")
    assert missed_loads(kept, plan, 0) == ("Dryer",)
    assert told(kept, plan) == "1 of 2 done (not: Dryer)"


def test_what_stands_first_and_yet_lacks_something_is_said():
    """From 18 to 19 h the well, always on, leaves the oven no room; then it has its turn."""
    well = clock("well", 2.0, (18.0, 1.0))
    plan = plan_of(home(LIGHTS, well, OVEN), generator(6.0, 3000.0), "oven")
    assert poor_sentences(plan) == (
        "Oven has priority 1, and yet there is not always room for it beside what is always on: "
        "oven: without power for 1 h of 2 h on day.",)
