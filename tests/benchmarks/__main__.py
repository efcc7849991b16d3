"""`python -m tests.benchmarks [side] [growth] [answers] [browser] [--help]` prints tables."""

from __future__ import annotations

import argparse
import sys

from tests.benchmarks.answers import answers
from tests.benchmarks.browser import wait_table, waits
from tests.benchmarks.contest import WORDS, compete, nothing
from tests.benchmarks.tables import answer_table, growth_table, side_table

SIDE = ("planner", "plain", "plain-grid", "plain-shares")
GROWTH = (
    *(f"grown:{loads},3,6" for loads in (10, 20, 40, 80)),
    *(f"grown:20,{days},6" for days in (1, 2, 4)),
    *(f"grown:20,3,{sizes}" for sizes in (3, 12)),
)


def told(way, asked, limits):
    """Run a contender and say on standard error what it needed, as tables come last."""
    try:
        one = compete(way, asked, **limits)
    except RuntimeError as failed:
        print(failed, file=sys.stderr)
        return nothing(way, asked)
    print(f"{asked}: {WORDS[way]} {one.seconds:.2f} s ({one.cpu_s:.2f} s of a "
          f"processor), gap {one.widest_gap:.4f}, "
          f"{len(one.points)} points{'' if one.finished else ', unfinished'}", file=sys.stderr)
    return one


def main():
    """Measure what is asked for, and print it as tables in markdown."""
    asked = argparse.ArgumentParser(prog="python -m tests.benchmarks")
    asked.add_argument("what", nargs="*", default=["side", "growth", "answers"])
    asked.add_argument("--home", default="case:suburban", help="home of the side-by-side table")
    asked.add_argument("--total", type=float, default=600.0, help="seconds per contender")
    asked.add_argument("--solve", type=float, default=120.0, help="seconds per solve")
    asked.add_argument("--planner-only", action="store_true", help="leave the other ways out")
    given = asked.parse_args()
    limits = {"total_s": given.total, "solve_s": given.solve}
    if "side" in given.what:
        ways = SIDE[:1] if given.planner_only else SIDE
        print(side_table([told(way, given.home, limits) for way in ways]), flush=True)
    if "growth" in given.what:
        ways = ("planner",) if given.planner_only else ("planner", "plain")
        print(growth_table([[told(way, one, limits) for way in ways] for one in GROWTH]),
              flush=True)
    if "answers" in given.what:
        print(answer_table(answers()), flush=True)
    if "browser" in given.what:
        print(wait_table(waits()), flush=True)


if __name__ == "__main__":
    main()
