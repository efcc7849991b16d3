"""The room to stay in, one for each season: what the family picks, else the most important."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.case.comforts.usual import Season, refuges
from planner.case.draft import Draft
from planner.case.file import ComfortEntry
from planner.case.filling.fill import WISH
from planner.case.messages import error
from planner.errors import Finding
from planner.facts.assumption import Assumption
from planner.facts.comfort import Comfort
from planner.facts.home import Home
from planner.wiring.comforts import seasons_of

SEASONS: tuple[Season, ...] = ("summer", "winter")
HELD = {"summer": "cooled", "winter": "heated"}


def with_refuges(
    home: Home, comforts: Sequence[Comfort], rank: Mapping[str, tuple[int, int]],
    given: Mapping[str, ComfortEntry], draft: Draft, findings: list[Finding],
) -> list[Comfort]:
    """Mark the refuges.

    Parameters
    ----------
    home : Home
        Its loads say which rooms are cooled and which are heated.
    comforts : sequence of Comfort
        All of the home.
    rank : mapping
        How much each matters, by its id.
    given : mapping
        What the file says of comforts, by id; an empty list keeps a room from being picked.
    draft : Draft
        For the places of findings.
    findings : list
        Takes the findings.
    """
    picked: dict[Season, str] = {}
    for comfort in comforts:
        entry = given.get(comfort.id)
        for season in dict.fromkeys(entry.refuge or () if entry is not None else ()):
            wrong = _wrong(home, comfort, season, picked.get(season))
            if wrong:
                findings.append(error(draft.at_comfort(comfort.id, "refuge"), *wrong))
            else:
                picked[season] = comfort.id
    open_rooms = [one for one in comforts if one.kind == "room"
                  and (one.id not in given or given[one.id].refuge is None)]
    usual = refuges(home, rank, open_rooms)
    marked = []
    for comfort in comforts:
        own = [season for season in SEASONS if picked.get(season) == comfort.id]
        assumed = [season for season in SEASONS
                   if season not in picked and usual.get(season) == comfort.id]
        more = (Assumption("refuge", ", ".join(assumed), WISH),) if assumed else ()
        marked.append(replace(comfort, refuge=frozenset((*own, *assumed)),
                              assumed=(*comfort.assumed, *more)))
    return marked


def _wrong(
    home: Home, comfort: Comfort, season: Season, other: str | None
) -> tuple[str, str] | None:
    if comfort.kind != "room":
        return "only a room is a refuge.", "Take it out."
    if not seasons_of(home, comfort)[SEASONS.index(season)]:
        return (f"nothing that serves it makes it {HELD[season]}, so it is no refuge in {season}.",
                "Choose another room.")
    if other is not None:
        return f"{other} is the refuge in {season} already.", "Choose one room for each season."
    return None


