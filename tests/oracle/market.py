"""Every way to serve a home from a price book, with its price and the best of all its orders.

Pricing is written from the price book's own words; only the calculated load by code is the
planner's (`planner.physics.demand`, held to the examples of NEC Annex D by tests of its own).
Settled here:

- a load may be off where its file allows it, where circuits are selected, and where nobody cares
  for its comfort; with whole-house transfer that is a circuit moved at a price, or the cheapest
  module that fits, which stays open and is one of those that the controller drives;
- what nobody cares for may be opened by hand at no price with whole-house transfer, if it is not
  medical; with selected circuits it is simply left out. What serves no comfort is not of these;
- nobody buys a soft starter for what is opened by hand;
- a task that may wait less than half an hour gets a module that senses its call, where one fits;
- any other may have the cheapest that fits, or the cheapest that fits and senses its call.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import permutations, product

from planner.physics.wire.branch import branch_circuit
from tests.oracle.counted import carried, counted_va, switches
from tests.oracle.limits import limits_of
from tests.oracle.verdict import Judge


@dataclass(frozen=True)
class Offer:
    """One way to connect everything: its price and the most that any order of it covers."""

    generator: str
    kind: str
    usd: float
    coverage: float
    connection: tuple[str, ...]


@dataclass(frozen=True)
class Way:
    """One way to connect everything with a generator; `soft` are soft starters or None.

    `blind`: behind a module that does not sense its call. `modules`: those that stay open too.
    """

    generator: object
    kind: str
    usd: float
    connection: tuple[str, ...]
    soft: tuple[object, ...]
    blind: tuple[bool, ...]
    modules: int


class Market:
    """A home and a price book."""

    def __init__(self, home, book):
        """Set up what is asked again and again."""
        self.home, self.book, self.judge = home, book, Judge(home)
        self.limits = {one.id: limits_of(home, one) for one in book.generators
                       if home.fuel in one.ratings}
        self.passes, self.orders = {}, {}

    def blind(self, sensing=()):
        """What is blind behind its cheapest module, without what has one that senses (places)."""
        modules = [module_of(ld, self.book) for ld in self.home.loads]
        return tuple(one is not None and one.senses != "call" and i not in sensing
                     for i, one in enumerate(modules))

    def ways(self, generators=None, kinds=None):
        """Every way that can be built and that the code allows, the cheapest first.

        Of those that differ only in how what is off is so, the cheapest, then that with the fewest
        modules: each is tried.
        """
        found = []
        for size in generators or self.book.generators:
            for kind in sorted(kinds or self.home.transfer_kinds):
                if size.id in self.limits:
                    found += self._ways(size, kind)
        return sorted(found, key=lambda way: way.usd)

    def _ways(self, size, kind):
        choices = [choices_of(ld, self.book, kind) for ld in self.home.loads]
        found = {}
        for pick in product(*choices):
            connection, soft, blind = (tuple(one[k] for one in pick) for k in (0, 1, 3))
            if not self.orders_of(connection) or self.judge.gives_up(connection):
                continue
            modules = sum(one[4] for one in pick)
            equipment_usd = equipment(self.home, self.book, size, kind, connection, modules)
            if equipment_usd is not None and self._passes(size, kind, connection):
                usd = equipment_usd + sum(one[2] for one in pick)
                found.setdefault((connection, soft, blind), []).append((round(usd, 6), modules))
        for (connection, soft, blind), prices in found.items():
            usd, modules = min(prices)
            yield Way(size, kind, usd, connection, soft, blind, modules)

    def _passes(self, size, kind, connection):
        firm = frozenset(ld.id for ld, how in zip(self.home.loads, connection, strict=True)
                         if how in {"direct", "by hand"})
        case = size.id, kind, firm, "off" in connection
        if case not in self.passes:
            va = counted_va(self.home, firm, kind, "off" in connection)
            self.passes[case] = carried(va, self.limits[size.id].derated_kw)
        return self.passes[case]

    def orders_of(self, connection):
        """Every order that the home's wishes allow; none if they allow no order."""
        if connection not in self.orders:
            modules = [i for i, how in enumerate(connection) if how == "module"]
            self.orders[connection] = [order for order in permutations(modules)
                                       if self.judge.is_ordered(connection, order)]
        return self.orders[connection]

    def best(self, way, above=-1.0):
        """Most coverage of any order that is a plan; -1 if none is, or surely none is above."""
        limits = self.limits[way.generator.id]
        starts = limits.starts(way.soft)
        most = self.most(way.connection)
        if most <= above or not self.judge.carries(limits, starts, way.connection):
            return -1.0
        best = -1.0
        for order in self.orders_of(way.connection):
            verdict = self.judge.played(limits, starts, way.connection, order, way.blind)
            if verdict.is_plan:
                best = max(best, verdict.coverage)
            if best >= most - 1e-12:
                break
        return best

    def most(self, connection):
        """Coverage if all is kept whose loads are not all left without power."""
        counted = self.judge.counted
        alive = sum(one.importance for one in counted if any(
            connection[self.judge.place[load_id]] in {"direct", "module"}
            for load_id in one.loads))
        return alive / sum(one.importance for one in counted) if counted else 1.0


def offers(home, book):
    """Every offer that can be built, passes the code and is a plan in some order."""
    return _offers(Market(home, book))


def offers_of(home, book, size, kind):
    """Offers of one generator with one kind of transfer equipment."""
    return _offers(Market(home, book), [size], [kind])


def _offers(market, *which):
    found = []
    for way in market.ways(*which):
        coverage = market.best(way)
        if coverage >= 0.0:
            found.append(Offer(way.generator.id, way.kind, way.usd, coverage, way.connection))
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


def module_of(ld, book):
    """Give the cheapest module that may switch a load; one that senses a call that cannot wait."""
    fitting = [m for m in book.modules if m.action in ld.module_actions and (
        m.action == "thermostat" or switches(m, ld, branch_circuit(ld).breaker_a))]
    if ld.nature == "task" and ld.wait_h < 0.5:
        fitting = [m for m in fitting if m.senses == "call"] or fitting
    return min(fitting, key=lambda m: (m.price + m.installation, m.id), default=None)


def sensing_module_of(ld, book):
    """Give the cheapest module that may switch a load and senses its call."""
    senses = replace(book, modules=tuple(m for m in book.modules if m.senses == "call"))
    return module_of(ld, senses)


def choices_of(ld, book, kind):
    """All that can be done about a load, as tuples.

    Connection, soft starter or None, USD, whether its module does not sense it, modules it takes.
    """
    starters = [None]
    if ld.soft_start_fits and ld.starting_kva > ld.running_kva:
        sort = "compressor" if ld.compressor else "pump"
        starters += [s for s in book.soft_starters
                     if s.amperes >= ld.plate_a and sort in s.suits]
    module, nobody_cares = module_of(ld, book), bool(
        ld.comfort and not ld.importance and not ld.must_run)
    ways = []
    if "direct" in ld.allowed:
        ways.append(("direct", 0.0, False))
    if ("module" in ld.allowed and module is not None and book.controllers
            and ld.restarts != "must not"):
        sensing = sensing_module_of(ld, book)
        ways += [("module", one.price + one.installation, one.senses != "call")
                 for one in dict.fromkeys([module, sensing]) if one is not None]
    found = [(how, starter, usd + (starter.price + starter.installation if starter else 0.0),
              blind, int(how == "module")) for how, usd, blind in ways for starter in starters]
    if nobody_cares and kind == "whole-house" and not ld.is_medical:
        found.append(("by hand", None, 0.0, False, 0))
    if not ld.must_run and ("off" in ld.allowed or kind == "selected-circuits" or nobody_cares):
        if kind == "whole-house" and module is not None:
            found.append(("off", None, module.price + module.installation, False, 1))
        found.append(("off", None, book.relocation if kind == "whole-house" else 0.0, False, 0))
    return found


def equipment(home, book, size, kind, connection, modules):
    """Generator, transfer equipment, controller and permits [USD]; None if one is too small."""
    rating_a = size.ratings[home.fuel].amperes
    if kind == "whole-house":
        rating_a = max(rating_a, home.service_a)
    positions = sum(2 if ld.leg == "both" else 1
                    for ld, how in zip(home.loads, connection, strict=True) if how != "off")
    transfers = [t.price + t.installation for t in book.transfers
                 if t.kind == kind and t.rating_a >= rating_a
                 and (kind == "whole-house" or t.positions >= positions)]
    controllers = [c.price + c.installation for c in book.controllers if c.modules >= modules]
    if not transfers or (modules and not controllers):
        return None
    return (size.price + size.installation + book.permits + min(transfers)
            + (min(controllers) if modules else 0.0))
