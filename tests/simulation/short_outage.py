"""A short outage of a small home, and a digest of all that it leaves behind."""

from __future__ import annotations

from hashlib import blake2b

from planner.facts.home import DesignDay
from planner.simulation.outage import simulate
from tests.homes import base, events, generator, home, load, motor
from tests.simulation.plans import plan_of

DAY = DesignDay("day", "day", "mild", 1.0, 60.0, 80.0)


def small_plan():
    """Two loads and a motor that take turns behind a base and a direct motor."""
    house = home(
        base(0.8), load("pump", 0.6, starting_kva=3.0, use=events((0.1, 0.2))),
        load("heater", 4.0, wait_h=2.0, use=events((0.1, 0.5))),
        load("tank", 3.0, kind="electric water heater", use=events((0.1, 0.25), (0.6, 0.25))),
        motor("air", 3.0, 12.0, wait_h=1.0, use=events((0.05, 0.3))))
    return plan_of(house, generator(9.0, 5000.0), "air", "heater", "tank")


def digest():
    """Play 0.7 h and give a digest of books, log and machines, bit for bit."""
    found = simulate(small_plan(), DAY, 1, hours=0.7)
    assert found.tally.starts_count[0] > 0
    assert found.tally.waits_count[0] > 0
    parts = [*found.tally, *found.log, found.state, found.wanted_kwh, found.wanted_s]
    return blake2b(b"".join(part.tobytes() for part in parts), digest_size=16).hexdigest()


if __name__ == "__main__":
    print(digest())
