"""A plan that was written down as data: read back, checked, replayed."""

from __future__ import annotations

import json
from collections.abc import Mapping
from difflib import get_close_matches
from itertools import pairwise
from typing import TypeVar

from planner.errors import CaseError, Finding, Severity, VerificationError
from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook, Transfer
from planner.plan.again import equipment
from planner.plan.menu import Menu
from planner.plan.plan import CONNECTIONS, Plan
from planner.plan.schema import SCHEMA
from planner.quoting import MOST_QUOTED, quoted
from planner.service.choice import MODULE, OFF, Choice
from planner.service.house import house_of

Part = TypeVar("Part", Generator, Transfer)
NAMES = {"generator": "generator", "transfer": "transfer equipment"}
CODES: dict[str, int] = {name: code for code, name in CONNECTIONS.items()}


def plan_data(text: str, where: str) -> object:
    """Parse the text of a saved plan.

    Parameters
    ----------
    text : str
        JSON, as `planner plan --json` writes it.
    where : str
        Name of the file, for messages.

    Raises
    ------
    CaseError
        It is not JSON, or holds a number that is none.
    """
    try:
        return json.loads(text, parse_constant=_no_number)
    except RecursionError:
        sentence = "it goes too deep: brackets within brackets"
    except json.JSONDecodeError as problem:
        sentence = f"this is not JSON: {problem.msg}, line {problem.lineno}"
    except ValueError as problem:  # a constant that is none, or thousands of digits
        said = str(problem)
        sentence = said if said.startswith('"') else "a number of it has thousands of digits"
    raise _wrong(where, sentence)


def _no_number(name: str) -> float:
    raise ValueError(f'"{name}" is no number of JSON')


def saved_plan(data: object, home: Home, book: PriceBook, where: str) -> Plan:
    """Read the choice of a plan, as `planner plan --json` writes it, and replay it.

    Everything else in the data is worked out again: a plan cannot be shown on its word.

    Parameters
    ----------
    data : object
        Parsed JSON: a plan, or an object that holds one under ``plan``.
    home, book : Home, PriceBook
        What the plan is for.
    where : str
        Name of the file, for messages.

    Raises
    ------
    CaseError
        If the data is no plan for this home and price book, or the replay refuses it.
    """
    plan = data.get("plan", data) if isinstance(data, Mapping) else None
    if not isinstance(data, Mapping) or not isinstance(plan, Mapping):
        raise _wrong(where, "it holds no plan with a generator, transfer equipment and loads")
    schema = data.get("schema", 1)
    if not isinstance(schema, int) or not 1 <= schema <= SCHEMA:
        raise _wrong(f"{where}: schema",
                     f"{quoted(schema)} is no version of the shape from 1 to {SCHEMA}")
    if data.get("case", home.id) != home.id:
        what = f"it is a plan for {quoted(data['case'])}, not for {quoted(home.id)}"
        raise _wrong(f"{where}: case", what)
    loads = plan.get("loads")
    if not isinstance(loads, Mapping):
        raise _wrong(f"{where}: loads", f"{quoted(loads)} stands where the loads are expected")
    generator = _known(plan, "generator", {g.id: g for g in book.generators}, where)
    transfer = _known(plan, "transfer", {t.id: t for t in book.transfers}, where)
    house = house_of(home)
    if home.fuel not in generator.ratings:
        raise _wrong(f"{where}: generator", f"{generator.label} has no rating on {home.fuel}")
    site = plan.get("site", "")
    found = equipment(house, book, generator, transfer.kind, site if isinstance(site, str) else "")
    if isinstance(found, str):
        raise _wrong(f"{where}: generator", f"{generator.label} cannot stand here: {found}")
    menu, supply = found
    try:
        return Plan(menu, supply, _choice(loads, menu, where))
    except (VerificationError, ValueError) as problem:
        raise _wrong(f"{where}: loads", f"this home cannot have it: {problem}") from problem


def _choice(loads: Mapping[str, object], menu: Menu, where: str) -> Choice:
    ids, book = menu.house.ids, menu.book
    known = frozenset(ids)
    findings = [_finding(f"{where}: loads", f"no word about load {quoted(one)}")
                for one in ids if one not in loads]
    findings += [_finding(f"{where}: loads", f"the home has no load {quoted(one)}",
                          _hint(one, ids)) for one in loads if one not in known]
    starters = {starter.id: number for number, starter in enumerate(book.soft_starters, start=1)}
    connection, soft, turns, sensing = [], [], [], set()
    for i, load_id in enumerate(ids):
        entry = loads.get(load_id, {"connection": "off"})
        part: Mapping[str, object] = entry if isinstance(entry, Mapping) else {}
        here = f"{where}: load {load_id}"
        how, starter, priority = (part.get("connection"), part.get("soft_starter"),
                                  part.get("priority"))
        code = CODES.get(how) if isinstance(how, str) else None
        if code is None:
            findings.append(_finding(f"{here}: connection",
                                     f"{quoted(how)} is not direct, module, by hand or off"))
        number = starters.get(starter) if isinstance(starter, str) else None
        if starter is not None and number is None:
            findings.append(_finding(f"{here}: soft_starter",
                                     f"the price book has no soft starter {quoted(starter)}"))
        turn = priority if isinstance(priority, int) and not isinstance(priority, bool) else None
        if code == MODULE and turn is None:
            findings.append(_finding(f"{here}: priority",
                                     "it takes turns but has no priority" if priority is None
                                     else f"{quoted(priority)} is no priority"))
        connection.append(MODULE if code is None else code)
        soft.append(number or 0)
        if connection[-1] == MODULE:
            turns.append((turn or 0, i))
            kind = menu.sensing_kind[i]
            if kind is not None and part.get("module") == kind.id:
                sensing.add(i)
    kept_open = _kept_open(loads, connection, menu, findings, where)
    if not findings:
        findings += _taken_twice(turns, ids, where)
    if findings:
        message = f"{where} is no plan for this home."
        raise CaseError(message, findings)
    return Choice(tuple(connection), tuple(soft), tuple(i for _, i in sorted(turns)),
                  frozenset(sensing), kept_open)


def _kept_open(
    loads: Mapping[str, object], connection: list[int], menu: Menu, findings: list[Finding],
    where: str,
) -> frozenset[int]:
    """Read which loads are off by a module that stays open: those that have one."""
    known, found = [module.id for module in menu.book.modules], set()
    for i, load_id in enumerate(menu.house.ids):
        part = loads.get(load_id)
        module = part.get("module") if isinstance(part, Mapping) else None
        if connection[i] == OFF and module is not None:
            found.add(i)
            if module not in known:
                findings.append(_finding(f"{where}: load {load_id}: module", "the price book has "
                                         f"no shedding module {quoted(module)}"))
    return frozenset(found)


def _taken_twice(
    turns: list[tuple[int, int]], ids: tuple[str, ...], where: str
) -> list[Finding]:
    return [_finding(f"{where}: load {ids[later]}: priority",
                     f"load {ids[earlier]} has the same priority")
            for (first, earlier), (second, later) in pairwise(sorted(turns)) if first == second]


def _known(
    plan: Mapping[str, object], key: str, known: Mapping[str, Part], where: str
) -> Part:
    wanted = plan.get(key)
    if not isinstance(wanted, str) or wanted not in known:
        raise _wrong(f"{where}: {key}", f"the price book has no {NAMES[key]} {quoted(wanted)}",
                     _hint(wanted, tuple(known)) if isinstance(wanted, str) else "")
    return known[wanted]


def _hint(wanted: str, known: tuple[str, ...]) -> str:
    close = get_close_matches(wanted[:MOST_QUOTED], known, n=1)
    return f'Did you mean "{close[0]}"?' if close else ""


def _finding(where: str, sentence: str, remedy: str = "") -> Finding:
    return Finding(Severity.ERROR, where, f"{sentence}.", remedy)


def _wrong(where: str, sentence: str, remedy: str = "") -> CaseError:
    message = f"{where.partition(': ')[0]} cannot be replayed."
    return CaseError(message, [_finding(where, sentence, remedy)])
