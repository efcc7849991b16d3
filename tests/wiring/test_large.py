"""Homes with thousands of relations: told as for small ones, and in seconds."""

from __future__ import annotations

import time

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.facts.home import Panel
from planner.wiring import check_wiring, exclusions, order_pairs, requires_closure
from planner.wiring.cycles import MOST_STEPS, circles, in_words
from planner.wiring.reach import reached
from planner.wiring.relations import order_graph, requires_graph
from tests.homes import home, load

MANY = 1500
IDS = [f"l-{number}" for number in range(MANY)]
LARGE = (Panel("main", 100.0),)
LETTERS = st.lists(st.tuples(st.sampled_from("abcdef"), st.sampled_from("abcdef")), max_size=12)


def house(requires=lambda _: (), not_with=lambda _: (), **changes):
    """A home of many small loads."""
    return home(*(load(name, 0.01, requires=tuple(requires(i)), not_with=tuple(not_with(i)))
                  for i, name in enumerate(IDS)), panels=LARGE, **changes)


def quickly(act, *arguments):
    """Do something that must not take long, and give what comes of it."""
    start_s = time.perf_counter()
    found = act(*arguments)
    assert time.perf_counter() - start_s < 10.0  # a second on an idle machine; cubic it was minutes
    return found


def test_a_circle_of_many_loads_is_named_shortly():
    """One finding with the first steps, how many are left out, and the step that closes it."""
    found = quickly(check_wiring, house(lambda i: [IDS[(i + 1) % MANY]]))
    assert [one.where for one in found] == ["load l-0: requires"]
    assert found[0].sentence == (
        "requires goes in a circle: l-0 requires l-1, l-1 requires l-2, l-2 requires l-3, "
        "l-3 requires l-4, l-4 requires l-5, and so on through 1,495 more, l-1499 requires l-0.")


def test_a_chain_of_many_loads_is_sound():
    """The first needs all of the others; no step goes down a stack of calls."""
    chain = house(lambda i: IDS[i + 1:i + 2])
    assert quickly(check_wiring, chain) == ()
    closure = quickly(requires_closure, chain)
    assert closure["l-0"] == frozenset(IDS[1:])
    assert closure[IDS[-1]] == frozenset()


def test_a_conflict_at_the_end_of_a_chain_is_said_where_it_begins():
    """The last excludes the first: one finding, not one for each load on the way."""
    found = quickly(check_wiring, house(lambda i: IDS[i + 1:i + 2],
                                        lambda i: [IDS[0]] if i == MANY - 1 else []))
    assert [(one.where, one.sentence) for one in found] == [
        ("load l-0: requires", "requires l-1499 and is not_with it.")]


def test_many_pairs_are_checked_quickly():
    """Forty pairs to a load, of exclusions and of the order."""
    apart = house(not_with=lambda i: IDS[i + 1:i + 40])
    assert quickly(check_wiring, apart) == ()
    assert len(quickly(exclusions, apart)) > 50_000
    ordered = house(never_before=tuple((IDS[j], IDS[i]) for i in range(MANY)
                                       for j in range(i + 1, min(MANY, i + 30))))
    assert quickly(check_wiring, ordered) == ()
    assert len(quickly(order_pairs, ordered)) == MANY * (MANY - 1) // 2


def test_what_a_load_needs_is_counted_where_it_is_much():
    """Names of 1,499 loads are no sentence."""
    loads = [load(name, 0.01, requires=tuple(IDS[i + 1:i + 2]),
                  allowed=frozenset({"direct"} if i == 0 else {"module"}))
             for i, name in enumerate(IDS)]
    found = quickly(check_wiring, home(*loads, panels=LARGE))
    assert len(found) == 1
    assert "and 1,479 more, which may not be" in found[0].sentence
    assert len(str(found[0])) < 700


@given(LETTERS)
def test_what_is_reached_is_what_the_library_reaches(edges):
    """For any graph: the closure that keeps a node's way back to itself."""
    graph = nx.DiGraph()
    graph.add_nodes_from("abcdef")
    graph.add_edges_from(edges)
    closure = nx.transitive_closure(graph)
    assert reached(graph) == {node: frozenset(closure.successors(node)) for node in graph}


@given(LETTERS)
def test_a_circle_is_a_shortest_one(edges):
    """One for every group, from the node that was there first, and no shorter way around."""
    graph = nx.DiGraph()
    graph.add_nodes_from("abcdef")
    graph.add_edges_from(edges)
    found = list(circles(graph))
    groups = [group for group in nx.strongly_connected_components(graph)
              if len(group) > 1 or any(graph.has_edge(one, one) for one in group)]
    assert sorted(min(group) for group in groups) == [circle[0] for circle in found]
    for circle in found:
        assert all(graph.has_edge(*step) for step in zip(circle, (*circle[1:], circle[0]),
                                                         strict=True))
        lengths = [nx.shortest_path_length(graph, other, circle[0]) + 1
                   for other in graph.successors(circle[0]) if nx.has_path(graph, other, circle[0])]
        assert len(circle) == min(lengths)


@given(LETTERS, LETTERS)
def test_conflicts_are_those_of_the_definition_where_they_begin(requires, apart):
    """Brute force: a pair among a load and its needs, and of no need of it that leads not back."""
    needs = {one: tuple(sorted({b for a, b in requires if a == one})) for one in "abcdef"}
    house_ = home(*(load(one, 1.0, requires=needs[one],
                         not_with=tuple({b for a, b in apart if a == one != b}))
                    for one in "abcdef"), panels=LARGE)
    closure = requires_closure(house_)
    expected = set()
    for one in "abcdef":
        ahead = [need for need in needs[one] if one not in closure[need] and need != one]
        whole = {one}.union(*({need, *closure[need]} for need in ahead))
        for pair in exclusions(house_):
            if pair <= whole and not any(pair <= {need, *closure[need]} for need in ahead):
                expected.add((one, frozenset(pair)))
    said = set()
    for finding in check_wiring(house_):
        if "not_with" in finding.sentence and "requires" in finding.where:
            one = finding.where.removeprefix("load ").removesuffix(": requires")
            words = finding.sentence.replace(",", "").split()
            names = [words[1], words[3] if words[2] == "and" and words[3] in needs else one]
            said.add((one, frozenset(names)))
    assert said == expected


@pytest.mark.parametrize("length", [1, 2, MOST_STEPS, MOST_STEPS + 1, 50])
def test_a_circle_in_words_has_its_ends(length):
    """Up to six steps all of them; of more the first five and the last."""
    said = in_words(tuple(f"n{i}" for i in range(length)), "feeds")
    assert said.startswith("n0 feeds n")
    assert said.endswith(f"n{length - 1} feeds n0")
    assert said.count(" feeds ") == min(length, MOST_STEPS)


def test_graphs_have_the_loads_as_nodes():
    """In the order of the file, also of loads without any relation."""
    small = home(load("b", 1.0), load("a", 1.0))
    assert list(requires_graph(small)) == list(order_graph(small)) == ["b", "a"]
