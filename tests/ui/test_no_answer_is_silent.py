"""Whoever waits for an answer is told how far it is: no long step is silent, all can be ended."""

from __future__ import annotations

import time
from itertools import pairwise

import pytest

from planner.jobs.content import OutageWish, PlanKey
from planner.study.basis import Basis
from tests.ui.opening import MOST_S, on_the_table
from ui.answers import (
    Case,
    choices,
    curve,
    doubts,
    many_outages,
    of_size,
    one_outage,
    prices_of_wishes,
    reasons,
    recommended,
    reference,
    smaller,
)
from ui.readings import book_of, home_of
from ui.work import Work

HOME = "gas_heated_small.toml"
MOST_SILENT_S = 1.0  # of processors' time, so that it does not matter what else the machine does


@pytest.fixture
def case():
    """The suburban home on the table of a visitor, whose work ends with the test."""
    found = on_the_table(HOME)
    yield Case(found, home_of(found).facts, book_of(found).facts)
    found.desk.leave_unfinished()


@pytest.fixture
def gaps(monkeypatch):
    """Seconds of the processors between two steps of work, each work's in their order.

    Every work has a thread of its own; only what this has used counts, from its begin to its end.
    """
    heard, kept = {}, []
    tick, run = Work.tick, Work.run

    def note(work):
        kept.append(work)  # so that no other gets its id
        heard.setdefault(id(work), [0.0]).append(time.thread_time())

    def heard_tick(self, share):
        note(self)
        tick(self, share)

    def heard_run(self, compute):
        run(self, compute)
        note(self)

    monkeypatch.setattr(Work, "tick", heard_tick)
    monkeypatch.setattr(Work, "run", heard_run)

    def between():
        return [after - before for steps in heard.values() for before, after in pairwise(steps)]

    return between


def answered(ask):
    """Wait for an answer; gives its value."""
    answer = ask()
    for _ in range(2):  # a plan comes provisionally first
        if answer.work is not None:
            answer.work.wait(MOST_S)
            answer = ask()
    assert answer.error is None
    assert answer.work is None
    return answer.value


def of_the_recommended(ask):
    """A question that rests on the recommended plan."""
    return lambda case: answered(lambda: ask(case, answered(lambda: recommended(case))))


def played(ask):
    """A question about an outage of a week under the recommended plan."""

    def about(case):
        case.session.outage = OutageWish(hours=168.0)
        plan = answered(lambda: recommended(case)).plan
        return answered(lambda: ask(case, plan))

    return about


def for_a_budget(case):
    """The plan that a budget buys."""
    case.session.set_goal(by="budget", budget_usd=12_000.0)
    return answered(lambda: recommended(case))


def owning(case):
    """The plans that no other beats on owning cost."""
    case.session.basis = Basis()
    return answered(lambda: curve(case))


def pinned(case):
    """One plan of each of three sizes, found again without the curve."""
    sizes = [one.id for one in case.book.generators][1:6:2]
    return answered(lambda: of_size(case, tuple(PlanKey(one, 0.97) for one in sizes)))


QUESTIONS = {
    "recommended": lambda case: answered(lambda: recommended(case)),
    "for a budget": for_a_budget,
    "options": of_the_recommended(lambda case, _: choices(case)),
    "curve": lambda case: answered(lambda: curve(case)),
    "owning": owning,
    "pins": pinned,
    "reference": lambda case: answered(lambda: reference(case)),
    "wishes": of_the_recommended(prices_of_wishes),
    "reasons": of_the_recommended(reasons),
    "smaller": of_the_recommended(smaller),
    "doubts": of_the_recommended(doubts),
    "outage": played(lambda case, plan: one_outage(case, plan, case.home.days[0])),
    "outages": played(many_outages),
}


@pytest.mark.parametrize("question", list(QUESTIONS))
def test_no_long_step_is_silent(case, gaps, question):
    """Every answer of the pages is heard of while it is worked on, never silent for long."""
    assert QUESTIONS[question](case) is not None or question == "reference"
    silent = gaps()
    assert max(silent) < MOST_SILENT_S
    assert len(silent) > 1 + sum(silent) / MOST_SILENT_S
