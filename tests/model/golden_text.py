"""The rows that one rule adds, as the text of an LP file.

After a rule was changed on purpose, write all texts anew from the root of the project with
``python -m tests.model.golden_text``, and read the difference before it is kept.
"""

from __future__ import annotations

from pathlib import Path

import pulp

from planner.model.rules import RULES
from planner.model.variables import declare
from tests.model.tiny import TINY

HERE = Path(__file__).parent / "golden"
SIGNS = {pulp.LpConstraintLE: "<=", pulp.LpConstraintGE: ">=", pulp.LpConstraintEQ: "="}


def path_of(rule):
    """Where the golden text of a rule stands."""
    return HERE / f"{rule.__name__}.lp"


def text_of(rule):
    """What a rule adds on its tiny home: its rows, and the bounds and kinds of their variables."""
    problem = pulp.LpProblem("rule", pulp.LpMaximize)
    tables = TINY[rule.__name__]()
    chosen = declare(problem, tables, whole_slots=True)
    before = len(problem.constraints())
    rule(problem, tables, chosen)
    rows = list(problem.constraints())[before:]
    used = {var.name: var for row in rows for var in row}
    lines = [f"\\ {' '.join(rule.__doc__.strip().splitlines()[0].split())}",
             "Maximize", " nothing: 0", "Subject To", *map(_row, rows), "Bounds",
             *(_bounds(var) for _, var in sorted(used.items()))]
    whole = sorted(name for name, var in used.items() if var.cat == pulp.LpInteger)
    if whole:
        lines += ["General", *(f" {name}" for name in whole)]
    return "\n".join([*lines, "End", ""])


def _row(row):
    terms = " ".join(f"{'-' if factor < 0 else '+'} {abs(factor):.9g} {var.name}"
                     for var, factor in row.items())
    return f" {row.name}: {terms} {SIGNS[row.sense]} {0.0 - row.constant:.9g}"


def _bounds(var):
    if var.upBound is None:
        return f" {var.name} >= {var.lowBound:.9g}"
    return f" {var.lowBound:.9g} <= {var.name} <= {var.upBound:.9g}"


def main():
    """Write every golden text anew."""
    for rule in RULES:
        path_of(rule).write_text(text_of(rule), "utf-8")


if __name__ == "__main__":
    main()
