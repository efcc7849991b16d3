"""`python -m tests.benchmarks.agreement [HOME ...] [--seeds N] [--points] [--plans DIR]`.

Planned against simulated. Plays the recommended plan of each home, or with `--points` every point
of its frontier, a spell on every design day. Prints a row of markdown per plan: coverage planned
and simulated, stalls, trips, starts beyond the allowed dip and drops below 48 Hz, each with its
95 % interval (Clopper and Pearson); then a row for each comfort that counts, and for each room and
design day; then in how many what is kept lies within 3 points and the worst within 2 degF.
`--plans` keeps the plans as files, so that they are looked for once.
"""

from __future__ import annotations

import argparse
import json
from collections import Counter
from pathlib import Path
from statistics import fmean

from scipy.stats import binomtest

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.plan.saved import plan_data, saved_plan
from planner.report.data import single_data
from planner.search.frontier import frontier
from planner.simulation import falls
from planner.simulation.outcome.agreement import agreement_of
from planner.simulation.outcome.results import Results
from planner.simulation.run import outages
from planner.study.recommend import recommend

KEPT, DEGF = 0.03, 2.0  # how far plan and simulation may be apart
LOW_HZ = 48.0
CASES = Path(__file__).parents[2] / "cases"
HOMES = ("suburban", "gas_heated_small", "all_electric_heat_pump", "rural_propane_well",
         "high_altitude", "town_house_selected", "large_estate")
QUICKLY = frozenset({"large_estate"})  # its whole frontier takes too long
PLANS = ("home", "generator", "cost", "outages", "planned, %", "simulated, %", "stalls", "trips",
         "starts", "beyond the dip, % of starts", "drops below 48 Hz, % of outages", "lowest Hz")
COMFORTS = ("home", "comfort", "importance", "kept, planned", "kept, simulated", "")
ROOMS = ("home", "room", "day", "planned, degF", "usual, degF", "of all outages, degF", "")


def plan_for(name, coverage, kept=None):
    """Recommend a plan, or read the one that is kept."""
    home, _ = read_home(CASES / f"{name}.toml")
    book, _ = read_book(home.price_book)
    file = kept / f"{name}.json" if kept else None
    if file and file.exists():
        return saved_plan(plan_data(file.read_text("utf-8"), file.name), home, book, file.name)
    found = recommend(home, book, coverage, quickly=name in QUICKLY,
                      none_starved=name not in QUICKLY)
    if file:
        file.write_text(json.dumps(single_data(home, book, found, coverage, of_its_size=False)))
    return found.plan


def plans_of(name, given):
    """Give the recommended plan of a home, or every point of its frontier."""
    if not given.points:
        return (plan_for(name, given.coverage, given.plans),)
    home, _ = read_home(CASES / f"{name}.toml")
    book, _ = read_book(home.price_book)
    return frontier(home, book).points


def with_interval(count, of):
    """Write a share with its 95 % interval, in percent."""
    low, high = binomtest(count, of).proportion_ci(method="exact")
    return f"{100 * count / of:.3g} ({100 * low:.2g}-{100 * high:.2g})"


def line(*cells):
    """Write a row of markdown."""
    return f"| {' | '.join(str(one) for one in cells)} |"


def plan_row(name, results, gap):
    """Write how a plan did: coverage, and what went wrong."""
    plan, played = results.plan, results.summaries
    starts = sum(one.starts for one in played)
    dips = sum(what == falls.DIP for one in played for what, _ in one.falls)
    low = sum(any(each.lowest_hz < LOW_HZ for each in one.drops) for one in played)
    return line(name, plan.supply.generator.id, f"{plan.cost_usd:.0f}", len(played),
                f"{100 * gap.planned:.2f}",
                f"{100 * gap.simulated.value:.2f} ± {100 * (gap.simulated.half or 0.0):.2f}",
                with_interval(sum(one.stalls > 0 for one in played), len(played)),
                with_interval(sum(one.trips > 0 for one in played), len(played)), starts,
                with_interval(dips, starts), with_interval(low, len(played)),
                f"{results.worst(lambda one: one.lowest_hz, largest=False):.1f}")


def causes_of(results):
    """Count what fell below 48 Hz, by design day, load and cause."""
    loads = results.plan.menu.house.home.loads
    return Counter((one.day, loads[each.who].label if each.who >= 0 else "nothing that began",
                    falls.CAUSES[each.cause])
                   for one in results.summaries for each in one.drops if each.lowest_hz < LOW_HZ)


def main():
    """Print the tables and what they come to."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks.agreement")
    asked.add_argument("homes", nargs="*", default=HOMES)
    asked.add_argument("--seeds", type=int, default=6)
    asked.add_argument("--coverage", type=float, default=0.97)
    asked.add_argument("--points", action="store_true")
    asked.add_argument("--plans", type=Path)
    given = asked.parse_args()
    gaps, kept, rooms = [], [], []
    plans, comforts, warmth, drops = [], [], [], []
    for name in given.homes:
        for plan in plans_of(name, given):
            hours = 24.0 * plan.menu.house.spell
            results = Results(plan, hours, tuple(
                outages(plan, seeds=given.seeds, hours=hours, workers=1)))
            found = agreement_of(results)
            gaps.append(abs(found.coverage.difference))
            plans.append(plan_row(name, results, found.coverage))
            print(plans[-1], flush=True)
            drops += [f"- {name}, {', '.join(key)}: {count}"
                      for key, count in sorted(causes_of(results).items())]
            for one in found.comforts:
                kept.append(abs(one.difference))
                comforts.append(line(
                    name, one.label, f"{one.importance:.2f}", f"{one.planned:.3f}",
                    f"{one.simulated.value:.3f} ± {one.simulated.half or 0.0:.3f}",
                    "apart" if kept[-1] > KEPT else ""))
            for one in found.worst:
                if one.unit == "degF":
                    rooms.append(abs(one.usual - one.planned))
                    warmth.append(line(name, one.label, one.day, f"{one.planned:.1f}",
                                       f"{one.usual:.1f}", f"{one.simulated:.1f}",
                                       "apart" if rooms[-1] > DEGF else ""))
    for headings, rows in ((PLANS, plans), (COMFORTS, comforts), (ROOMS, warmth)):
        print("\n".join(("", line(*headings), f"|{' --- |' * len(headings)}", *rows)))
    print("\n".join(("", "Below 48 Hz:", *drops)))
    print(f"\n{len(gaps)} plans: mean difference {100 * fmean(gaps):.2f} points, most "
          f"{100 * max(gaps):.2f}.")
    print(f"{len(kept)} comforts that count: {100.0 * fmean(one <= KEPT for one in kept):.0f} % "
          f"kept within {100.0 * KEPT:g} points, most {100.0 * max(kept):.1f}.")
    print(f"{len(rooms)} rooms and days: {100.0 * fmean(one <= DEGF for one in rooms):.0f} % are "
          f"within {DEGF:g} degF of their worst, most {max(rooms):.1f}.")


if __name__ == "__main__":
    main()
