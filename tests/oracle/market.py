"""Every way to serve a home from a price book, with its price and the best of all its orders.

Pricing is written from the price book's own words; only the calculated load by code is the
planner's (`planner.physics.demand`, held to the examples of NEC Annex D by tests of its own).
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import permutations, product

from planner.physics.branch import branch_circuit
from tests.oracle.counted import carried, counted_va, switches
from tests.oracle.facts import facts_of


@dataclass(frozen=True)
class Offer:
    """One way to connect everything: its price and the most that any order of it covers."""

    generator: str
    kind: str
    usd: float
    coverage: float
    connection: tuple[str, ...]


def offers(home, book):
    """Every offer that can be built, passes the code and keeps what must run."""
    return [offer for size in book.generators for kind in sorted(home.transfer_kinds)
            for offer in offers_of(home, book, size, kind)]


def offers_of(home, book, size, kind):
    """Offers of one generator with one kind of transfer equipment."""
    if home.fuel not in size.ratings:
        return []
    facts = facts_of(home, size)
    passes, found = {}, []
    for ways in product(*(_ways(ld, book, kind) for ld in home.loads)):
        connection = tuple(way[0] for way in ways)
        equipment_usd = _equipment_usd(home, book, size, kind, connection)
        if equipment_usd is None or not _firm(home, connection):
            continue
        direct = frozenset(ld.id for ld, how in zip(home.loads, connection, strict=True)
                           if how == "direct")
        case = direct, "off" in connection
        if case not in passes:
            passes[case] = carried(counted_va(home, direct, kind, case[1]), facts.derated_kw)
        orders = _orders(home, connection) if passes[case] else []
        if not orders:
            continue
        coverage = facts.best(connection, [way[1] for way in ways], orders)
        if coverage >= 0.0:
            usd = equipment_usd + sum(way[2] for way in ways)
            found.append(Offer(size.id, kind, usd, coverage, connection))
    return found


def staircase(found):
    """Offers that none beats: rising cost, each covering more than all that cost no more."""
    kept = []
    for offer in sorted(found, key=lambda o: (o.usd, -o.coverage)):
        if not kept or offer.coverage > kept[-1].coverage + 1e-9:
            kept.append(offer)
    return kept


def most_at(found, usd):
    """Most that can be covered at a cost of at most `usd`; -1 if nothing is that cheap."""
    return max((o.coverage for o in found if o.usd <= usd + 1e-6), default=-1.0)


def _ways(ld, book, kind):
    """(connection, what a soft starter leaves of the start, USD) of a load."""
    starters = [(1.0, 0.0)]
    if ld.soft_start_fits and ld.starting_kva > ld.running_kva:
        starters += [(s.factor, s.price + s.installation) for s in book.soft_starters
                     if s.amperes >= ld.running_a]
    modules = [m.price + m.installation for m in book.modules if m.action in ld.module_actions
               and (m.action == "thermostat"
                    or switches(m, ld, branch_circuit(ld).breaker_a))]
    found = []
    if "direct" in ld.allowed:
        found += [("direct", factor, usd) for factor, usd in starters]
    if "module" in ld.allowed and modules:
        found += [("module", factor, usd + min(modules)) for factor, usd in starters]
    if "off" in ld.allowed and not ld.must_run:
        found.append(("off", 1.0, book.relocation if kind == "whole-house" else 0.0))
    return found


def _equipment_usd(home, book, size, kind, connection):
    """Generator, transfer equipment, controller and permits; None if one is too small."""
    rating_a = size.ratings[home.fuel].amperes
    if kind == "whole-house":
        rating_a = max(rating_a, home.service_a)
    positions = sum(2 if ld.leg == "both" else 1
                    for ld, how in zip(home.loads, connection, strict=True) if how != "off")
    transfers = [t.price + t.installation for t in book.transfers
                 if t.kind == kind and t.rating_a >= rating_a
                 and (kind == "whole-house" or t.positions >= positions)]
    modules = connection.count("module")
    controllers = [c.price + c.installation for c in book.controllers if c.modules >= modules]
    if not transfers or (modules and not controllers):
        return None
    return (size.price + size.installation + book.permits + min(transfers)
            + (min(controllers) if modules else 0.0))


def _firm(home, connection):
    """Whether whatever a load needs is connected at least as firmly as the load."""
    rank = dict(zip((ld.id for ld in home.loads),
                    ({"off": 0, "module": 1, "direct": 2}[how] for how in connection), strict=True))
    return all(rank[other] >= rank[ld.id] for ld in home.loads for other in ld.requires)


def _orders(home, connection):
    """Every order of the module loads that the wishes allow, as places in the file."""
    place = {ld.id: i for i, ld in enumerate(home.loads)}
    after = {(place[a], place[b]) for a, b in home.never_before}
    for _ in home.loads:  # a never before b and b never before c: a never before c
        after |= {(a, d) for a, b in after for c, d in after if b == c}
    if home.order_rule == "importance":
        rank = [6 if ld.must_run else ld.importance for ld in home.loads]
        after |= {(a, b) for a in place.values() for b in place.values() if rank[a] < rank[b]}
    members = [i for i, how in enumerate(connection) if how == "module"]
    return [order for order in permutations(members)
            if not any((a, b) in after for n, a in enumerate(order) for b in order[n:])]
