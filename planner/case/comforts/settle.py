"""From a home's loads to its comforts: importance, promises, set points, what is assumed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from planner.case.comforts.members import Members, members_of
from planner.case.comforts.refuge import with_refuges
from planner.case.comforts.serving import serving
from planner.case.comforts.unread import unread
from planner.case.comforts.usual import default_promise
from planner.case.draft import Draft
from planner.case.file import ComfortEntry, LoadEntry
from planner.case.filling.fill import WISH
from planner.case.filling.work import usual_importance
from planner.case.library import kinds
from planner.case.messages import error
from planner.case.names import told_apart
from planner.case.promises import promised
from planner.errors import Finding
from planner.facts.assumption import Assumption
from planner.facts.comfort import Comfort
from planner.facts.home import Home
from planner.physics.drift import house_time_constant_h
from planner.physics.thermal import ENVELOPES
from planner.units import Quantity, magnitude
from planner.wiring.comforts import in_order
from planner.wiring.promises import promise_text
from planner.wiring.rooms import only_woken

CONSTRUCTION = "normal"  # of `ENVELOPES`, a middle one where nothing is known; a choice
CONSTRUCTION_SPREAD = 0.3  # from "little" to "good" insulation about so much (derived)
REFUGE_IMPORTANCE = 5  # a wish; common practice, no source
OTHER_ROOM_IMPORTANCE = 3  # a wish; common practice, no source


def with_comforts_of_file(home: Home, draft: Draft) -> tuple[Home, tuple[Finding, ...]]:
    """Give a home the comforts that its file says, and those that it leaves out.

    Parameters
    ----------
    home : Home
        Its loads are filled.
    draft : Draft
        What the file says.

    Returns
    -------
    tuple
        The home with its comforts, each load knowing its own; and the findings.
    """
    woken = only_woken(home)
    home = replace(home, loads=tuple(
        replace(load, nature="woken") if load.id in woken else load for load in home.loads))
    members, found = members_of(home, draft)
    findings = list(found)
    entries = {load.id: load for load in draft.loads}
    labels = told_apart([one.label for one in members], [one.id for one in members])
    plain = [_plain(home, one, label, entries, draft, findings)
             for one, label in zip(members, labels, strict=True)]
    given = {one.id: one.entry for one in members if one.entry is not None}
    rank = {one.id: _rank(one, entries) for one in members}
    refuged = with_refuges(home, plain, rank, given, draft, findings)
    comforts = in_order([_promising(home, _mattering(one, members[number], entries), given, draft,
                                    findings) for number, one in enumerate(refuged)])
    home, more = serving(home, comforts, {one.id: one for one in members}, draft)
    return home, (*findings, *more, *unread(home, draft))


def _plain(
    home: Home, one: Members, label: str, entries: Mapping[str, LoadEntry], draft: Draft,
    findings: list[Finding],
) -> Comfort:
    """A comfort without importance and promise yet."""
    entry = one.entry
    assumed: list[Assumption] = []
    must_run = _must_run(one, entry, entries)
    if must_run and (entry is None or entry.must_run is None):
        assumed.append(Assumption("must_run", "true", WISH))
    plain = Comfort(
        id=one.id, label=label, kind=one.kind, loads=tuple(load.id for load in one.loads),
        importance=0, must_run=must_run, lived_in=one.kind != "room" or one.lived_in,
        heating_set_degf=home.heating_set_degf, cooling_set_degf=home.cooling_set_degf)
    if one.kind == "room":
        plain = _room(home, plain, entry, assumed, draft, findings)
    return replace(plain, assumed=tuple(assumed))


def _must_run(
    one: Members, entry: ComfortEntry | None, entries: Mapping[str, LoadEntry]
) -> bool:
    """Whether its first load must run: by the file, else as its kind does by the library."""
    if entry is not None and entry.must_run is not None:
        return entry.must_run
    first = one.loads[0]
    return kinds()[first.kind].must_run and entries[first.id].must_run is not False


def _room(
    home: Home, plain: Comfort, entry: ComfortEntry | None, assumed: list[Assumption],
    draft: Draft, findings: list[Finding],
) -> Comfort:
    heating, cooling = ((entry.heating_set_point, entry.cooling_set_point) if entry is not None
                        else (None, None))
    room = replace(plain, heating_set_degf=_degf(heating, plain.heating_set_degf),
                   cooling_set_degf=_degf(cooling, plain.cooling_set_degf))
    if room.heating_set_degf >= room.cooling_set_degf and (heating or cooling):
        key = "cooling_set_point" if heating is None else "heating_set_point"
        findings.append(error(
            draft.at_comfort(room.id, key), f"the heating set point ({room.heating_set_degf:g} "
            f"degF) is not below the cooling set point ({room.cooling_set_degf:g} degF): the room "
            "would be heated and cooled in turn.", "Give both."))
        room = plain
    if entry is not None and entry.time_constant is not None:
        return replace(room, time_constant_h=magnitude(entry.time_constant, "h"))
    hours = house_time_constant_h(home.floor_area_ft2, ENVELOPES[CONSTRUCTION])
    assumed.append(Assumption(
        "time_constant", f"{hours:.1f} h", "residential model of GridLAB-D, insulation "
        f'"{CONSTRUCTION}", by the floor area', CONSTRUCTION_SPREAD))
    return replace(room, time_constant_h=hours)


def _degf(value: Quantity | None, default: float) -> float:
    return default if value is None else magnitude(value, "degF")


def _rank(one: Members, entries: Mapping[str, LoadEntry]) -> tuple[int, int]:
    """How much a room matters beside others, before it is known which of them is the refuge."""
    must_run = any(load.must_run for load in one.loads)
    given = _given(one, entries)
    return int(must_run), _usual(one) if given is None else given


def _given(one: Members, entries: Mapping[str, LoadEntry]) -> int | None:
    """Importance by the file: of the comfort, else the highest of its loads.

    A load of a clock comfort that has none counts as usual: each of them stands for itself.
    """
    if one.entry is not None and one.entry.importance is not None:
        return one.entry.importance
    said = [entries[load.id].importance for load in one.loads]
    ranked = [importance for importance in said if importance is not None]
    if ranked and one.kind == "clock":
        ranked += [usual_importance(kinds()[load.kind])
                   for load, importance in zip(one.loads, said, strict=True)
                   if importance is None]
    return max(ranked, default=None)


def _usual(one: Members) -> int:
    return max(usual_importance(kinds()[load.kind]) for load in one.loads)


def _mattering(comfort: Comfort, one: Members, entries: Mapping[str, LoadEntry]) -> Comfort:
    importance = _given(one, entries)
    if importance is not None:
        return replace(comfort, importance=importance)
    importance = _usual(one)
    if comfort.refuge:
        importance = REFUGE_IMPORTANCE
    elif comfort.kind == "room":
        importance = min(importance, OTHER_ROOM_IMPORTANCE)
    return _assuming(replace(comfort, importance=importance),
                     Assumption("importance", str(importance), WISH))


def _promising(
    home: Home, comfort: Comfort, given: Mapping[str, ComfortEntry], draft: Draft,
    findings: list[Finding],
) -> Comfort:
    default = default_promise(home, comfort)
    entry = given.get(comfort.id)
    if entry is None or entry.promise is None:
        if default is None:
            return comfort
        return _assuming(replace(comfort, promise=default),
                         Assumption("promise", promise_text(default), WISH))
    where = draft.at_comfort(comfort.id, "promise")
    promise = promised(comfort, entry.promise, default,
                       lambda sentence, remedy: findings.append(error(where, sentence, remedy)))
    return replace(comfort, promise=promise)


def _assuming(comfort: Comfort, *more: Assumption) -> Comfort:
    return replace(comfort, assumed=(*comfort.assumed, *more))


