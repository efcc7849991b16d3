"""Which comfort the file itself puts a load to, and where it contradicts itself."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from planner.case.draft import Draft
from planner.case.fields import did_you_mean
from planner.case.file import ComfortEntry, LoadEntry
from planner.case.messages import error, note
from planner.errors import Finding
from planner.facts.home import Home
from planner.quoting import quoted, some

NONE = "none"
"""Written as the comfort of a load that nobody would miss."""
MOST_GUESSES = 100  # as in `planner.case.checks`


def joined(
    home: Home, draft: Draft, usual: Collection[str]
) -> tuple[dict[str, str], list[Finding]]:
    """Read which comfort each load is put to.

    Parameters
    ----------
    home : Home
        The filled loads.
    draft : Draft
        What the file says: lists of comforts, and ``comfort`` of loads.
    usual : collection of str
        Ids of the comforts that the library would make.

    Returns
    -------
    tuple
        The comfort's id by the load's, empty text for none; and the findings.
    """
    woken = frozenset(load.id for load in home.loads if load.nature == "woken")
    into: dict[str, str] = {}
    findings = [finding for entry in draft.comforts
                for finding in _listed(entry, draft, woken, into)]
    known = {*usual, *draft.comfort_ids}
    is_complete = len(home.loads) == len(draft.load_ids)
    for load in draft.loads:
        found = _named(load, draft, woken, into, known if is_complete else None)
        findings += [found] if found is not None else []
    return into, findings


def _listed(
    entry: ComfortEntry, draft: Draft, woken: Collection[str], into: dict[str, str]
) -> Iterator[Finding]:
    """Put the loads that a comfort lists to it."""
    where = draft.at_comfort(entry.id, "loads")
    names = list(dict.fromkeys(entry.loads or ()))
    unknown = [name for name in names if name not in draft.load_ids]
    for number, name in enumerate(unknown):
        hint = did_you_mean(name, draft.load_ids) if number < MOST_GUESSES else ""
        yield error(where, f"there is no load {quoted(name)}.",
                    hint or f"The file has: {some(draft.load_ids) or 'none'}.")
    for name in names:
        if into.get(name, entry.id) != entry.id:
            yield _twice(where, name, into[name])
        elif name in woken:
            yield note(where, f"{name} runs only when another load needs it, so it serves no "
                       "comfort.", "Take it out of the list.")
        elif name in draft.load_ids:
            into[name] = entry.id


def _named(
    load: LoadEntry, draft: Draft, woken: Collection[str], into: dict[str, str],
    known: Collection[str] | None,
) -> Finding | None:
    """Put a load to the comfort that it names; None for `known`: it cannot be said which are."""
    if load.comfort is None:
        return None
    where = draft.at_load(load.id, "comfort")
    wanted = "" if load.comfort == NONE else load.comfort
    if known is not None and wanted not in ("", *known):
        hint = did_you_mean(wanted, known) or f"There are: {some(sorted(known))}."
        return error(where, f"there is no comfort {quoted(wanted)}.", hint)
    if into.get(load.id, wanted) != wanted:
        return _twice(where, load.id, into[load.id])
    if load.id in woken:
        return note(where, "it runs only when another load needs it, so it serves no comfort.",
                    "Leave it out.")
    into[load.id] = wanted
    return None


def _twice(where: str, load_id: str, other: str) -> Finding:
    return error(where, f"{load_id} serves {quoted(other)} already; a load serves at most one "
                 "comfort.", "Take it out of one of the two.")
