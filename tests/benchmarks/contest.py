"""Contenders side by side: each in a process of its own, one after the other."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
GRACE_S = 120.0  # imports, compilation and a solve that ends late
WORDS = {
    "planner": "the planner",
    "plain": "plain way, step by step",
    "plain-shares": "plain way, shares of a slot",
    "plain-grid": "plain way, ten coverages",
}


@dataclass(frozen=True)
class Result:
    """What a contender needed and reached; nan where it was stopped from outside.

    seconds are wall time after imports and compilation, cpu_s processor time; memory_mb is the most
    that its process held at any time, imports included; widest_gap is coverage (0-1) between what
    the replay confirms and what the contender's own bound leaves open.
    """

    contender: str
    asked: str
    seconds: float
    cpu_s: float
    finished: bool
    unsolved: int
    solves: int
    widest_gap: float
    points: tuple[tuple[float, float], ...]
    memory_mb: float

    @property
    def least_usd(self):
        """Cost of the cheapest valid plan; nan if there is none."""
        return self.points[0][0] if self.points else math.nan

    def covers(self, usd):
        """Most that its valid plans cover for at most this cost."""
        return max((c for cost, c in self.points if cost <= usd + 0.005), default=0.0)


def compete(contender, asked, *, total_s=600.0, solve_s=120.0):
    """Run one contender on one question; RuntimeError if it fails."""
    call = [sys.executable, "-m", "tests.benchmarks.one", contender, asked, f"{total_s}",
            f"{solve_s}"]
    try:
        done = subprocess.run(call, cwd=ROOT, capture_output=True, text=True, check=False,
                              timeout=total_s + GRACE_S)
    except subprocess.TimeoutExpired:
        return nothing(contender, asked, total_s + GRACE_S)
    if done.returncode:
        msg = f"{contender} on {asked} failed:\n{done.stderr}"
        raise RuntimeError(msg)
    found = json.loads(done.stdout.splitlines()[-1])
    points = tuple((usd, coverage) for usd, coverage in found.pop("points"))
    return Result(contender, asked, points=points, **found)


def nothing(contender, asked, seconds=math.nan):
    """A contender that gave no answer: stopped after some time, or failed (nan)."""
    return Result(contender, asked, seconds, math.nan, finished=False, unsolved=0, solves=0,
                  widest_gap=math.nan, points=(), memory_mb=math.nan)


def shortfall(result, best):
    """Coverage (0-1) that a contender's plans lack at the costs of another's, at the worst."""
    return max((coverage - result.covers(usd) for usd, coverage in best.points), default=0.0)
