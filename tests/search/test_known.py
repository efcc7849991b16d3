"""What no order can do with some starts, none can do with those that are held to be the same."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import numpy as np
import pytest

from planner.progress import unheard
from planner.search.covering import AT_ONCE
from planner.search.desk import desk_of
from planner.search.ground import Ground
from planner.search.known import Failure, Starts
from planner.search.problem import problems_of
from planner.tolerances import SAME_COVERAGE
from tests.oracle.wild import wild_book, wild_home

SEEDS = 24
ENOUGH = 1_000_000  # prefixes: no search here is cut short
BARS = (-0.5, 0.3, 0.6, 0.8, 0.9, 0.97)


def starts(room, kw, kva):
    """Start figures of a few loads."""
    return Starts(np.array(room), np.array(kw), np.array(kva))


HARD = starts([5.0, 5.0], [4.0, 4.0], [9.0, 9.0])
NOBODY, FIRST = np.array([False, False]), np.array([True, False])


@pytest.mark.parametrize(("other", "decided", "as_gentle"), [
    (HARD, FIRST, True),
    (starts([6.0, 5.0], [3.0, 4.0], [9.0, 9.0]), NOBODY, True),
    (starts([6.0, 5.0], [3.0, 4.0], [9.0, 9.0]), FIRST, False),  # a start that decided is another
    (starts([5.0, 6.0], [4.0, 4.0], [9.0, 5.0]), FIRST, True),   # it is the other's that is gentler
    (starts([4.9, 5.0], [3.0, 4.0], [9.0, 9.0]), NOBODY, False),  # less room to start in
    (starts([6.0, 5.0], [3.0, 4.1], [9.0, 9.0]), NOBODY, False),  # one draws more
    (starts([6.0, 5.0], [3.0, 4.0], [9.0, 9.1]), NOBODY, False),
])
def test_what_is_as_gentle(other, decided, as_gentle):
    """Gentler in each figure, and the same where it decided anything."""
    assert other.are_as_gentle(HARD, decided) is as_gentle


def grounds(seed):
    """Sizes of a home with motors, every corner of the rule, and soft starters."""
    problems = problems_of(wild_home(seed, 5), wild_book(seed, (4.0, 6.0, 9.0)))
    return [Ground(one, desk_of(one.house)) for one in problems]


def asked_of(ground, soft):
    """The question in which nothing is decided but soft starters; None if nothing fits."""
    root = ground.root()
    return None if root is None else replace(root, soft=soft)


def test_no_search_finds_what_another_disproved():
    """Each question is searched by itself, with all soft starters: none finds more than was said.

    Some that are disproved have other starts than the one that disproved them.
    """
    others = 0
    for seed in range(SEEDS):
        for ground in grounds(seed):
            softs = list(product(*ground.starters))[:16]
            failures, found = [], []
            for soft in softs:
                node = asked_of(ground, soft)
                if node is None:
                    continue
                asked, table = ground.asked(node), ground.table(soft)
                played = ground._played(asked)
                best = ground.search(asked, soft, -0.5, unheard, first=False, nodes=ENOUGH)
                found.append((played, table.starts, best))
                for bar in BARS:
                    answer = ground.search(asked, soft, bar, unheard, first=True, nodes=ENOUGH)
                    if answer.order is None:
                        failures.append(Failure(played, bar, answer.refused, table.starts,
                                                answer.decided))
            for one in failures:
                for played, mine, best in found:
                    if one.disproves(played, one.bar, mine):
                        others += mine is not one.starts
                        assert best.order is None or best.coverage <= one.bar + 2 * SAME_COVERAGE
    assert others > 20


@pytest.mark.parametrize("seed", range(SEEDS))
def test_the_covering_question_ends_with_the_best_order(seed):
    """Gone on with a little at a time, it comes to what one search finds, and says who decided."""
    for ground in grounds(seed):
        if ground.root() is None:
            continue
        (long, *_) = ground.covering.wide(tuple(0 for _ in ground.starters))
        plain = tuple(0 for _ in ground.starters)
        best = ground.search(long.asked, plain, -0.5, unheard, first=False, nodes=ENOUGH)
        looked_at = 0
        while long.failure is None:
            looked_at += long.go_on(-0.5, unheard)
            assert looked_at <= best.nodes + AT_ONCE
        assert long.failure.bar == pytest.approx(best.bound, abs=1e-12)
        assert looked_at == best.nodes
        assert (long.failure.decided == best.decided).all()
