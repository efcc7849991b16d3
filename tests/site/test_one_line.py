"""The one-line of a plan: what feeds what, and nothing that nobody knows."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx
import pytest

from planner.facts.site import Site
from planner.service.choice import BY_HAND, DIRECT, OFF
from planner.site.circuits import circuits_of
from planner.site.one_line import GENERATOR, TRANSFER, UTILITY, one_line
from planner.site.sheet import site_sheet
from planner.wiring.graph import circuit_node, load_node, panel_node
from tests.homes import clock
from tests.site.places import KNOWN, PICKED, WHOLE, plan_at
from tests.site.plans import MADE, plan_called


@pytest.fixture(scope="module", params=MADE)
def plan(request):
    """Give plans of whole houses and selected circuits, small and large."""
    return plan_called(request.param)


def drawn(plan):
    """Give the graph of a plan."""
    return one_line(plan, site_sheet(plan)).graph


def test_it_is_a_tree_from_each_source(plan):
    """All that a source reaches hangs on it by one way, and nothing else is on the drawing."""
    graph = drawn(plan)
    sources = {node for node, before in graph.in_degree() if before == 0}
    assert sources == {UTILITY, GENERATOR}
    reached = [nx.descendants(graph, source) | {source} for source in sources]
    assert reached[0] | reached[1] == set(graph)
    assert all(nx.is_arborescence(graph.subgraph(nodes)) for nodes in reached)
    assert reached[0] & reached[1] == nx.descendants(graph, TRANSFER) | {TRANSFER}


def test_each_connected_load_stands_in_it_once(plan):
    """With its module and priority as the plan has them; what is off without one is not on it."""
    graph = drawn(plan)
    shown = [graph.nodes[node]["load_id"] for node in graph
             if graph.nodes[node]["kind"] == "load"]
    assert sorted(shown) == sorted(
        part.id for part in plan.loads if part.connection != "off" or part.stays_open)
    for part in plan.loads:
        node, module = load_node(part.id), f"module:{part.id}"
        if part.connection == "off" and not part.stays_open:
            assert not {node, module, circuit_node(part.id)} & set(graph)
            continue
        assert graph.nodes[node]["priority"] == part.priority
        assert graph.nodes[node]["module"] == part.module
        assert (module in graph) == (part.module is not None)
        assert (f"soft-starter:{part.id}" in graph) == (part.soft_starter is not None)
        if part.priority is not None:
            assert graph.nodes[module]["title"] == f"Priority {part.priority}"


def test_power_passes_a_contactor_and_not_a_thermostat(plan):
    """A contactor lies between breaker and load; a module in a thermostat's wire hangs beside."""
    graph = drawn(plan)
    for part in plan.loads:
        if part.module is None:
            continue
        node, module = load_node(part.id), f"module:{part.id}"
        kinds = {one.id: one.action for one in plan.menu.book.modules}
        through = module in nx.ancestors(graph, node)
        assert through == (kinds[part.module] == "contactor")
        assert through or list(graph.successors(node)) == [module]


def test_every_node_and_edge_is_in_words(plan):
    """Each node has a title and lines, each edge its wire; none is empty, none says None or nan."""
    graph = drawn(plan)
    said = [text for _, node in graph.nodes(data=True) for text in (node["title"], *node["lines"])]
    said += [wire for _, _, wire in graph.edges(data="wire")]
    assert all(text and "None" not in text and "nan" not in text.split() for text in said)
    assert all(any(graph.nodes[node]["lines"]) for node in graph
               if graph.nodes[node]["kind"] not in ("soft starter",))


def test_a_load_that_is_taken_off_is_off_the_drawing():
    """The same plan with one more load off has its breaker and its load less, and nothing else."""
    extra = clock("spare", 0.1, (1.0, 1.0), allowed=frozenset({"direct", "off"}), importance=0)
    plan = plan_at(KNOWN, transfer=PICKED, loads=(extra,))
    place = plan.menu.house.ids.index("spare")
    with_it, without = (
        drawn(replace(plan, choice=replace(plan.choice, connection=(
            *plan.choice.connection[:place], how, *plan.choice.connection[place + 1:]))))
        for how in (DIRECT, OFF))
    assert set(with_it) - set(without) == {circuit_node("spare"), load_node("spare")}
    assert not any("spare" in str(node["label"]) for _, node in without.nodes(data=True))


def test_what_the_family_switches_off_says_so():
    """A load whose breaker is opened by hand is drawn, and its breaker says who opens it."""
    extra = clock("spare", 0.1, (1.0, 1.0), allowed=frozenset({"direct", "off"}), importance=0)
    plan = plan_at(KNOWN, loads=(extra,))
    place = plan.menu.house.ids.index("spare")
    graph = drawn(replace(plan, choice=replace(plan.choice, connection=(
        *plan.choice.connection[:place], BY_HAND, *plan.choice.connection[place + 1:]))))
    assert graph.nodes[circuit_node("spare")]["lines"][0].endswith("opened by hand")
    assert graph.nodes[load_node("spare")]["connection"] == "by hand"


def test_the_feeder_is_the_one_that_is_laid():
    """Size and length are those of the plan's own feeder; without a length it is not stated."""
    plan = plan_at(KNOWN)
    lines = drawn(plan).nodes["feeder"]["lines"]
    assert plan.menu.works.feeder is not None
    assert lines[0] == f"lines {plan.menu.works.feeder.size} AWG copper"
    assert lines[-1] == "length 60 ft"
    assert drawn(plan_at(None)).nodes["feeder"]["lines"][-1] == "length not stated"


def test_what_is_not_known_is_not_stated():
    """Fault current, service conductor, breaker and what equipment withstands stay open."""
    bare = replace(WHOLE, service_rated=None, switches_neutral=None, short_circuit_a=None)
    graph = drawn(plan_at(Site(), transfer=bare, fault_current_a=None))
    assert graph.nodes[UTILITY]["lines"] == ("available fault current not stated",)
    assert graph.nodes[TRANSFER]["lines"][1:] == (
        "listed as service equipment: not stated", "switches the neutral: not stated",
        "withstands not stated in a fault")
    assert graph.edges["meter", "disconnect"]["wire"] == "not stated"
    assert "neutral bond: not stated" in graph.nodes[GENERATOR]["lines"]
    assert not graph.nodes[GENERATOR]["bonded"]


@pytest.mark.parametrize("switched", [True, False])
def test_the_neutral_is_bonded_where_the_transfer_equipment_says(switched):
    """At the generator if the neutral is switched, at the service in any case, nowhere else."""
    graph = drawn(plan_at(KNOWN, transfer=replace(WHOLE, switches_neutral=switched)))
    bonded = {node for node in graph if graph.nodes[node]["bonded"]}
    assert bonded == {TRANSFER} | ({GENERATOR} if switched else set())


def test_service_equipment_that_is_not_rated_has_a_disconnect_ahead():
    """The utility passes a service disconnect of the service's rating, bonded there."""
    plan = plan_at(KNOWN, transfer=replace(WHOLE, service_rated=False))
    graph = drawn(plan)
    assert nx.shortest_path(graph, UTILITY, TRANSFER) == [UTILITY, "meter", "disconnect", TRANSFER]
    assert graph.nodes["disconnect"]["amperes"] == plan.menu.house.home.service_a
    assert graph.nodes["disconnect"]["bonded"]


def test_breakers_are_those_of_the_panel_schedule(plan):
    """Drawing and schedule take a breaker from one rule; only lights of a floor have several."""
    graph, home = drawn(plan), plan.menu.house.home
    for place in circuits_of(home):
        node = "" if place.load is None else circuit_node(place.load.id)
        if node not in graph:
            continue
        said = graph.nodes[node]["lines"][0]
        if place.is_several:
            assert said.startswith("several circuits")
        else:
            assert said.startswith(f"{place.breaker_a:g} A, ")
            assert "not stated" not in said


def test_panels_hang_as_the_home_has_them():
    """A panel that another feeds hangs on it; circuits hang on their own panel."""
    plan = plan_called("estate")
    home, graph = plan.menu.house.home, drawn(plan)
    for panel in home.panels:
        above = TRANSFER if panel.fed_from is None else panel_node(panel.fed_from)
        assert list(graph.predecessors(panel_node(panel.id))) == [above]
    for load in home.loads:
        assert list(graph.predecessors(circuit_node(load.id))) == [panel_node(load.panel)]
