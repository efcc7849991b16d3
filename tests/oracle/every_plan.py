"""The true frontier of a small home: every way to connect it, every order, by the plain rule."""

from __future__ import annotations

from tests.oracle.market import Market, Offer


def true_frontier(home, book, generators=None):
    """Offers that none beats, by rising cost, from full enumeration.

    Passed over is only what surely covers no more than something cheaper: a comfort none of whose
    loads has power is not kept at all.
    """
    market = Market(home, book)
    found = []
    for way in market.ways(generators):
        above = found[-1].coverage if found else -1.0
        coverage = market.best(way, above + 1e-9 if found else -1.0)
        if coverage > above + 1e-9 or (not found and coverage >= 0.0):
            if found and found[-1].usd >= way.usd - 1e-6:
                found.pop()
            found.append(Offer(way.generator.id, way.kind, way.usd, coverage, way.connection))
    return found
