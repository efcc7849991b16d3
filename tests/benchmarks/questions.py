"""The homes and price books that are timed, each named by a short text.

`case:NAME` is a home of `cases/` with its price book; `grown:LOADS,DAYS,SIZES` is made up, the same
on any machine: seven loads out of ten are small and always on, as in a real house, the rest large
enough to take turns.
"""

from __future__ import annotations

import random
from pathlib import Path

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.facts.home import CodeEntry, DesignDay, Limits, Use
from tests.homes import base, book, generator, home, load

CASES = Path(__file__).parents[2] / "cases"
DAYS = (
    DesignDay("hot", "hot day", "summer", 0.45, 74.0, 97.0),
    DesignDay("cold", "cold day", "winter", 0.3, 12.0, 30.0),
    DesignDay("between", "mild day", "mild", 0.15, 52.0, 68.0),
    DesignDay("warm", "warm day", "summer", 0.1, 66.0, 86.0),
)
COVERED = CodeEntry("general", 0.0)  # so that the calculated load leaves every choice open


def question(name):
    """Home and price book of a name."""
    sort, _, rest = name.partition(":")
    if sort == "case":
        one = read_home(CASES / f"{rest}.toml")[0]
        return one, read_book(CASES / "demo_price_book.toml")[0]
    loads, days, sizes = (int(part) for part in rest.split(","))
    return grown_home(loads, days), grown_book(loads, sizes)


def grown_home(loads, days):
    """A made-up home with this many loads, three out of ten large ones that may take turns."""
    rng = random.Random(f"grown {loads}")
    small = loads - max(3, loads * 3 // 10)
    each_kw = 2.0 / small
    parts = [base(0.4)]
    parts += [_small(rng, f"small-{n}", each_kw) for n in range(1, small)]
    parts += [_large(rng, f"large-{n}") for n in range(1, loads - small + 1)]
    return home(*parts, days=DAYS[:days], service_a=200.0, summer_degf=95.0,
                limits=Limits(0.3, 1.0), id=f"grown-{loads}",
                label=f"made-up home of {loads} loads")


def _small(rng, name, each_kw):
    """A circuit that is always connected."""
    duty = Use(kind="duty", hours=tuple(round(rng.random(), 2) for _ in range(24)))
    return load(name, round(each_kw * rng.uniform(0.5, 1.5), 3), leg=rng.choice(["L1", "L2"]),
                allowed=frozenset({"direct"}), importance=rng.choice([0, 0, 0, 1]),
                use={"every": duty}, code=COVERED)


def _large(rng, name):
    """An appliance that may be shed: a compressor, a heater, or something started by hand."""
    sort = rng.choice(["compressor", "heater", "event", "event"])
    common = {"importance": rng.randrange(1, 6), "code": COVERED}
    kw = round(rng.uniform(1.5, 5.0), 2)
    if sort == "compressor":
        use = Use(kind="cooling", balance_degf=70.0, design_degf=95.0, full_duty=0.9,
                  offset_slots=rng.randrange(3))
        return load(name, kw, starting_kva=round(4.5 * kw, 2), motor_hp=2.0, wait_h=0.5,
                    soft_start_fits=True, compressor=True,
                    use={"summer": use, "winter": Use(kind="never"), "mild": use}, **common)
    if sort == "heater":
        return load(name, kw, wait_h=2.0, use={"every": Use(kind="events", events=(
            (7.0, 1.0), (rng.randrange(70, 76) / 4.0, 1.5)))}, **common)
    begins = rng.randrange(68, 76) / 4.0
    return load(name, kw, wait_h=rng.choice([0.0, 1.0, 6.0]), use={"every": Use(
        kind="events", events=((begins, rng.randrange(3, 8) / 4.0),))}, **common)


def grown_book(loads, sizes):
    """A made-up book of this many sizes, from small to enough for such a home."""
    least_kw, most_kw = 4.0 + 0.1 * loads, 8.0 + 0.5 * loads
    step_kw = (most_kw - least_kw) / (sizes - 1)
    offers = [round(least_kw + step_kw * place, 1) for place in range(sizes)]
    return book(*(generator(kw, 1500.0 + 350.0 * kw) for kw in offers))
