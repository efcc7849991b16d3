"""`python -m tests.benchmarks.rooms [HOME ...] [--seeds N] [--hours H]`: what rooms come to.

Prints one row of markdown per room and design day of each home's recommended plan, every room
beside the same outages with the utility.
"""

from __future__ import annotations

import argparse

import planner
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from tests.benchmarks.agreement import CASES, HOMES


def main():
    """Print the table."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.rooms")
    asked.add_argument("homes", nargs="*", default=HOMES)
    asked.add_argument("--seeds", type=int, default=10)
    asked.add_argument("--hours", type=float, default=72.0)
    given = asked.parse_args()
    print("| home | coverage, % | room | day | worst, degF | with the utility | degF·h off a day "
          "| unlivable, h a day |")
    print("| --- | --- | --- | --- | --- | --- | --- | --- |")
    for name in given.homes:
        plan = planner.recommend(planner.read_home(CASES / f"{name}.toml"))
        played = tuple(outages(plan, seeds=given.seeds, hours=given.hours))
        for one in Results(plan, given.hours, played).rooms():
            label = one.label if one.connected else f"{one.label} (off)"
            print(f"| {name} | {100.0 * plan.coverage:.1f} | {label} | {one.day} | "
                  f"{one.worst_degf:.0f} | {one.utility_degf:.0f} | {one.degree_h:.1f} | "
                  f"{one.unlivable_h:.1f} |", flush=True)


if __name__ == "__main__":
    main()
