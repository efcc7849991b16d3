"""The loads' side of a one-line: panels, breakers, modules, soft starters, loads."""

from __future__ import annotations

import networkx as nx

from planner.facts.home import Load
from planner.plan.code import WHOLE
from planner.plan.module_lines import ModuleLine, module_lines
from planner.plan.plan import LoadPlan, Plan
from planner.site.branch_wire import branch_wire
from planner.site.circuits import device_of
from planner.site.one_line.sources import TRANSFER
from planner.site.one_line.words import NOT_STATED, amperes, of_sheet
from planner.site.sheet.rows import SiteSheet
from planner.wiring.graph import build, circuit_node, load_node, panel_node

SHARED = frozenset({"general", "small-appliance", "laundry"})
"""Code categories of loads for receptacles: across both legs they stand on 120/240 V."""
BY_HAND, STAYS_OPEN = "opened by hand", "Stays open in an outage"


def add_circuits(graph: nx.DiGraph, plan: Plan, sheet: SiteSheet) -> None:
    """Add the panels and every load on standby power with all that stands ahead of it.

    One whose module stays open hangs there too: the utility feeds it through the same wires.
    """
    home = plan.menu.house.home
    whole = plan.menu.kind == WHOLE
    if whole:
        _add_panels(graph, plan, sheet)
    modules = {line.load.id: line for line in module_lines(plan)}
    starters = {one.id: one for one in plan.menu.book.soft_starters}
    for load, part in zip(home.loads, plan.loads, strict=True):
        if part.connection == "off" and not part.stays_open:
            continue
        source = panel_node(load.panel) if whole else TRANSFER
        last, wire = _add_breaker(graph, plan, source, load, part, modules.get(load.id))
        line = modules.get(load.id)
        if line is not None and line.in_circuit:
            last = _add_module(graph, last, wire, line, part)
        if part.soft_starter is not None:
            node = f"soft-starter:{load.id}"
            graph.add_node(node, kind="soft starter", title="Soft starter", bonded=False,
                           label=starters[part.soft_starter].label, lines=())
            graph.add_edge(last, node, wire=wire)
            last = node
        _add_load(graph, last, wire, load, part)
        if line is not None and not line.in_circuit:
            _add_module(graph, load_node(load.id), "in the thermostat wire", line, part)


def _add_panels(graph: nx.DiGraph, plan: Plan, sheet: SiteSheet) -> None:
    """Hang the panels as the wiring of the home has them."""
    home = plan.menu.house.home
    wiring = build(home).graph
    for panel in home.panels:
        graph.add_node(panel_node(panel.id), kind="panel", title="Panel", label=panel.id,
                       amperes=panel.feeder_a, bonded=False, lines=(amperes(panel.feeder_a),))
    for panel in home.panels:
        root = panel.fed_from is None
        for source in wiring.predecessors(panel_node(panel.id)):
            graph.add_edge(TRANSFER if root else source, panel_node(panel.id),
                           wire=of_sheet(sheet, "panel-feeder") if root else NOT_STATED)


def _add_breaker(
    graph: nx.DiGraph, plan: Plan, source: str, load: Load, part: LoadPlan, line: ModuleLine | None
) -> tuple[str, str]:
    """Add the breaker of a load; give its node and the wire behind it."""
    branch = device_of(load)
    if branch is None:
        said = [f"several circuits, breakers {NOT_STATED}"]
    else:
        poles = "1 pole" if load.poles == 1 else f"{load.poles} poles"
        said = [f"{branch.breaker_a:g} A", poles, *([] if branch.given else ["by rule"])]
    if part.connection == "by hand":
        said.append(BY_HAND)
    wire = NOT_STATED
    if line is not None and line.in_circuit:
        try:
            wire = branch_wire(plan, line)
        except ValueError:
            wire = "no single cable fits"
    node = circuit_node(load.id)
    graph.add_node(node, kind="breaker", title="Breaker", label="", bonded=False,
                   amperes=None if branch is None else branch.breaker_a,
                   lines=(", ".join(said), f"wire {wire}"), load_id=load.id)
    graph.add_edge(source, node, wire=NOT_STATED)
    return node, wire


def _add_module(
    graph: nx.DiGraph, source: str, wire: str, line: ModuleLine, part: LoadPlan
) -> str:
    node = f"module:{line.load.id}"
    rated = (f"switches {amperes(line.module.amperes)}" if line.in_circuit
             else "in the thermostat wire")
    graph.add_node(node, kind="module", title=_title(part),
                   label=line.module.label, bonded=False,
                   amperes=line.module.amperes, priority=part.priority, load_id=line.load.id,
                   in_circuit=line.in_circuit, lines=(rated,))
    graph.add_edge(source, node, wire=wire)
    return node


def _title(part: LoadPlan) -> str:
    return STAYS_OPEN if part.stays_open else f"Priority {part.priority}"


def _add_load(graph: nx.DiGraph, source: str, wire: str, load: Load, part: LoadPlan) -> None:
    volts = f"{load.volts} V" if load.leg == "both" else f"{load.volts} V on {load.leg}"
    if load.leg == "both" and load.code.category in SHARED:
        volts = "120/240 V"
    graph.add_node(load_node(load.id), kind="load", title="Load", label=load.label, bonded=False,
                   load_id=load.id, priority=part.priority, connection=part.connection,
                   module=part.module, amperes=load.running_a,
                   lines=(f"{volts}, runs at {load.running_a:.1f} A",))
    graph.add_edge(source, load_node(load.id), wire=wire)
