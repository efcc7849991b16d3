"""The loops give the same compiled or as Python, and nothing is compiled while they run."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from threading import Thread
from time import perf_counter

import numpy as np

from planner.compiled import UNCOMPILED
from planner.facts.home import Use
from planner.simulation.loops.machines import live
from planner.simulation.machines import machines_of
from tests.homes import base, home, load
from tests.simulation.short_outage import DAY, digest

ROOT = Path(__file__).parents[2]

COUNTING = """
from numba.core import event
from tests.simulation.short_outage import DAY, small_plan
from planner.simulation.outage import simulate
plan = small_plan()
with event.install_recorder("numba:compile") as compiled:
    simulate(plan, DAY, 0, hours=0.1)
print(len(compiled.buffer))
"""


def output_of(*arguments, **environment):
    """Run Python in the checkout; gives what it printed."""
    done = subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, text=True,
                          check=True, env={**os.environ, "PYTHONPATH": str(ROOT), **environment})
    return done.stdout.strip()


def test_as_python_the_loops_give_the_same_bits():
    """A short outage played without any compiled code leaves the same books, log and machines."""
    assert output_of("-m", "tests.simulation.short_outage", **{UNCOMPILED: "1"}) == digest()


def test_no_loop_of_the_simulation_waits_for_numba():
    """Once the plan is there, an outage is played without compiling anything."""
    assert output_of("-c", COUNTING) == "0"


def test_no_file_of_the_simulation_imports_numba():
    """The room is free of it; what its imports from `plan` and `service` bring is theirs."""
    files = list((ROOT / "planner" / "simulation").rglob("*.py"))
    assert len(files) > 30
    assert [path.name for path in files if "numba" in path.read_text("utf-8")] == []


def test_other_threads_run_while_a_loop_runs():
    """A loop lets go of the interpreter: meanwhile no pause is near as long as the loop itself."""
    fleet = machines_of(home(base(1.0), load("box", 0.2, kind="refrigerator", use={
        "every": Use("duty", hours=(0.3,) * 24)})), DAY, 1.0, 0).fleet()
    nothing, groups = np.zeros(2), np.array([0, 0, 1, 2])
    thread = Thread(target=live, args=(0, 4 * 10**8, True, fleet, np.array([0, 1]), groups,
                                       nothing, nothing))
    begin = before = perf_counter()
    longest_s = 0.0
    thread.start()
    while thread.is_alive():
        now = perf_counter()
        longest_s, before = max(longest_s, now - before), now
    assert before - begin > 0.2
    assert longest_s < 0.5 * (before - begin)
