"""The sources of a one-line: the utility's side and the generator's, down to the transfer."""

from __future__ import annotations

import networkx as nx

from planner.plan.code import WHOLE
from planner.plan.plan import Plan
from planner.plan.site.feeder import named, nameplate_a
from planner.site.one_line.words import NOT_STATED, amperes, of_sheet, yes_or_no
from planner.site.sheet.rows import SiteSheet
from planner.site.wire import FeederRun, feeder_run, site_of
from planner.wiring.graph import panel_node

UTILITY, METER, DISCONNECT, SUPPLY_BREAKER = "utility", "meter", "disconnect", "supply-breaker"
GENERATOR, GENERATOR_BREAKER, FEEDER, TRANSFER = (
    "generator", "generator-breaker", "feeder", "transfer")
EXISTING = "panel of the house"


def add_sources(graph: nx.DiGraph, plan: Plan, sheet: SiteSheet) -> None:
    """Add both sources and all that stands between them and the loads' side."""
    _add_transfer(graph, plan, sheet)
    _add_utility(graph, plan, sheet)
    _add_generator(graph, plan, sheet)


def _add_transfer(graph: nx.DiGraph, plan: Plan, sheet: SiteSheet) -> None:
    transfer = plan.price.transfer
    whole = plan.menu.kind == WHOLE
    lines = [f"rating {amperes(transfer.rating_a)}"]
    if whole:
        lines.append(f"listed as service equipment: {yes_or_no(transfer.service_rated)}")
    else:
        lines.append(f"positions: {of_sheet(sheet, 'positions')}")
    lines += [f"switches the neutral: {yes_or_no(transfer.switches_neutral)}",
              f"withstands {amperes(transfer.short_circuit_a)} in a fault"]
    graph.add_node(TRANSFER, kind="transfer", title="Transfer equipment", label=transfer.label,
                   amperes=transfer.rating_a, lines=tuple(lines),
                   bonded=whole and transfer.service_rated is True)


def _add_utility(graph: nx.DiGraph, plan: Plan, sheet: SiteSheet) -> None:
    home, transfer = plan.menu.house.home, plan.price.transfer
    service = site_of(plan).service
    wire = (NOT_STATED if service.conductor is None
            else named(service.conductor, service.material))
    graph.add_node(UTILITY, kind="source", title="Utility", label="", bonded=False, lines=(
        f"available fault current {amperes(home.fault_current_a)}",))
    graph.add_node(METER, kind="meter", title="Electric meter", label="", bonded=False,
                   lines=(f"rating {NOT_STATED}",))
    graph.add_edge(UTILITY, METER, wire=NOT_STATED)
    if plan.menu.kind == WHOLE and transfer.service_rated is True:
        graph.add_edge(METER, TRANSFER, wire=wire)
        return
    graph.add_node(DISCONNECT, kind="disconnect", title="Service disconnect", label="",
                   amperes=home.service_a, bonded=True, lines=(amperes(home.service_a),))
    graph.add_edge(METER, DISCONNECT, wire=wire)
    if plan.menu.kind == WHOLE:
        graph.add_edge(DISCONNECT, TRANSFER, wire=NOT_STATED)
        return
    first = next(panel for panel in home.panels if panel.fed_from is None)
    node = panel_node(first.id)
    graph.add_node(node, kind="panel", title="Panel", label=first.id, amperes=first.feeder_a,
                   bonded=False, lines=(amperes(first.feeder_a), EXISTING))
    graph.add_edge(DISCONNECT, node, wire=NOT_STATED)
    graph.add_node(SUPPLY_BREAKER, kind="breaker", title="Breaker", label="", bonded=False,
                   lines=(of_sheet(sheet, "transfer-supply"),))
    graph.add_edge(node, SUPPLY_BREAKER, wire=NOT_STATED)
    graph.add_edge(SUPPLY_BREAKER, TRANSFER, wire=of_sheet(sheet, "transfer-wire"))


def _add_generator(graph: nx.DiGraph, plan: Plan, sheet: SiteSheet) -> None:
    generator, home = plan.supply.generator, plan.menu.house.home
    switched, run = plan.price.transfer.switches_neutral, feeder_run(plan)
    rating = generator.ratings[home.fuel]
    bond = {True: "neutral bonded here", False: "neutral not bonded here",
            None: f"neutral bond: {NOT_STATED}"}[switched]
    graph.add_node(
        GENERATOR, kind="source", title="Generator", label=generator.label, bonded=bool(switched),
        amperes=nameplate_a(generator), lines=(
            f"{rating.kw:g} kW, {rating.kva:g} kVA on {home.fuel}",
            f"nameplate {nameplate_a(generator):g} A", bond))
    graph.add_node(GENERATOR_BREAKER, kind="breaker", title="Generator breaker", label="",
                   bonded=False, amperes=generator.breaker_a, lines=_breaker(plan, sheet))
    graph.add_edge(GENERATOR, GENERATOR_BREAKER, wire="in the generator")
    graph.add_node(FEEDER, kind="feeder", title="Feeder", label="", bonded=False,
                   lines=_feeder(run, sheet))
    wire = NOT_STATED if isinstance(run, str) else named(run.laid, run.by_code.material)
    graph.add_edge(GENERATOR_BREAKER, FEEDER, wire=wire)
    graph.add_edge(FEEDER, TRANSFER, wire=wire)


def _breaker(plan: Plan, sheet: SiteSheet) -> tuple[str, ...]:
    found = of_sheet(sheet, "generator-breaker")
    if plan.supply.generator.breaker_a is None:
        return (NOT_STATED, f"by rule {found}")
    return (found,)


def _feeder(run: FeederRun | str, sheet: SiteSheet) -> tuple[str, ...]:
    if isinstance(run, str):
        return ("lines: no single conductor fits",)
    length = NOT_STATED if run.length_ft is None else f"{run.length_ft:g} ft"
    least = "" if run.length_ft is not None else ", the least by code"
    return (f"lines {named(run.laid, run.by_code.material)}{least}",
            f"neutral {of_sheet(sheet, 'feeder-neutral')}",
            f"ground {of_sheet(sheet, 'equipment-ground')}", f"length {length}")
