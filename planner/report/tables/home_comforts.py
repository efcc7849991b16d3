"""The table of a home's comforts: what the family would miss, and what is promised of it."""

from __future__ import annotations

from planner.facts.comfort import Comfort
from planner.facts.home import Home
from planner.report.tables.column import Column, Table, text
from planner.report.words import number
from planner.wiring.promises import promise_text

ASSUMED = "*"


def comfort_table(home: Home) -> Table[Comfort]:
    """One row per comfort, in the order of its kind; what is assumed carries a mark."""
    labels = {load.id: load.label for load in home.loads}
    served: Column[Comfort] = text("served_by", "Served by, in this order",
                                   lambda one: ", ".join(labels[load] for load in one.loads))
    return Table("Comforts", (LABEL, served, *COLUMNS), home.comforts)


def _marked(shown: str, one: Comfort, key: str) -> str:
    known = any(assumed.key == key for assumed in one.assumed)
    return f"{shown}{ASSUMED}" if shown and known else shown


def _importance(one: Comfort) -> str:
    if one.must_run:
        return _marked("must-have", one, "must_run")
    return _marked(str(one.importance), one, "importance")


def _refuge(one: Comfort) -> str:
    return ", ".join(sorted(one.refuge))


def _drift_h(one: Comfort) -> float | None:
    return one.time_constant_h if one.kind == "room" else None


LABEL: Column[Comfort] = text("comfort", "Comfort", lambda one: one.label)
COLUMNS: tuple[Column[Comfort], ...] = (
    Column("importance", "Importance", lambda one: one.importance, _importance),
    Column("promise", "Promise", lambda one: promise_text(one.promise),
           lambda one: _marked(promise_text(one.promise), one, "promise")),
    Column("refuge", "Refuge", _refuge, lambda one: _marked(_refuge(one), one, "refuge")),
    Column("time_constant_h", "Drifts in", _drift_h,
           lambda one: "" if one.kind != "room"
           else _marked(f"{number(one.time_constant_h)} h", one, "time_constant"), right=True),
)
