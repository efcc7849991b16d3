"""A plan that was written down as data: read back, checked, replayed."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches

from planner.errors import CaseError, Finding, Severity, VerificationError
from planner.facts.home import Home
from planner.facts.price_book import Generator, PriceBook
from planner.plan.menu import menu_of
from planner.plan.plan import CONNECTIONS, Plan
from planner.service.choice import MODULE, Choice
from planner.service.house import house_of
from planner.service.supply import supply_of

CODES: dict[str, int] = {name: code for code, name in CONNECTIONS.items()}


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
    if isinstance(data, Mapping) and data.get("case", home.id) != home.id:
        raise _wrong(where, f"it is a plan for {data['case']!r}, not for {home.id!r}")
    plan = data.get("plan", data) if isinstance(data, Mapping) else None
    if not isinstance(plan, Mapping) or not isinstance(plan.get("loads"), Mapping):
        raise _wrong(where, "it holds no plan with a generator, transfer equipment and loads")
    generator = _named(plan.get("generator"), {g.id: g for g in book.generators}, where)
    kinds = {t.id: t.kind for t in book.transfers}
    if plan.get("transfer") not in kinds:
        raise _wrong(where, f"the price book has no transfer equipment {plan.get('transfer')!r}")
    house = house_of(home)
    if home.fuel not in generator.ratings:
        raise _wrong(where, f"{generator.label} has no rating on {home.fuel}")
    menu = menu_of(house, book, generator, kinds[str(plan["transfer"])])
    if menu is None:
        raise _wrong(where, "no transfer equipment of that kind suits generator and service")
    try:
        return Plan(menu, supply_of(house, generator, book),
                    _choice(plan["loads"], house.ids, book, where))
    except (VerificationError, ValueError) as problem:
        raise _wrong(where, f"this home cannot have it: {problem}") from problem


def _choice(loads: Mapping[str, object], ids: tuple[str, ...], book: PriceBook, where: str
            ) -> Choice:
    findings = [_finding(where, f"no word about load {one!r}") for one in ids if one not in loads]
    findings += [_finding(where, f"the home has no load {one!r}", _hint(one, ids))
                 for one in loads if one not in ids]
    starters = {starter.id: place + 1 for place, starter in enumerate(book.soft_starters)}
    connection, soft, turns = [], [], []
    for i, load_id in enumerate(ids):
        entry = loads.get(load_id)
        part: Mapping[str, object] = entry if isinstance(entry, Mapping) else {}
        how, starter, priority = (part.get("connection"), part.get("soft_starter"),
                                  part.get("priority"))
        if load_id in loads and how not in CODES:
            findings.append(_finding(where, f"{load_id} is {how!r}, not direct, module or off"))
        if starter is not None and starter not in starters:
            findings.append(_finding(where, f"the price book has no soft starter {starter!r}"))
        if how == "module" and (not isinstance(priority, int) or isinstance(priority, bool)):
            findings.append(_finding(where, f"{load_id} takes turns but has no priority"))
        connection.append(CODES.get(str(how), MODULE))
        soft.append(starters.get(str(starter), 0) if starter is not None else 0)
        if connection[-1] == MODULE:
            turns.append((priority if isinstance(priority, int) else 0, i))
    places = [place for place, _ in turns]
    if not findings and len(set(places)) < len(places):
        findings.append(_finding(where, "two loads have the same priority"))
    if findings:
        message = f"{where} is no plan for this home."
        raise CaseError(message, findings)
    return Choice(tuple(connection), tuple(soft), tuple(i for _, i in sorted(turns)))


def _named(wanted: object, known: Mapping[str, Generator], where: str) -> Generator:
    if not isinstance(wanted, str) or wanted not in known:
        raise _wrong(where, f"the price book has no generator {wanted!r}",
                     _hint(str(wanted), tuple(known)))
    return known[wanted]


def _hint(wanted: str, known: tuple[str, ...]) -> str:
    close = get_close_matches(wanted, known, n=1)
    return f'Did you mean "{close[0]}"?' if close else ""


def _finding(where: str, sentence: str, remedy: str = "") -> Finding:
    return Finding(Severity.ERROR, where, f"{sentence}.", remedy)


def _wrong(where: str, sentence: str, remedy: str = "") -> CaseError:
    return CaseError(f"{where} cannot be replayed: {sentence}.{f' {remedy}' if remedy else ''}")
