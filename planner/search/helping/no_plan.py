"""Why nothing in the price book serves a home: the rules that refuse, with their numbers.

Asks of each size the most that can be done for it: everything that may take turns does, every motor
has the strongest soft starter that fits, the least that the code counts is always connected.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planner.errors import Finding, NoPlanError, NotFoundError, Severity
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.code import direct_sheet
from planner.plan.site.works import blocked_sizes
from planner.progress import OnProgress, unheard
from planner.search.limits import Stop
from planner.search.problem import Problem
from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice
from planner.service.house import KW_ROW, house_of
from planner.service.module_fit import closest_reason
from planner.service.replay import Refusal, Service, replay
from planner.tolerances import carries, meets

FIRMNESS = {OFF: 0, BY_HAND: 0, MODULE: 1, DIRECT: 2}
MOST_SIZES = 3  # sizes whose rules are said, the largest first


def why_no_plan(
    home: Home, book: PriceBook, problems: Sequence[Problem], tick: OnProgress = unheard
) -> NoPlanError:
    """Explain that no generator of the book serves a home; `tick` is called while it goes on.

    Returns
    -------
    NoPlanError
        Its findings name, for the largest sizes, the rules that refuse, with their numbers.
    """
    kept_out = _kept_out(home, book)
    if not problems and kept_out:
        return NoPlanError(f"Nothing in {book.label} can stand at {home.label}.", kept_out)
    if not problems:
        return NoPlanError(_nothing_suits(home, book))
    largest = sorted(problems, key=lambda p: -p.supply.derated_kw)[:MOST_SIZES]
    findings = [reason for problem in largest for reason in reasons_of(problem, tick)]
    name = largest[0].menu.generator.label
    if not findings:
        return NoPlanError(f"No plan for {home.label} was found in {book.label}, and no single "
                           "rule forbids one: the must-run loads get in each other's way.")
    return NoPlanError(f"Nothing in {book.label} can serve {home.label}: even the {name} "
                       f"({largest[0].supply.derated_kw:.1f} kW here) is refused.",
                       [*findings, *kept_out])


def none_in_time(home: Home, book: PriceBook, stop: Stop | None) -> NotFoundError:
    """Say that a search that was stopped had found nothing yet, and what to do."""
    clock = stop is not None and stop.ended == "clock" and stop.seconds is not None
    when = f"within {stop.seconds:g} s" if clock and stop else "before the search was stopped"
    do = "Allow more seconds" if clock else "Let it go on longer"
    return NotFoundError(f"No plan for {home.label} was found in {book.label} {when}; whether "
                         f"there is one is not known. {do}.")


def _kept_out(home: Home, book: PriceBook) -> list[Finding]:
    """Sizes that cannot stand at the site: those with the same reason together."""
    labels: dict[tuple[str, str], list[str]] = {}
    for generator, blocked in blocked_sizes(house_of(home), book):
        labels.setdefault((blocked.sentence, blocked.remedy), []).append(generator.label)
    return [Finding(Severity.ERROR, f"{_listed(sizes)}: site", f"{sentence}.", remedy)
            for (sentence, remedy), sizes in labels.items()]


def _listed(labels: Sequence[str]) -> str:
    if len(labels) <= MOST_SIZES:
        return ", ".join(labels)
    return f"{labels[0]} and {len(labels) - 1} other sizes"


def reasons_of(problem: Problem, tick: OnProgress = unheard) -> tuple[Finding, ...]:
    """List the rules that refuse one size, with their numbers; `tick` is called meanwhile."""
    tick(0.0)
    choice = most_helped(problem, tick)
    where = problem.menu.generator.label
    found = (*_blocked(problem, where), *_unsupported(problem, choice, where),
             *_must_run_starts(problem, choice, where), *_code(problem, choice, where))
    if too_loose(problem, choice.connection):
        return found  # the replay cannot play it
    tick(0.0)
    return (*found, *_direct_loads(problem, choice, where), *_late(problem, choice, where))


def most_helped(problem: Problem, tick: OnProgress = unheard) -> Choice:
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
        tick(0.0)
        for i, _k in too_loose(problem, connection):
            looser = [how for how in (MODULE, OFF) if menu.allowed[i, how]
                      and FIRMNESS[how] < FIRMNESS[connection[i]]]
            connection[i] = (looser or [connection[i]])[0]
    soft = [min((s for s in range(menu.soft_cost.shape[1]) if np.isfinite(menu.soft_cost[i, s])),
                key=lambda s: (problem.supply.start_kva[i, s], s)) for i in range(house.count)]
    modules = [i for i, how in enumerate(connection) if how == MODULE]
    draw_kw = house.draw[:, KW_ROW, :].max(axis=0)
    order = sorted(modules, key=lambda i: (not house.must_run[i], draw_kw[i], i))
    return Choice(tuple(connection), tuple(soft), tuple(order))


def too_loose(problem: Problem, connection: Sequence[int]) -> list[tuple[int, int]]:
    """Pairs of a load and one that it needs which is not connected as firmly."""
    return [(int(i), int(k)) for i, k in np.argwhere(problem.house.closure)
            if FIRMNESS[connection[i]] > FIRMNESS[connection[k]]]


def _nothing_suits(home: Home, book: PriceBook) -> str:
    if not any(home.fuel in generator.ratings for generator in book.generators):
        return f"No generator of {book.label} has a rating on {home.fuel}."
    ratings = ", ".join(f"{t.rating_a:.0f} A" for t in book.transfers
                        if t.kind in home.transfer_kinds) or "none"
    kinds = " or ".join(sorted(home.transfer_kinds))
    return (f"No {kinds} transfer equipment of {book.label} carries the {home.service_a:.0f} A "
            f"service and a generator (offered: {ratings}).")


def _finding(where: str, sentence: str) -> Finding:
    return Finding(Severity.ERROR, where, sentence)


def _blocked(problem: Problem, where: str) -> list[Finding]:
    """Loads whose wishes and the price book leave no connection at all."""
    found = []
    for i in np.flatnonzero(~problem.menu.allowed.any(axis=1)):
        load = problem.house.home.loads[i]
        reason = closest_reason(load, problem.menu.book, problem.house.home.fault_current_a)
        found.append(_finding(
            f"{where}: {load.label}", "it may only take turns, and no shedding module of the book "
            f"suits it{f'. {reason}' if reason else ''}."))
    return found


def _unsupported(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    """Loads that cannot have what they need connected as firmly as themselves."""
    loads = problem.house.home.loads
    return [_finding(
        f"{where}: {loads[i].label}",
        f"it needs {loads[k].label}, which cannot be connected as firmly with what the book "
        "offers.")
        for i, k in too_loose(problem, choice.connection)]


def _must_run_starts(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    found = []
    supply, house = problem.supply, problem.house
    for i in np.flatnonzero(house.must_run):
        load, s = house.home.loads[i], choice.soft_start[i]
        start_kw, start_kva = float(supply.start_kw[i, s]), float(supply.start_kva[i, s])
        draw_kw = float(house.draw[:, KW_ROW, i].max())
        if not supply.can_start(start_kva):
            found.append(_finding(
                f"{where}: {load.label}",
                f"its start asks {start_kva:.1f} kVA, {supply.startable_kva:.1f} kVA can be "
                f"started at a dip of {100 * house.home.limits.allowed_dip:g} %."))
        elif supply.room_kw[i, s] < 0.0:
            found.append(_finding(
                f"{where}: {load.label}",
                f"its start draws {start_kw:.1f} kW, which pulls the generator down too far even "
                "with nothing else on."))
        elif not meets(draw_kw, supply.capacity_kw):
            found.append(_finding(
                f"{where}: {load.label}",
                f"it draws {draw_kw:.1f} kW, {supply.capacity_kw:.1f} kW can be given."))
    return found


def _direct_loads(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    outcome = replay(problem.house, problem.supply, choice)
    if isinstance(outcome, Refusal):
        return [_finding(where, f"{outcome}.")]
    return []


def _code(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    sheet = direct_sheet(problem.menu, choice)
    limit_va = 1000.0 * problem.supply.derated_kw
    if carries(problem.supply.derated_kw, sheet.total_va):
        return []
    return [_finding(
        where, f"the calculated load of what must be always connected is {sheet.total_va:.0f} VA, "
        f"the generator gives {limit_va:.0f} VA here.")]


def _late(problem: Problem, choice: Choice, where: str) -> list[Finding]:
    """Promises and must-run loads that are not kept, each beside what is connected in this way."""
    outcome = replay(problem.house, problem.supply, choice)
    if not isinstance(outcome, Service):
        return []
    late = [problem.house.index(one.load) for one in outcome.broken if one.load]
    promises = [_finding(where, f"{one}.") for one in outcome.broken if not one.load]
    labels = [problem.house.home.loads[i].label for i in late]
    firm = made_direct(problem, choice, [i for i in late if problem.menu.allowed[i, DIRECT]])
    refusal = replay(problem.house, problem.supply, firm)
    if firm != choice and isinstance(refusal, Refusal):
        return [*promises, _finding(
            where, f"must-run {', '.join(labels)} would wait or miss a call behind a "
            f"module; always connected, {refusal}.")]
    return [*promises,
            *(_finding(where, f"must-run {label} would wait or miss a call.") for label in labels)]


def made_direct(problem: Problem, choice: Choice, loads: Sequence[int]) -> Choice:
    """Connect loads, and what they wake, always."""
    woken = problem.house.closure[list(loads)].any(axis=0)
    firm = {*loads, *np.flatnonzero(woken).tolist()}
    connection = tuple(DIRECT if i in firm else how for i, how in enumerate(choice.connection))
    return Choice(connection, choice.soft_start, tuple(i for i in choice.order if i not in firm))
