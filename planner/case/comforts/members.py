"""Which loads serve which comfort: what the file says, else what the appliance library shares."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.case.comforts.joined import joined
from planner.case.draft import Draft
from planner.case.fields import did_you_mean
from planner.case.file import ComfortEntry
from planner.case.library import groups, kinds
from planner.case.messages import error
from planner.case.names import label_of
from planner.errors import Finding, Severity
from planner.facts.comfort import ComfortKind
from planner.facts.home import Home, Load
from planner.quoting import some
from planner.wiring.comforts import ALONE, KIND_OF
from planner.wiring.rooms import NOT_LIVED_IN, in_stages, rooms_by_rule

MEALS = "meals"
ROOM = "room"
SAID: Mapping[ComfortKind, str] = {
    "room": "holds a room", "hot water": "heats a tank", "task": "does work with a deadline",
    "car": "charges a car", "food": "keeps food", "running water": "keeps water under pressure",
    "pit": "empties a pit", "clock": "is wanted by the hour",
}


@dataclass(frozen=True, slots=True)
class Members:
    """A comfort and the loads that serve it, at least one; `entry` is what the file says of it."""

    id: str
    label: str
    kind: ComfortKind
    loads: tuple[Load, ...]
    entry: ComfortEntry | None = None

    @property
    def lived_in(self) -> bool:
        """Whether people are in it, if it is a room."""
        return any(load.kind not in NOT_LIVED_IN for load in self.loads)


def members_of(home: Home, draft: Draft) -> tuple[tuple[Members, ...], tuple[Finding, ...]]:
    """Put the loads of a home together by the comfort that they serve.

    Parameters
    ----------
    home : Home
        Its loads are filled, and know whether they are only woken.
    draft : Draft
        What the file says.

    Returns
    -------
    tuple
        The comforts with at least one load, and the findings.
    """
    usual = {one.id: one for one in _usual(home)}
    into, findings = joined(home, draft, usual)
    entries = {one.id: one for one in draft.comforts}
    named: dict[str, list[Load]] = {}
    for load in home.loads:
        if load.id in into and load.nature != "woken":
            named.setdefault(into[load.id], []).append(load)
    found: list[Members] = []
    for name in dict.fromkeys((*usual, *entries)):
        found.extend(_of(name, usual.get(name), entries.get(name), named.get(name, []), into))
    kept = []
    for one in found:
        wrong = tuple(_wrong(one, draft))
        findings.extend(wrong)
        if not wrong:
            kept.append(one)
    ids = {one.id for one in found}
    told = {finding.where for finding in findings if finding.severity is Severity.ERROR}
    findings += [_empty(one, draft, usual) for one in draft.comforts
                 if one.id not in ids and draft.at_comfort(one.id, "loads") not in told]
    return tuple(kept), tuple(findings)


def _usual(home: Home) -> Iterator[Members]:
    """Comforts by the library: rooms, one for each store, one for all tasks and clocks alike."""
    loads = {load.id: load for load in home.loads}
    taken: set[str] = set()
    for room in rooms_by_rule(home):
        stages = tuple(loads[one] for one in room.loads if loads[one].nature == "room")
        if stages:
            label = room.label[:1].upper() + room.label[1:]
            yield Members(_own(room.id, taken), label, "room", stages)
    alike: dict[tuple[str, ComfortKind], list[Load]] = {}
    for load in sorted(home.loads, key=lambda one: one.id):
        if load.nature not in ("room", "woken"):
            group = kinds()[load.kind].comfort
            alike.setdefault((group or load.id, KIND_OF[load.nature]), []).append(load)
    for (group, kind), several in sorted(alike.items()):
        label = groups()[group].label if group in groups() else several[0].label
        as_usual = group not in groups() or any(
            KIND_OF.get(one.nature) == kind for one in kinds().values() if one.comfort == group)
        base = group if as_usual else f"{group} by the hour"
        if kind in ALONE:
            for load in several:
                tail, behind = ("", "") if len(several) == 1 else (f"-{load.id}",
                                                                  f" ({load.label})")
                yield Members(_own(f"{base}{tail}", taken), f"{label}{behind}", kind, (load,))
        else:
            yield Members(_own(base, taken), label, _task_kind(kind, several), tuple(several))


def _task_kind(kind: ComfortKind, loads: Iterable[Load]) -> ComfortKind:
    """Meals are tasks all of whose loads make meals."""
    meals = kind == "task" and all(kinds()[load.kind].comfort == MEALS for load in loads)
    return "meals" if meals else kind


def _own(name: str, taken: set[str]) -> str:
    """Make an id of words that no other comfort of the library has."""
    plain = re.sub(r"[^a-z0-9]+", "-", name.casefold()).strip("-") or ROOM
    own, number = plain, 2
    while own in taken:
        own, number = f"{plain}-{number}", number + 1
    taken.add(own)
    return own


def _of(
    name: str, usual: Members | None, entry: ComfortEntry | None, named: Sequence[Load],
    into: Mapping[str, str],
) -> Iterator[Members]:
    """A comfort as the file wants it, and what is left of the usual one beside it."""
    rest = [load for load in (usual.loads if usual is not None else ()) if load.id not in into]
    listed = entry.loads if entry is not None else None
    if listed is None:
        loads, rest = _ordered([*rest, *named]), []
    else:
        place = {load_id: number for number, load_id in enumerate(listed)}
        loads = sorted(named, key=lambda load: (place.get(load.id, len(place)), load.id))
    if loads:
        label = (entry.label if entry is not None else None) or (
            usual.label if usual is not None else label_of(name))
        yield Members(name, label, _kind(loads), tuple(loads), entry)
    if rest and usual is not None:
        yield replace(usual, id=f"{name}-others", label=f"{usual.label}, others",
                      loads=tuple(rest))


def _ordered(loads: Sequence[Load]) -> list[Load]:
    if all(load.nature == "room" for load in loads):
        return list(in_stages(loads))
    return sorted(loads, key=lambda load: load.id)


def _kind(loads: Sequence[Load]) -> ComfortKind:
    return _task_kind(KIND_OF[loads[0].nature], loads)


def _wrong(one: Members, draft: Draft) -> Iterator[Finding]:
    where = draft.at_comfort(one.id, "loads")
    first = one.loads[0]
    kind = KIND_OF[first.nature]
    other = next((load for load in one.loads if KIND_OF[load.nature] != kind), None)
    if other is not None:
        yield error(where, f"a comfort is of one kind: {first.id} {SAID[kind]}, {other.id} "
                    f"{SAID[KIND_OF[other.nature]]}.", "Make two comforts of it.")
    elif kind in ALONE and len(one.loads) > 1:
        yield error(where, f"{some([load.id for load in one.loads])} do not share one: each "
                    "keeps a level of its own.", "Make a comfort for each.")


def _empty(entry: ComfortEntry, draft: Draft, usual: Mapping[str, Members]) -> Finding:
    where = draft.at_comfort(entry.id)
    hint = did_you_mean(entry.id, usual) if entry.id not in usual and not entry.loads else ""
    return error(where, "no load serves it.", hint or 'Give it loads = ["..."], or write its id as '
                 "comfort = ... of a load.")
