"""Every plan of a small home: all connections, soft starters and orders, priced plainly."""

from __future__ import annotations

from itertools import permutations, product

from planner.physics.branch import branch_circuit
from planner.service.house import house_of
from planner.service.supply import supply_of
from tests.oracle.counted import carried, counted_va, switches
from tests.oracle.plain import keeps_must_run, play


def every_plan(home, book, kind="whole-house"):
    """Yield (cost, coverage) of every valid plan of a home on the book."""
    house = house_of(home)
    for generator in book.generators:
        supply = supply_of(house, generator, book)
        for usd, connection, soft in _ways(home, book, generator, kind):
            if usd is None or not _passes(home, supply, connection, kind):
                continue
            modules = [i for i in connection if connection[i] == "module"]
            for order in permutations(modules):
                if not _order_allowed(home, order):
                    continue
                outcome = play(house, supply, connection, soft, order)
                if not outcome.refused and keeps_must_run(house, outcome, connection):
                    yield usd, outcome.coverage


def true_frontier(home, book, kind="whole-house"):
    """Non-dominated (cost, coverage) pairs by rising cost, from full enumeration."""
    best = {}
    for usd, coverage in every_plan(home, book, kind):
        best[round(usd, 4)] = max(coverage, best.get(round(usd, 4), -1.0))
    kept = []
    for usd in sorted(best):
        if not kept or best[usd] > kept[-1][1] + 1e-6:
            kept.append((usd, best[usd]))
    return kept


def _passes(home, supply, connection, kind):
    direct = [i for i in connection if connection[i] == "direct"]
    return carried(counted_va(home, direct, kind, "off" in connection.values()), supply.derated_kw)


def _order_allowed(home, order):
    rank = {i: n for n, i in enumerate(order)}
    for late, early in home.never_before:
        if late in rank and early in rank and rank[late] < rank[early]:
            return False
    if home.order_rule == "importance":
        weight = [6 if home.load(i).must_run else home.load(i).importance for i in order]
        return weight == sorted(weight, reverse=True)
    return True


def _ways(home, book, generator, kind):
    choices = []
    for load in home.loads:
        mine = []
        modules = [m for m in book.modules if m.action in load.module_actions
                   and switches(m, load, branch_circuit(load).breaker_a)]
        starters = [(0, 0.0)]
        if load.soft_start_fits and load.is_motor:
            starters += [(n, s.price + s.installation)
                         for n, s in enumerate(book.soft_starters, start=1)
                         if s.amperes >= load.running_a]
        for column, usd in starters:
            if "direct" in load.allowed:
                mine.append(("direct", column, usd))
            if "module" in load.allowed and modules and book.controllers:
                mine.append(("module", column, usd + min(m.price + m.installation
                                                         for m in modules)))
        if "off" in load.allowed and not load.must_run:
            mine.append(("off", 0, 0.0 if kind == "selected-circuits" else book.relocation))
        choices.append(mine)
    for pick in product(*choices):
        connection = {load.id: way[0] for load, way in zip(home.loads, pick, strict=True)}
        soft = {load.id: way[1] for load, way in zip(home.loads, pick, strict=True)}
        if not _connected(home, connection):
            continue
        equipment = _equipment(home, book, generator, kind, connection)
        base = generator.price + generator.installation + book.permits
        yield (None if equipment is None else base + equipment + sum(way[2] for way in pick),
               connection, soft)


def _connected(home, connection):
    firm = {"off": 0, "module": 1, "direct": 2}
    for load in home.loads:
        for other in load.requires:
            if connection[load.id] != "off" and firm[connection[other]] < firm[connection[load.id]]:
                return False
    return True


def _equipment(home, book, generator, kind, connection):
    amperes = generator.ratings[home.fuel].amperes
    if kind == "whole-house":
        amperes = max(amperes, home.service_a)
    poles = sum(load.poles for load in home.loads if connection[load.id] != "off")
    fits = [t.price + t.installation for t in book.transfers
            if t.kind == kind and t.rating_a >= amperes
            and (kind == "whole-house" or t.positions >= poles)]
    number = sum(way == "module" for way in connection.values())
    drives = [c.price + c.installation for c in book.controllers if c.modules >= number]
    if not fits or (number and not drives):
        return None
    return min(fits) + (min(drives) if number else 0.0)
