"""What a comfort's wishes mean for its loads: must-run, and how they may be connected."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from planner.case.comforts.members import Members
from planner.case.draft import Draft
from planner.case.file import LoadEntry
from planner.case.filling.fill import PRACTICE
from planner.case.messages import error
from planner.errors import Finding
from planner.facts.assumption import Assumption
from planner.facts.comfort import Comfort
from planner.facts.home import Home, Load
from planner.wiring.comforts import with_comforts


def serving(
    home: Home, comforts: tuple[Comfort, ...], members: Mapping[str, Members], draft: Draft
) -> tuple[Home, tuple[Finding, ...]]:
    """Give each load what follows from its comfort.

    Parameters
    ----------
    home : Home
        Its loads are filled.
    comforts : tuple of Comfort
        All of the home.
    members : mapping
        Where each comfort's loads come from, by its id.
    draft : Draft
        What the file says.

    Returns
    -------
    tuple
        The home and the findings.
    """
    entries = {load.id: load for load in draft.loads}
    owner = {load.id: one for one in members.values() for load in one.loads}
    home = replace(home, loads=tuple(
        _as_wished(load, entries[load.id], owner.get(load.id)) for load in home.loads))
    before = {load.id for load in home.loads if load.must_run}
    home = with_comforts(home, comforts)
    labels = {one.id: one.label for one in comforts}
    off_is_free = "selected-circuits" in home.transfer_kinds
    loads = tuple(_connected(_known(load, entries[load.id], labels, members),
                             off_is_free=off_is_free) for load in home.loads)
    findings = tuple(
        error(draft.at_comfort(load.comfort, "must_run"), f"{load.id} must run, but may only be "
              "off.", "Allow it another connection, or give up must_run.")
        for load in loads if load.must_run and load.id not in before
        and not load.allowed & {"direct", "module"})
    return replace(home, loads=loads), findings


def _as_wished(load: Load, entry: LoadEntry, one: Members | None) -> Load:
    """A comfort that need not run takes must-run from loads that have it by the library alone."""
    given_up = (one is not None and one.entry is not None and one.entry.must_run is False
                and entry.must_run is None)
    return _without(replace(load, must_run=False), "must_run") if given_up else load


def _known(
    load: Load, entry: LoadEntry, labels: Mapping[str, str], members: Mapping[str, Members]
) -> Load:
    """Mark which comfort a load serves, where the library says so."""
    one = members.get(load.comfort)
    listed = one is not None and one.entry is not None and load.id in (one.entry.loads or ())
    if listed or (entry.comfort is not None and load.nature != "woken"):
        return load
    text = labels.get(load.comfort, "none, it runs when another load needs it")
    return replace(load, assumed=(*load.assumed, Assumption("comfort", text, PRACTICE)))


def _connected(load: Load, *, off_is_free: bool) -> Load:
    """Let assumed connections follow the importance.

    What matters is not off standby power unless the file allows it, or circuits are selected one by
    one; what does not matter may be switched off by hand.
    """
    if load.nature == "woken" or not any(one.key == "connections" for one in load.assumed):
        return load
    allowed = set(load.allowed)
    if load.must_run or (load.importance > 0 and not off_is_free):
        allowed.discard("off")
    if not load.must_run and load.importance == 0:
        allowed.add("by hand")
    if allowed == load.allowed:
        return load
    text = ", ".join(sorted(allowed))
    return replace(load, allowed=frozenset(allowed), assumed=tuple(
        replace(one, text=text) if one.key == "connections" else one for one in load.assumed))


def _without(load: Load, key: str) -> Load:
    return replace(load, assumed=tuple(one for one in load.assumed if one.key != key))
