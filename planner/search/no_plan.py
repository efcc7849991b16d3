"""Why nothing in the price book serves a home: the rule that binds, with its numbers, and a remedy.

Asks of each size the most that can be done for it: everything that may take turns does, every motor
has the strongest soft starter that fits, the least that the code counts is always connected.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planner.errors import Finding, NoPlanError, Severity
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.code import direct_sheet
from planner.search.problem import Problem
from planner.service.choice import DIRECT, MODULE, OFF, Choice
from planner.service.house import KW_ROW
from planner.service.replay import Refusal, chosen_starts, replay
from planner.tolerances import carries, meets

FIRMNESS = {OFF: 0, MODULE: 1, DIRECT: 2}


def why_no_plan(home: Home, book: PriceBook, problems: Sequence[Problem]) -> NoPlanError:
    """Explain that no generator of the book serves a home.

    Returns
    -------
    NoPlanError
        Its findings name, for the largest sizes, the rule that refuses and what would help.
    """
    if not problems:
        return _nothing_suits(home, book)
    largest = sorted(problems, key=lambda p: -p.supply.derated_kw)[:3]
    findings = [reason for problem in largest for reason in reasons_of(problem)]
    name = largest[0].menu.generator.label
    if not findings:
        message = (f"No plan for {home.label} was found in {book.label}, and no single rule "
                   "forbids one: the must-run loads get in each other's way. Make one of them "
                   "always connected, or give up that it must run.")
        return NoPlanError(message)
    message = (f"Nothing in {book.label} can serve {home.label}: even the {name} "
               f"({largest[0].supply.derated_kw:.1f} kW here) is refused.")
    return NoPlanError(message, findings)


def reasons_of(problem: Problem) -> tuple[Finding, ...]:
    """List the rules that refuse one size, with numbers and the nearest remedy of each."""
    choice = most_helped(problem)
    where = problem.menu.generator.label
    found = (*_blocked(problem, where), *_unsupported(problem, choice, where),
             *_must_run_starts(problem, choice, where), *_code(problem, choice, where))
    if _too_loose(problem, choice.connection):
        return found  # the replay cannot play it
    return (*found, *_direct_loads(problem, choice, where), *_late(problem, choice, where))


def most_helped(problem: Problem) -> Choice:
    """Choose what asks least of a generator: turns wherever allowed, the strongest soft starters.

    Must-run loads come first in the order, the rest by how little they draw.
    """
    menu, house = problem.menu, problem.house
    connection = []
    for i in range(house.count):
        open_ways = [how for how in (MODULE, DIRECT, OFF) if menu.allowed[i, how]]
        needed_firmly = house.closure[:, i].any() and menu.allowed[i, DIRECT]
        connection.append(DIRECT if needed_firmly else (open_ways or [DIRECT])[0])
    for _ in range(house.count):
        for i, _k in _too_loose(problem, connection):
            looser = [how for how in (MODULE, OFF) if menu.allowed[i, how]
                      and FIRMNESS[how] < FIRMNESS[connection[i]]]
            connection[i] = (looser or [connection[i]])[0]
    soft = [min((s for s in range(menu.soft_cost.shape[1]) if np.isfinite(menu.soft_cost[i, s])),
                key=lambda s: (problem.supply.start_kva[i, s], s)) for i in range(house.count)]
    modules = [i for i, how in enumerate(connection) if how == MODULE]
    order = sorted(modules, key=lambda i: (not house.must_run[i], house.draw[KW_ROW, i], i))
    return Choice(tuple(connection), tuple(soft), tuple(order))


def _too_loose(problem: Problem, connection: Sequence[int]) -> list[tuple[int, int]]:
    """Pairs of a load and one that it needs which is not connected as firmly."""
    return [(int(i), int(k)) for i, k in np.argwhere(problem.house.closure)
            if FIRMNESS[connection[i]] > FIRMNESS[connection[k]]]


def _nothing_suits(home: Home, book: PriceBook) -> NoPlanError:
    burning = [g for g in book.generators if home.fuel in g.ratings]
    if not burning:
        message = f"No generator of {book.label} has a rating on {home.fuel}."
        return NoPlanError(f"{message} Offer one, or change the fuel on site.")
    ratings = ", ".join(f"{t.rating_a:.0f} A" for t in book.transfers
                        if t.kind in home.transfer_kinds) or "none"
    kinds = " or ".join(sorted(home.transfer_kinds))
    message = (f"No {kinds} transfer equipment of {book.label} carries the {home.service_a:.0f} A "
               f"service and a generator (offered: {ratings}). Offer one of a higher rating.")
    return NoPlanError(message)


def _finding(where: str, sentence: str, remedy: str) -> Finding:
    return Finding(Severity.ERROR, where, sentence, remedy)


def _blocked(problem: Problem, where: str) -> list[Finding]:
    """Loads whose wishes and the price book leave no connection at all."""
    found = []
    for i in np.flatnonzero(~problem.menu.allowed.any(axis=1)):
        load = problem.house.home.loads[i]
        found.append(_finding(
            f"{where}: {load.label}", "it may only take turns, and no shedding module of the book "
            f"suits {load.running_a:.0f} A at {load.volts} V.",
            "Offer a larger module, or allow it to be always connected."))
    return found


def _unsupported(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    """Loads that cannot have what they need connected as firmly as themselves."""
    loads = problem.house.home.loads
    return [_finding(
        f"{where}: {loads[i].label}",
        f"it needs {loads[k].label}, which cannot be connected as firmly with what the book "
        "offers.", f"Offer a shedding module that suits {loads[i].label}, or allow "
        f"{loads[k].label} to be always connected.")
        for i, k in _too_loose(problem, choice.connection)]


def _must_run_starts(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    found = []
    supply, house = problem.supply, problem.house
    start_kw, start_kva = chosen_starts(supply, choice)
    for i in np.flatnonzero(house.must_run):
        load = house.home.loads[i]
        if not supply.can_start(float(start_kva[i])):
            dip = start_kva[i] * supply.generator.reactance / supply.kva
            found.append(_finding(
                f"{where}: {load.label}",
                f"its start asks {start_kva[i]:.1f} kVA, {supply.startable_kva:.1f} kVA can be "
                f"started at a dip of {100 * house.home.limits.allowed_dip:.0f} %.",
                f"Allow a dip of {100 * dip / (1 + dip):.0f} %, fit a stronger soft starter, or "
                "give up that it must run."))
        elif not meets(start_kw[i], supply.short_time_kw):
            found.append(_finding(
                f"{where}: {load.label}",
                f"its start draws {start_kw[i]:.1f} kW, {supply.short_time_kw:.1f} kW can be given "
                "for a start.", "Fit a soft starter, or give up that it must run."))
        elif not meets(house.draw[KW_ROW, i], supply.capacity_kw):
            found.append(_finding(
                f"{where}: {load.label}",
                f"it draws {load.running_kw:.1f} kW, {supply.capacity_kw:.1f} kW can be given.",
                "Offer a larger generator, or give up that it must run."))
    return found


def _direct_loads(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    outcome = replay(problem.house, problem.supply, choice)
    if isinstance(outcome, Refusal):
        return [_finding(where, f"{outcome}.", "Let one of them take turns, move a circuit to the "
                         "utility side, or offer a larger generator.")]
    return []


def _code(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    sheet = direct_sheet(problem.menu, choice)
    limit_va = 1000.0 * problem.supply.derated_kw
    if carries(problem.supply.derated_kw, sheet.total_va):
        return []
    return [_finding(
        where, f"the calculated load of what must be always connected is {sheet.total_va:.0f} VA, "
        f"the generator gives {limit_va:.0f} VA here.",
        "Let more loads take turns, transfer selected circuits, or offer a larger generator.")]


def _late(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    outcome = replay(problem.house, problem.supply, choice)
    if isinstance(outcome, Refusal):
        return []
    late = [problem.house.index(load_id) for load_id in outcome.unmet]
    labels = [problem.house.home.loads[i].label for i in late]
    firm = _made_direct(problem, choice, [i for i in late if problem.menu.allowed[i, DIRECT]])
    refusal = replay(problem.house, problem.supply, firm)
    if firm != choice and isinstance(refusal, Refusal):
        return [_finding(where, f"must-run {', '.join(labels)} would wait or miss a call by turns; "
                         f"always connected, {refusal}.",
                         "Give up that one of them must run, or offer a larger generator.")]
    return [_finding(where, f"must-run {label} would wait or miss a call.",
                     "Give up that it must run, or allow it to be always connected.")
            for label in labels]


def _made_direct(problem: Problem, choice: Choice, loads: Sequence[int]) -> Choice:
    """Connect loads, and what they wake, directly."""
    woken = problem.house.closure[list(loads)].any(axis=0)
    firm = {*loads, *np.flatnonzero(woken).tolist()}
    connection = tuple(DIRECT if i in firm else how for i, how in enumerate(choice.connection))
    return Choice(connection, choice.soft_start, tuple(i for i in choice.order if i not in firm))
