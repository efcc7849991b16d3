"""The table of a home's loads as the planner understands them."""

from __future__ import annotations

from planner.facts.assumption import Assumption
from planner.facts.home import Home, Load
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import number, span

ASSUMED = "*"
WAITING = frozenset({"task", "battery"})  # natures of loads that may begin later
FOOTNOTE = f"{ASSUMED} assumed, not given in the file; --assumed lists each with its source."


def load_table(home: Home) -> Table[Load]:
    """One row per load, in the order of the file; a load with assumed values carries a mark."""
    labels = {comfort.id: comfort.label for comfort in home.comforts}

    def serves(load: Load) -> str:
        return labels.get(load.comfort, "")

    def shown(load: Load) -> str:
        served = _marked(serves(load), load, "comfort") if load.comfort else ""
        return f"{served} (must run)".strip() if load.must_run else served

    comfort = Column("comfort", "Serves", serves, shown)
    return Table("Loads", (*COLUMNS[:-1], comfort, COLUMNS[-1]), home.loads)


def assumption_table(home: Home) -> Table[tuple[str, Assumption]]:
    """One row per assumed value: of the house, of its comforts, then in the order of the loads."""
    rows = [(home.label, one) for one in home.assumed]
    rows += [(comfort.label, one) for comfort in home.comforts for one in comfort.assumed]
    rows += [(load.label, one) for load in home.loads for one in load.assumed]
    return Table("Assumed values", ASSUMPTION_COLUMNS, rows)


def _marked(shown: str, load: Load, *keys: str) -> str:
    known = {one.key for one in load.assumed}
    return f"{shown}{ASSUMED}" if known.intersection(keys) else shown


def _connections(load: Load) -> str:
    return ", ".join(one for one in ("direct", "module", "by hand", "off") if one in load.allowed)


COLUMNS: tuple[Column[Load], ...] = (
    text("load", "Load", lambda load: load.label),
    Column("leg", "Leg", lambda load: load.leg, lambda load: _marked(load.leg, load, "leg")),
    Column("running_kw", "Runs [kW]", lambda load: load.running_kw,
           lambda load: _marked(number(load.running_kw, 2), load, "running"), right=True),
    figure("running_a", "Amperes", lambda load: load.running_a, number),
    Column("starting_kva", "Starts [kVA]", lambda load: load.starting_kva,
           lambda load: _marked(number(load.starting_kva), load, "locked_rotor")
           if load.is_motor else "", right=True),
    Column("wait_h", "May wait", lambda load: load.wait_h,
           lambda load: _marked(span(load.wait_h), load, "wait")
           if load.nature in WAITING else ""),
    Column("allowed", "Connection", _connections,
           lambda load: _marked(_connections(load), load, "connections", "modules")),
)

ASSUMPTION_COLUMNS: tuple[Column[tuple[str, Assumption]], ...] = (
    text("of", "Home, comfort or load", lambda row: row[0]),
    text("key", "Value", lambda row: row[1].said_key),
    text("assumed", "Assumed", lambda row: row[1].text),
    Column("spread", "Plausible error", lambda row: row[1].spread,
           lambda row: f"± {row[1].spread:.0%}" if row[1].spread else "", right=True),
    text("source", "Source", lambda row: row[1].source),
)
