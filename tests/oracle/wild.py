"""Random homes and price books in which every corner of the rule turns up; invented throughout."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

import numpy as np

from planner.facts.home import DesignDay, Limits, Panel, Use
from planner.facts.price_book import SoftStarter
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from tests.homes import ALL, USUAL_LOSS, base, book, generator, home, load, motor

FIRM = {OFF: 0, MODULE: 1, DIRECT: 2}


def wild_home(seed, size):
    """A home of `size` loads besides its base; same seed, same home.

    One or two days, a sub-panel that can be overloaded, loads that wake or exclude others, must-run
    loads that may take turns, short and long waits, wishes about the order, derating.
    """
    rng = random.Random(f"wild {seed}")
    loads = [base(round(rng.uniform(0.1, 1.0), 2))]
    loads += [_load(rng, f"load-{n}") for n in range(1, size + 1)]
    _relate(rng, loads)
    days = (DesignDay("hot", "hot day", "summer", rng.choice([1.0, 3.0]), 70.0, 96.0),
            DesignDay("cold", "cold day", "winter", 1.0, 20.0, 40.0))[:rng.choice([1, 1, 2])]
    ids = [ld.id for ld in loads]
    wishes = [(b, a) for a, b in pairwise(ids[1:]) if rng.random() < 0.15]
    by_importance = rng.random() < 0.2
    return home(
        *loads, days=days, altitude_ft=rng.choice([0.0, 0.0, 6000.0]),
        summer_degf=rng.choice([80.0, 105.0]),
        fuel=rng.choice(["natural gas", "propane"]),
        panels=(Panel("main", 200.0), Panel("sub", rng.choice([20.0, 30.0, 60.0]), "main")),
        limits=Limits(rng.choice([0.15, 0.25, 0.35]), rng.choice([1.0, 1.0, 0.8])),
        never_before=() if by_importance else tuple(wishes),
        order_rule="importance" if by_importance else "free")


def _load(rng, name):
    kw = round(rng.uniform(0.5, 5.0), 2)
    changes = {
        "importance": rng.randrange(0, 6),
        "wait_h": rng.choice([0.0, 0.0, 0.25, 0.5, 1.0, 3.0, 24.0]),
        "use": {key: _use(rng) for key in rng.choice([("every",), ("summer", "cold")])},
        "allowed": rng.choice([ALL, ALL, frozenset({"direct", "module"}), frozenset({"module"})]),
        "must_run": rng.random() < 0.12,
        "leg": rng.choice(["both", "both", "L1", "L2"]),
        "panel": rng.choice(["main", "main", "sub"]),
        "running_kva": round(kw * rng.choice([1.0, 1.1, 1.25]), 3),
    }
    if rng.random() < 0.45:
        return motor(name, kw, round(kw * rng.uniform(2.0, 6.0), 2), motor_hp=1.0, **changes)
    return load(name, kw, **changes)


def _use(rng):
    """Events that crowd into the same hours, a duty, or never."""
    draw = rng.random()
    if draw < 0.1:
        return Use(kind="never")
    if draw < 0.35:
        return Use(kind="duty", hours=tuple(round(rng.random(), 2) for _ in range(24)),
                   offset_slots=rng.randrange(0, 3))
    return Use(kind="events", events=tuple(
        (rng.randrange(60, 90) / 4.0, rng.randrange(1, 9) / 4.0) for _ in range(3)))


def _relate(rng, loads):
    """Let a later load wake an earlier one, sometimes in a chain; bar two from each other."""
    for late in range(2, len(loads)):
        if rng.random() < 0.15:
            loads[late] = replace(loads[late], requires=(loads[rng.randrange(1, late)].id,))
    if len(loads) > 3 and rng.random() < 0.3:
        one, other = rng.sample(range(1, len(loads)), 2)
        if not loads[one].requires and not loads[other].requires:
            loads[one] = replace(loads[one], not_with=(loads[other].id,))


def wild_book(seed, sizes_kw=(4.0, 7.0, 12.0)):
    """A book of three sizes that differ in more than size, with two soft starters."""
    rng = random.Random(f"book {seed}")
    sets = [generator(kw, 900.0 + 180.0 * kw, reactance=rng.choice([0.08, 0.14, 0.2]),
                      short_time=rng.choice([1.0, 1.1, 1.4]),
                      derating=replace(USUAL_LOSS, kva_too=rng.random() < 0.3)) for kw in sizes_kw]
    strong = SoftStarter("strong", "strong soft starter", 0.35, 40.0, rng.choice([200.0, 380.0]), 0)
    mild = SoftStarter("mild", "mild soft starter", 0.6, 40.0, rng.choice([150.0, 260.0]), 0)
    return book(*sets, soft_starters=rng.choice([(strong,), (mild, strong)]),
                permits=rng.choice([0.0, 120.0]), relocation=rng.choice([180.0, 420.0]))


def crowded_home(seed, size):
    """A wild home in which every load matters, none is always on, and all call in one evening."""
    rng = random.Random(f"crowd {seed}")
    one = wild_home(seed, size)
    loads = [ld if ld.id == "base" else replace(
        ld, must_run=False, importance=rng.randrange(1, 6), allowed=frozenset({"module"}),
        not_with=(), running_kw=round(rng.uniform(1.5, 4.0), 2), wait_h=rng.choice([0.0, 1.0, 3.0]),
        use={"every": Use(kind="events", events=((rng.randrange(70, 76) / 4.0, 2.0),))})
        for ld in one.loads]
    return replace(one, loads=tuple(loads), limits=Limits(0.35, 1.0), altitude_ft=0.0)


def random_choice(house, book, rng):
    """A random choice in which whatever is needed is connected as firmly as what needs it."""
    mostly = rng.choice([MODULE, MODULE, DIRECT])
    connection = [DIRECT] + [mostly if rng.random() < 0.7 else rng.choice([OFF, DIRECT, MODULE])
                             for _ in range(house.count - 1)]
    for i, k in np.argwhere(house.closure):
        connection[k] = max(connection[i], connection[k], key=lambda how: FIRM[how])
    soft = [rng.randrange(0, len(book.soft_starters) + 1) if house.starting_kva[i] else 0
            for i in range(house.count)]
    order = [i for i, how in enumerate(connection) if how == MODULE]
    rng.shuffle(order)
    return Choice(tuple(connection), tuple(soft), tuple(order))
