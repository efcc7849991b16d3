"""`python -m tests.benchmarks.houses [HOME ...] [--houses N]`: drawn houses, played.

Plays a plan second by second in drawn houses that fit its home's file, a spell on every design day
and a seed for each house. Prints a row of markdown for the recommended plan of each home and for
the cheapest that reaches the goal: the share of these houses in which the replay holds it, the
share in which the simulation keeps every promise without a stall or a trip (each with its 95 %
interval, Clopper and Pearson), in how many the two judge alike, and what broke.

Promises are judged as for any outage (`planner.simulation.outcome.promises`), in each house against
the same outage with the utility.
"""

from __future__ import annotations

import argparse
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
from scipy.stats import binomtest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.service.supply import supply_of
from planner.simulation.outage import simulate
from planner.simulation.outcome.promises import is_broken
from planner.simulation.outcome.summary import summary_of
from planner.study.confidence.houses import houses_like
from planner.study.confidence.playing import held_in, places_of, ranges_of
from planner.study.recommend import recommend
from tests.benchmarks.agreement import CASES, HOMES

HOURS = 72.0
KEYS = {"inertia": "inertia_s", "governor_lag": "governor_s"}


def in_house(plan, house, of_book, at):
    """What the simulation reads of a plan, in a house that is not as the file assumes."""
    said = {KEYS[one.guess.key]: (one.usual.low + one.usual.high) / 2.0
            + place * (one.usual.high - one.usual.low) / 2.0
            for one, place in zip(of_book, at, strict=True) if one.guess.key in KEYS}
    book = plan.menu.book
    return SimpleNamespace(
        menu=SimpleNamespace(house=house, book=book, module_of=plan.menu.module_of),
        supply=supply_of(house, replace(plan.supply.generator, **said), book,
                         plan.menu.works.limits), choice=plan.choice)


def broken(summary, comforts):
    """Name what went wrong in an outage: stalls, trips and every promise that was not kept."""
    if summary.stalls:
        yield "stall"
    if summary.trips:
        yield "trip"
    for one, comfort in zip(summary.comforts, comforts, strict=True):
        if is_broken(comfort, one):
            yield comfort.id


def played(plan, houses, of_book, at):
    """What broke in each house."""
    def one(number):
        house = houses.house(number)
        here = in_house(plan, house, of_book, at[number])
        return frozenset(wrong for day in house.home.days for wrong in broken(
            summary_of(simulate(here, day, number, hours=HOURS)), house.home.comforts))

    with ThreadPoolExecutor() as pool:
        return list(pool.map(one, range(houses.count)))


def share(holds):
    """A share and its interval in words."""
    found = binomtest(int(np.sum(holds)), len(holds))
    low, high = found.proportion_ci()
    return f"{100.0 * found.statistic:.1f} ({100.0 * low:.1f} to {100.0 * high:.1f})"


def row(name, what, plan, houses):
    """Replay and simulation of a plan in the same houses, as a row of markdown."""
    of_book = ranges_of(plan)
    at = places_of(houses, of_book)
    planned = held_in(plan, houses, of_book, at)
    wrong = played(plan, houses, of_book, at)
    simulated = np.array([not one for one in wrong])
    causes = Counter(cause for one in wrong for cause in one)
    return (f"| {name} | {what} | {plan.supply.generator.id} {plan.cost_usd:,.0f} "
            f"| {share(planned)} | {share(simulated)} "
            f"| {100.0 * np.mean(planned == simulated):.1f} | "
            + ", ".join(f"{cause} {count}" for cause, count in causes.most_common()) + " |")


def main():
    """Print the table."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.houses")
    asked.add_argument("homes", nargs="*", default=HOMES)
    asked.add_argument("--houses", type=int, default=400)
    given = asked.parse_args()
    print("| home | plan | | holds in the replay, % | in the simulation, % | judged alike, % | "
          "broken, houses |\n| --- | --- | --- | --- | --- | --- | --- |")
    for name in given.homes:
        home, _ = read_home(CASES / f"{name}.toml")
        book, _ = read_book(home.price_book)
        found = recommend(home, book)
        houses = houses_like(home, given.houses)
        print(row(name, "recommended", found.plan, houses), flush=True)
        if found.cheapest.choice != found.plan.choice:
            print(row(name, "cheapest", found.cheapest, houses), flush=True)


if __name__ == "__main__":
    main()
