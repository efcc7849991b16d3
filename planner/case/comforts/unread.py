"""What a file says of comforts and waits that nothing reads."""

from __future__ import annotations

from collections.abc import Iterator

from planner.case.comforts.joined import NONE
from planner.case.draft import Draft
from planner.case.filling.work import WAITING
from planner.case.messages import note, place, warning
from planner.errors import Finding
from planner.facts.home import Home
from planner.quoting import some

ROOM_KEYS = ("time_constant", "heating_set_point", "cooling_set_point")


def unread(home: Home, draft: Draft) -> Iterator[Finding]:
    """Say which waits are left out, which loads serve nothing, and what only rooms have."""
    loads = {load.id: load for load in home.loads}
    waits = [entry.id for entry in draft.loads
             if entry.wait is not None and entry.wait.magnitude > 0.0 and entry.id in loads
             and loads[entry.id].nature not in WAITING]
    if waits:
        yield note(place(draft.file, "loads", "wait"), f"it is left out for {some(sorted(waits))}:"
                   " what keeps a level catches up by itself, what is wanted by the hour does not "
                   "wait.", "Take it out.")
    said = {name for comfort in draft.comforts for name in comfort.loads or ()}
    said |= {entry.id for entry in draft.loads if entry.comfort is not None}
    woken = sorted(load.id for load in home.loads
                   if load.nature == "woken" and load.id not in said)
    if woken:
        yield note(place(draft.file, "loads", "comfort"), f"{some(woken)} run only when another "
                   "load needs them: they serve no comfort.")
    spare = sorted(entry.id for entry in draft.loads
                   if entry.comfort == NONE and entry.id in loads and not loads[entry.id].comfort)
    if spare:
        yield note(place(draft.file, "loads", "comfort"), f"{some(spare)} serve no comfort: nobody "
                   "misses them, and no plan counts them.")
    kinds = {one.id: one.kind for one in home.comforts}
    for entry in draft.comforts:
        for key in ROOM_KEYS:
            if getattr(entry, key) is not None and kinds.get(entry.id, "room") != "room":
                yield warning(draft.at_comfort(entry.id, key), "it is not read: only a room has "
                              "one.", "Leave it out.")
