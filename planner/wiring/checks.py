"""Checks of the wiring: each is a function from a home to its findings."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterator, Mapping

import networkx as nx

from planner.errors import Finding, Severity
from planner.facts.home import MUST_RUN_RANK, Home, Load
from planner.quoting import quoted, some
from planner.wiring.cycles import circles, in_words
from planner.wiring.panels import panel_rows
from planner.wiring.relations import (
    exclusions,
    order_graph,
    requires_closure,
    requires_graph,
    stage_pairs,
)


def check_wiring(home: Home) -> tuple[Finding, ...]:
    """Run every check of the wiring and return all findings, errors first."""
    found = [finding for check in CHECKS for finding in check(home)]
    return tuple(sorted(found, key=lambda one: list(Severity).index(one.severity)))


def panels_hang_on_known_panels(home: Home) -> Iterator[Finding]:
    """Every panel and every load names a panel that exists."""
    known = [panel.id for panel in home.panels]
    named = [(f"panel {panel.id}: fed_from", panel.fed_from) for panel in home.panels]
    named += [(f"load {load.id}: panel", load.panel) for load in home.loads]
    for where, name in named:
        if name is not None and name not in known:
            close = difflib.get_close_matches(name, known, n=1)
            remedy = f'Did you mean "{close[0]}"?' if close else f"Panels are {some(known)}."
            yield _error(where, f"there is no panel {quoted(name)}.", remedy)


def panels_form_a_tree(home: Home) -> Iterator[Finding]:
    """No panel feeds itself, and some panel hangs on the service."""
    graph = nx.DiGraph()
    graph.add_nodes_from(panel.id for panel in home.panels)
    graph.add_edges_from((panel.fed_from, panel.id) for panel in home.panels if panel.fed_from)
    for circle in circles(graph):
        yield _error(f"panel {circle[0]}: fed_from",
                     f"panels feed one another in a circle: {in_words(circle, 'feeds')}.",
                     "Leave fed_from out for the panel that the service feeds.")


def feeders_carry_their_loads(home: Home) -> Iterator[Finding]:
    """No single load draws more than a feeder above it; no panel outgrows the one that feeds it."""
    amperes = {load.id: load.running_a for load in home.loads}
    for row in panel_rows(home):
        for load_id in row.load_ids:
            if amperes[load_id] > row.feeder_a:
                yield _error(f"load {load_id}",
                             f"draws {amperes[load_id]:.1f} A, but panel {row.panel_id} carries "
                             f"{row.feeder_a:g} A.", "Check its running value and its panel.")
    feeders = {panel.id: panel.feeder_a for panel in home.panels}
    for panel in home.panels:
        above_a = feeders.get(panel.fed_from or "", home.service_a)
        if panel.feeder_a > above_a:
            source = f"panel {panel.fed_from}" if panel.fed_from else "the service"
            yield Finding(Severity.NOTE, f"panel {panel.id}: feeder",
                          f"{panel.feeder_a:g} A is fed from {source} of {above_a:g} A; "
                          "the smaller of the two limits it.")


def requires_has_no_circle(home: Home) -> Iterator[Finding]:
    """No load requires itself, directly or through others."""
    for circle in circles(requires_graph(home)):
        yield _error(f"load {circle[0]}: requires",
                     f"requires goes in a circle: {in_words(circle, 'requires')}.",
                     "Keep only the direction in which one wakes the other.")


def what_is_required_may_run_with_it(home: Home) -> Iterator[Finding]:
    """Nothing that a load needs excludes the load, or another thing that it needs.

    Each conflict is said of the load where it begins, not of all that need that load in turn.
    """
    for load in home.loads:
        if load.id in load.not_with:
            yield _error(f"load {load.id}: not_with", "a load is not_with itself.", "Take it out.")
    closure = requires_closure(home)
    partners: dict[str, set[str]] = {load.id: set() for load in home.loads}
    for one, other in map(tuple, exclusions(home)):
        partners.setdefault(one, set()).add(other)
        partners.setdefault(other, set()).add(one)
    for load in home.loads:
        for pair in sorted(_new_conflicts(load, closure, partners)):
            rest = [one for one in pair if one != load.id]
            what = (f"requires {rest[0]} and is not_with it." if len(rest) == 1 else
                    f"requires {pair[0]} and {pair[1]}, which are not_with each other.")
            yield _error(f"load {load.id}: requires", what, "Drop one of the two.")


def _new_conflicts(
    load: Load, closure: Mapping[str, frozenset[str]], partners: Mapping[str, set[str]]
) -> Iterator[tuple[str, str]]:
    """Pairs among a load and its needs that exclude each other, and of none of its needs alone."""
    needs = [need for need in load.requires if need in closure and load.id not in closure[need]]
    parts: list[frozenset[str]] = []
    met: set[str] = set()
    for need in (*sorted(needs, key=lambda one: (-len(closure[one]), one)), load.id):
        if need in met:
            continue  # a need of another need: all of it has been met
        part = closure[need] | {need} if need != load.id else frozenset({need})
        for one in part - met:
            for other in partners[one] & met:
                if not any(one in whole and other in whole for whole in (*parts, part)):
                    yield (one, other) if one < other else (other, one)
        met |= part
        parts.append(part)


def what_is_required_may_be_on(home: Home) -> Iterator[Finding]:
    """Whatever a load needs may be connected as firmly as the load itself.

    A load that takes turns needs loads that are connected somehow; a load that is always connected
    needs loads that may always be connected.
    """
    never_on = {load.id for load in home.loads if not load.allowed & {"direct", "module"}}
    never_direct = {load.id for load in home.loads if "direct" not in load.allowed}
    closure = requires_closure(home)
    for load in home.loads:
        takes_turns = "module" in load.allowed
        lacking = sorted(closure[load.id] & (never_on if takes_turns else never_direct))
        if not lacking or load.allowed == frozenset({"off"}):
            continue
        names = some(lacking)
        sentence = (f"requires {names}, which may only be off." if takes_turns else
                    f"is always connected and requires {names}, which may not be.")
        remedy = f"Allow {names} a connection, or drop the requirement."
        if load.must_run or "off" not in load.allowed:
            yield _error(f"load {load.id}: requires", sentence, remedy)
        else:
            yield Finding(Severity.WARNING, f"load {load.id}: requires",
                          f"{sentence} It can only be off as well.", remedy)


def never_before_has_no_circle(home: Home) -> Iterator[Finding]:
    """Hold the pairs of `never_before`, with the stages of rooms, to leaving some order."""
    graph = order_graph(home)
    if home.never_before:
        graph.add_edges_from(stage_pairs(home))
    for circle in circles(graph):
        yield _error("wishes: never_before",
                     f"no order is possible: {in_words(circle, 'stands before')}.",
                     "Take one of these pairs out.")


def never_before_agrees_with_importance(home: Home) -> Iterator[Finding]:
    """With the order by importance, no pair puts a less important load first.

    Every circle that mixes pairs with ranks holds such a pair, so looking at pairs is enough.
    """
    rank = {load.id: load.rank for load in home.loads}
    turns = {load.id for load in home.loads if "module" in load.allowed}
    for second, first in home.never_before:
        if not {first, second} <= rank.keys():
            continue
        if first not in turns or home.load(second).allowed <= {"off"}:
            idle = second if first in turns else first
            yield Finding(Severity.NOTE, "wishes: never_before",
                          f"{second} after {first} has no effect: {idle} never takes turns.")
        elif second not in turns:
            yield Finding(Severity.NOTE, "wishes: never_before",
                          f"{first} cannot take turns: {second}, which must stand after it, is "
                          "always connected and so ahead of all that do.",
                          f"Let {second} take turns, or take the pair out.")
        elif home.order_rule == "importance" and rank[second] > rank[first]:
            yield _error("wishes: never_before",
                         f"no order is possible: {first} stands before {second} by this pair, "
                         f"{second} ({_said(rank[second])}) stands before {first} "
                         f"({_said(rank[first])}) by importance.",
                         'Take the pair out, change an importance, or write order = "free".')


CHECKS: tuple[Callable[[Home], Iterator[Finding]], ...] = (
    panels_hang_on_known_panels,
    panels_form_a_tree,
    feeders_carry_their_loads,
    requires_has_no_circle,
    what_is_required_may_run_with_it,
    what_is_required_may_be_on,
    never_before_has_no_circle,
    never_before_agrees_with_importance,
)


def _said(rank: int) -> str:
    return "must run" if rank == MUST_RUN_RANK else f"importance {rank}"


def _error(where: str, sentence: str, remedy: str) -> Finding:
    return Finding(Severity.ERROR, where, sentence, remedy)
