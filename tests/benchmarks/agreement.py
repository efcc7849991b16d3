"""`python -m tests.benchmarks.agreement [HOME ...] [--seeds N]`: planned against simulated.

Prints one row of markdown per point of each home's frontier, a spell on every design day; then in
how many comforts what is kept lies within 3 points, and in how many rooms the worst within 2 degF.
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

KEPT, DEGF = 0.03, 2.0  # how far plan and simulation may be apart
CASES = Path(__file__).parents[2] / "cases"
HOMES = ("suburban", "gas_heated_small", "all_electric_heat_pump", "rural_propane_well",
         "high_altitude", "town_house_selected", "large_estate")


def rows(name, seeds):
    """Give home, set, cost, coverage planned and simulated with its half interval, falls, gaps."""
    file = CASES / f"{name}.toml"
    home, _ = read_home(file)
    book, _ = read_book(home.price_book)
    for plan in frontier(home, book).points:
        hours = 24.0 * home.spell_days
        played = tuple(outages(plan, seeds=seeds, hours=hours))
        results = Results(plan, hours, played)
        found = agreement_of(results)
        gap = found.coverage
        yield (name, plan.supply.generator.id, plan.cost_usd, 100 * gap.planned,
               100 * gap.simulated.value, 100 * (gap.simulated.half or 0.0),
               sum(one.trips + one.stalls for one in played),
               results.per_day(lambda one: one.overload_s).value,
               [abs(one.difference) for one in found.comforts],
               [abs(one.usual - one.planned) for one in found.worst if one.unit == "degF"])


def main():
    """Print the table and what it comes to."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.agreement")
    asked.add_argument("homes", nargs="*", default=HOMES)
    asked.add_argument("--seeds", type=int, default=6)
    given = asked.parse_args()
    print("| home | generator | cost | planned, % | simulated, % | trips | above a rating, s/day |")
    print("| --- | --- | --- | --- | --- | --- | --- |")
    gaps, kept, rooms = [], [], []
    for name in given.homes:
        for row in rows(name, given.seeds):
            _, size, usd, planned, simulated, half, falls, over_s, of_kept, of_rooms = row
            gaps.append(abs(simulated - planned))
            kept += of_kept
            rooms += of_rooms
            print(f"| {name} | {size} | {usd:.0f} | {planned:.1f} | {simulated:.1f} ± {half:.1f} | "
                  f"{falls} | {over_s:.0f} |", flush=True)
    print(f"\n{len(gaps)} points: mean difference {fmean(gaps):.2f} points, most {max(gaps):.2f}.")
    print(f"{len(kept)} comforts: {100.0 * fmean(one <= KEPT for one in kept):.0f} % kept within "
          f"{100.0 * KEPT:g} points, most {100.0 * max(kept):.1f}.")
    print(f"{len(rooms)} rooms and days: {100.0 * fmean(one <= DEGF for one in rooms):.0f} % are "
          f"within {DEGF:g} degF of their worst, most {max(rooms):.1f}.")


if __name__ == "__main__":
    main()
