"""A panel schedule as a table of text: of a home, or of a plan with what it connects how."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from planner.facts.home import Home, Load
from planner.physics.wire.branch import MCA_SHARE
from planner.plan.plan import Plan
from planner.quoting import harmless, not_a_formula
from planner.report.tables.plan import treatment
from planner.site.circuits import Place, circuits_of

COLUMNS = ("panel", "circuit", "description", "breaker A", "poles", "leg", "volts", "VA", "kind",
           "breaker basis", "notes")
OF_A_PLAN = ("connection", "priority")


def schedule_text(home: Home, plan: Plan | None = None) -> str:
    """Write the panel schedule of a home as CSV; a cell never acts as a formula.

    Parameters
    ----------
    home : Home
        Circuits without stated positions get them by a rule, see `planner.site.circuits`.
    plan : Plan, optional
        Adds how each load is connected, and its priority.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS if plan is None else (*COLUMNS, *OF_A_PLAN))
    for place in circuits_of(home):
        cells = _cells(place)
        if plan is not None:
            cells = [*cells, *_connected(place, plan)]
        writer.writerow([not_a_formula(harmless(cell)) for cell in cells])
    return out.getvalue()


def _cells(place: Place) -> list[str]:
    load = place.load
    device = ["", ""] if place.is_several else [f"{place.breaker_a:g}", str(place.poles)]
    return [place.panel, " ".join(place.spaces), place.label, *device, place.leg,
            "240" if place.leg == "both" else "120", "" if load is None else f"{load.code.va:.0f}",
            "" if load is None else load.kind, place.basis,
            "" if load is None else _noted(load)]


def _noted(load: Load) -> str:
    """What the home knows of a unit that moves heat and volt-amperes do not tell: its size or MCA.

    References
    ----------
    NEC 440.33, from memory: the minimum circuit ampacity is 125 % of the compressor's current.
    """
    if load.tons > 0.0:
        return "" if any(one.key == "size" for one in load.assumed) else f"{load.tons:.4g} ton"
    if load.compressor and load.by_day == {} and load.plate_kva > load.running_kva:
        return f"MCA {MCA_SHARE * 1000.0 * load.plate_kva / load.volts:.4g} A"
    return ""


def _connected(place: Place, plan: Plan) -> Sequence[str]:
    if place.load is None:
        return "", ""
    part = plan.load(place.load.id)
    return treatment(plan, part), "" if part.priority is None else str(part.priority)
