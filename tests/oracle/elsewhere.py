"""The constraint solver in a process of its own.

It and the planner's solver each bring a copy of one library, in versions that do not go together;
so this module imports neither before it is in that process.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context


def solver_process():
    """Start the process; use it as a context manager and submit `most_covered`."""
    return ProcessPoolExecutor(max_workers=1, mp_context=get_context("spawn"))


def most_covered(home, size, book, budget_usd):
    """Most that one generator covers for a budget, by constraints; -1 if there is no plan."""
    from tests.oracle.constraints import Turns

    return Turns(home, size, book).most(budget_usd)
