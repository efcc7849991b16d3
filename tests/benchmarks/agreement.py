"""`python -m tests.benchmarks.agreement [HOME ...] [--seeds N]`: planned against simulated.

Prints one row of markdown per point of each home's frontier, 24 h on every design day.
"""

from __future__ import annotations

import argparse
from pathlib import Path
from statistics import fmean

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.search.frontier import frontier
from planner.simulation.agreement import agreement_of
from planner.simulation.results import Results
from planner.simulation.run import outages

CASES = Path(__file__).parents[2] / "cases"
HOMES = ("suburban", "gas_heated_small", "all_electric_heat_pump", "rural_propane_well",
         "high_altitude", "town_house_selected", "large_estate")


def rows(name, seeds):
    """Give home, set, cost, planned and simulated coverage, half interval, falls, overload."""
    file = CASES / f"{name}.toml"
    home, _ = read_home(file)
    book, _ = read_book(home.price_book)
    for plan in frontier(home, book).points:
        played = tuple(outages(plan, seeds=seeds, hours=24.0))
        results = Results(plan, 24.0, played)
        gap = agreement_of(results).coverage
        yield (name, plan.supply.generator.id, plan.cost_usd, 100 * gap.planned,
               100 * gap.simulated.value, 100 * (gap.simulated.half or 0.0),
               sum(one.trips + one.stalls for one in played),
               results.per_day(lambda one: one.overload_s).value)


def main():
    """Print the table and what it comes to."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.agreement")
    asked.add_argument("homes", nargs="*", default=HOMES)
    asked.add_argument("--seeds", type=int, default=6)
    given = asked.parse_args()
    print("| home | generator | cost | planned, % | simulated, % | trips | above a rating, s/day |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    gaps = []
    for name in given.homes:
        for _, size, usd, planned, simulated, half, falls, over_s in rows(name, given.seeds):
            gaps.append(abs(simulated - planned))
            print(f"| {name} | {size} | {usd:.0f} | {planned:.1f} | {simulated:.1f} ± {half:.1f} | "
                  f"{falls} | {over_s:.0f} |", flush=True)
    print(f"\n{len(gaps)} points: mean difference {fmean(gaps):.2f} points, most {max(gaps):.2f}.")


if __name__ == "__main__":
    main()
