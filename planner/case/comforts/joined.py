"""Which comfort the file itself puts a load to, and where it contradicts itself."""

from __future__ import annotations

from collections.abc import Collection

from planner.case.draft import Draft
from planner.case.fields import did_you_mean
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
    into: dict[str, str] = {}
    findings: list[Finding] = []
    woken = {load.id for load in home.loads if load.nature == "woken"}
    unknown = 0
    for entry in draft.comforts:
        where = draft.at_comfort(entry.id, "loads")
        for name in dict.fromkeys(entry.loads or ()):
            if name not in draft.load_ids:
                unknown += 1
                hint = did_you_mean(name, draft.load_ids) if unknown <= MOST_GUESSES else ""
                findings.append(error(where, f"there is no load {quoted(name)}.", hint or
                                      f"The file has: {some(draft.load_ids) or 'none'}."))
            elif into.get(name, entry.id) != entry.id:
                findings.append(_twice(where, name, into[name]))
            elif name in woken:
                findings.append(note(where, f"{name} runs only when another load needs it, so it "
                                     "serves no comfort.", "Take it out of the list."))
            else:
                into[name] = entry.id
    known = {*usual, *draft.comfort_ids}
    complete = len(home.loads) == len(draft.load_ids)
    for load in draft.loads:
        where = draft.at_load(load.id, "comfort")
        if load.comfort is None:
            continue
        if load.comfort == NONE:
            if load.id in into:
                findings.append(_twice(where, load.id, into[load.id]))
            into.setdefault(load.id, "")
        elif load.comfort not in known:
            if complete:
                hint = did_you_mean(load.comfort, known)
                findings.append(error(where, f"there is no comfort {quoted(load.comfort)}.", hint
                                      or f"There are: {some(sorted(known))}."))
        elif into.get(load.id, load.comfort) != load.comfort:
            findings.append(_twice(where, load.id, into[load.id]))
        elif load.id in woken:
            findings.append(note(where, "it runs only when another load needs it, so it serves no "
                                 "comfort.", "Leave it out."))
        else:
            into[load.id] = load.comfort
    return into, findings


def _twice(where: str, load_id: str, other: str) -> Finding:
    return error(where, f"{load_id} serves {quoted(other)} already; a load serves at most one "
                 "comfort.", "Take it out of one of the two.")
