"""Homes of groups that never meet: a group does in the whole home what it does alone.

This holds the truth of `tests.oracle.known` itself: the whole home is judged by the plain rule.
"""

from __future__ import annotations

import random
from functools import cache

import numpy as np
import pytest

from tests.oracle.apart import MAKERS
from tests.oracle.groups import price_of
from tests.oracle.known import known
from tests.oracle.limits import limits_of
from tests.oracle.market import choices_of
from tests.oracle.verdict import Judge

SEEDS = range(0, 64, 3)
TRIES = 10
SAME = 1e-9


def spread(one, ways):
    """What the whole home gets of what each group gets: words, soft starters, what is blind."""
    return tuple((ways[0][part][0], *(each for way in ways for each in way[part][1:]))
                 for part in (0, 1, 3))


def merged(one, ways, rng):
    """Merge the orders of the groups into one, by importance where the home asks for it."""
    judge, left, first = Judge(one.home), [], 1
    for alone, way in zip(one.alone, ways, strict=True):
        left.append([first - 1 + place for place in way[2]])
        first += len(alone.home.loads) - 1
    order = []
    while any(left):
        heads = [each for each in left if each]
        if one.home.order_rule == "importance":
            least = min(judge.rank(each[0]) for each in heads)
            heads = [each for each in heads if judge.rank(each[0]) == least]
        order.append(rng.choice(heads).pop(0))
    return tuple(order)


def random_way(alone, book, kind, rng):
    """Give any way to serve a group in any order that its wishes allow; None if that one is not."""
    picks = [rng.choice(choices_of(ld, book, kind)) for ld in alone.home.loads]
    connection = tuple(pick[0] for pick in picks)
    order = [i for i, how in enumerate(connection) if how == "module"]
    rng.shuffle(order)
    if alone.home.order_rule == "importance":
        order.sort(key=alone.judge.rank)
    if not alone.judge.is_ordered(connection, order):
        return None
    return (connection, tuple(pick[1] for pick in picks), tuple(order),
            tuple(pick[3] for pick in picks)), sum(pick[2] for pick in picks)


def judged(home, judge, size, way):
    """Judge a way by the plain rule."""
    connection, soft, order, blind = way
    return judge.judge(limits_of(home, size), connection, soft, order, blind)


def fits_together(one, size, alone):
    """Whether the energy of all groups, each above that of the base, is permitted."""
    if not one.alone[0].energy_binds:
        return True
    idle = one.alone[0].idle(size)
    total = np.sum([each.average for each in alone], axis=0) - (len(alone) - 1) * np.array(idle)
    return bool((total <= size.permitted_average * (1.0 + SAME)).all())


def assert_adds_up(one, size, ways, rng):
    """The whole home is a plan exactly if its groups are, and keeps what they keep."""
    connection, soft, blind = spread(one, ways)
    whole = judged(one.home, Judge(one.home), size,
                   (connection, soft, merged(one, ways, rng), blind))
    alone = [judged(each.home, each.judge, size, way)
             for each, way in zip(one.alone, ways, strict=True)]
    good = all(each.is_plan for each in alone)
    assert whole.is_plan == (good and fits_together(one, size, alone))
    if whole.is_plan:
        for each in alone:
            for comfort_id, kept in each.kept.items():
                assert whole.kept[comfort_id] == pytest.approx(kept, abs=SAME)
        weight = sum(each.weight for each in one.alone)
        total = sum(comfort.importance * verdict.kept[comfort.id]
                    for each, verdict in zip(one.alone, alone, strict=True)
                    for comfort in each.judge.counted)
        assert whole.coverage == pytest.approx(total / weight, abs=SAME)
    return whole.is_plan


@cache
def several(seed):
    """Random ways of a home, and mixes of ways that serve its groups well; whether each stands."""
    one, rng = known(seed), random.Random(f"add up {seed}")
    stands = []
    for _ in range(TRIES):
        size, kind = rng.choice(one.book.generators), rng.choice(sorted(one.home.transfer_kinds))
        found = []
        for nth, each in enumerate(one.alone):
            way = random_way(each, one.book, kind, rng) if rng.random() < 0.3 else None
            found.append(way[0] if way else rng.choice(one.parts).ways[nth])
        stands.append(assert_adds_up(one, size, found, rng))
    return stands


@pytest.mark.parametrize("seed", SEEDS)
def test_a_group_does_in_the_home_what_it_does_alone(seed):
    """Validity and what every comfort keeps are those of the groups, whatever is chosen."""
    assert len(several(seed)) == TRIES


def test_choices_are_of_both_sorts():
    """Of the choices above many are plans and many are not."""
    stands = [each for seed in SEEDS for each in several(seed)]
    assert stands.count(True) >= 40
    assert stands.count(False) >= 40


@pytest.mark.parametrize("seed", SEEDS)
def test_every_step_of_the_truth_can_be_had(seed):
    """The whole home, connected as the truth says, costs and covers what it says."""
    one, rng = known(seed), random.Random(seed)
    sizes = {each.id: each for each in one.book.generators}
    for offer, part in zip(one.truth, one.parts, strict=True):
        connection, soft, blind = spread(one, part.ways)
        size = sizes[offer.generator]
        verdict = judged(one.home, Judge(one.home), size,
                         (connection, soft, merged(one, part.ways, rng), blind))
        assert verdict.is_plan
        assert verdict.coverage == pytest.approx(offer.coverage, abs=SAME)
        usd = price_of(one.home, one.book, size, offer.kind, connection, soft, blind)
        assert usd == pytest.approx(offer.usd, abs=1e-6)


def test_homes_are_of_every_sort():
    """Among them: every kind of load, many steps, several sizes, coverage of all and of less."""
    homes = [known(seed) for seed in range(64)]
    natures = {ld.nature for one in homes for ld in one.home.loads}
    assert natures >= {"clock", "task", "battery", "tank", "room", "pressure", "pit"}
    assert set(MAKERS) - {"pair", "car"} <= natures
    assert {len(one.home.loads) - 1 for one in homes} == {12, 15, 18}
    assert sum(len(one.truth) >= 5 for one in homes) >= 40
    assert sum(len({offer.generator for offer in one.truth}) >= 2 for one in homes) >= 40
    assert sum(one.truth[-1].coverage == 1.0 for one in homes) >= 8
    ways = [way for one in homes for part in one.parts for way in part.ways]
    assert sum(any(way[1]) for way in ways) >= 10
    assert sum(any(way[3]) for way in ways) >= 10
    assert all(sum(how in way[0] for way in ways) >= 10 for how in ("off", "module", "by hand"))
    assert any(one.alone[0].energy_binds for one in homes)
