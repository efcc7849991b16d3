"""One simulated house-day of the planner beside one of a general-purpose residential model.

Run by hand: `python -m tests.benchmarks.residential_speed --model-python PATH`, where PATH is a
Python that has OCHRE (see `residential_model`). Both are timed in
turns in one run, on one thread, after their set up and, for the planner, after compiling.

The like for like is a house-day: the house with weather and utility power, second by second here,
minute by minute there. Beside it stands a whole outage of 24 h, for which the planner plays a day
of warm-up, the outage with generator and controller, and the same day with unlimited power.
"""

from __future__ import annotations

import argparse
import subprocess
import time
from pathlib import Path
from statistics import median

from planner.search.frontier import frontier
from planner.simulation.machines import demanded, machines_of
from planner.simulation.outage import simulate
from tests.benchmarks.questions import question

SCRIPT = Path(__file__).with_name("residential_model.py")
HOMES = ("case:all_electric_heat_pump", "case:suburban")
MODEL_DAYS = 3
SEEDS = 20


def house_day_s(home):
    """Mean wall time of a house-day with utility power, without setting up [s]."""
    spent_s = 0.0
    for seed in range(SEEDS):
        machines = machines_of(home, home.days[seed % len(home.days)], 24.0, seed)
        begun = time.perf_counter()
        demanded(machines, 24.0)
        spent_s += time.perf_counter() - begun
    return spent_s / SEEDS


def outage_s(plan):
    """Mean wall time of a whole outage of 24 h, machines and warm-up day included [s]."""
    days = plan.menu.house.home.days
    begun = time.perf_counter()
    for seed in range(SEEDS):
        simulate(plan, days[seed % len(days)], seed, hours=24.0)
    return (time.perf_counter() - begun) / SEEDS


def model_day_s(python):
    """Wall time of setting up, and of a house-day after that [s]."""
    done = subprocess.run([python, "-P", str(SCRIPT), "house", str(MODEL_DAYS)], check=True,
                          capture_output=True, text=True)
    set_up_s, day_s = (float(word) for word in done.stdout.split()[-2:])
    return set_up_s, day_s


def main():
    """Time both and print the ratio."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--model-python", required=True, help="a Python that has OCHRE")
    parser.add_argument("--rounds", type=int, default=3)
    wanted = parser.parse_args()
    plans = [frontier(*question(name)).points[-1] for name in HOMES]
    for plan in plans:
        simulate(plan, plan.menu.house.home.days[0], 0, hours=24.0)
    days, outages, theirs = [], [], []
    for n in range(wanted.rounds):
        set_up_s, model_s = model_day_s(wanted.model_python)
        theirs.append(model_s)
        print(f"round {n + 1}: model {1e3 * model_s:.0f} ms a house-day at 60 s steps, "
              f"set up {set_up_s:.1f} s not counted", flush=True)
        days.append([house_day_s(plan.menu.house.home) for plan in plans])
        outages.append([outage_s(plan) for plan in plans])
    for k, plan in enumerate(plans):
        loads = len(plan.menu.house.ids)
        for what, rows in (("house-day", days), ("whole outage", outages)):
            ours = [row[k] for row in rows]
            print(f"{HOMES[k]}, {loads} loads, 1 s steps: {what} {1e3 * median(ours):.2f} ms, "
                  f"model takes {median(theirs) / median(ours):.0f} times as long "
                  f"(worst pairing {min(theirs) / max(ours):.0f})")


if __name__ == "__main__":
    main()
