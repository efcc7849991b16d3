"""What is promised of comforts where the family says nothing, and which room is the refuge."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Literal

from planner.facts.comfort import REFUGE_DEGF, Comfort, Promise
from planner.facts.home import Home
from planner.physics.comfort import COLDEST_LIVABLE_DEGF, COMFORT_DEGF, WARMEST_LIVABLE_DEGF
from planner.wiring.comforts import seasons_of

Season = Literal["summer", "winter"]

PROMISED_MEALS = 4
"""Importance from which on no meal may be cut unless the family says otherwise (a choice)."""


def refuges(home: Home, rank: Mapping[str, tuple[int, ...]], rooms: Sequence[Comfort]
            ) -> dict[Season, str]:
    """Pick the room to stay in for each season: the most important that is held in it.

    Parameters
    ----------
    home : Home
        Its loads say which rooms are cooled and which are heated.
    rank : mapping
        For each id of a room how much it matters, the greater the more.
    rooms : sequence of Comfort
        Candidates; those where nobody lives are passed over. Equal ones go by id.

    Returns
    -------
    dict
        Ids by season; a season in which no room is held has none.
    """
    found: dict[Season, str] = {}
    order = sorted((room for room in rooms if room.lived_in),
                   key=lambda room: (tuple(-one for one in rank[room.id]), room.id))
    for room in order:
        cooled, heated = seasons_of(home, room)
        if cooled:
            found.setdefault("summer", room.id)
        if heated:
            found.setdefault("winter", room.id)
    return found


def default_promise(home: Home, comfort: Comfort) -> Promise | None:
    """Give what is promised of a comfort unless the family says otherwise; None for nothing.

    The refuge stays between 60 and 82 degF in its season, every other room that matters within the
    livable band, on the sides on which it is held; never closer to its set point than what nobody
    minds. Food is safe, a pit never overflows, meals that matter are not cut.
    """
    if comfort.kind == "room":
        return _of_room(home, comfort)
    if comfort.kind in ("food", "pit"):
        return Promise(safe=True)
    if comfort.kind == "meals" and comfort.importance >= PROMISED_MEALS:
        return Promise(uncut=True)
    return None


def _of_room(home: Home, room: Comfort) -> Promise | None:
    if not room.lived_in or (room.importance == 0 and not room.refuge):
        return None
    cooled, heated = seasons_of(home, room)
    coldest = REFUGE_DEGF[0] if "winter" in room.refuge else COLDEST_LIVABLE_DEGF
    warmest = REFUGE_DEGF[1] if "summer" in room.refuge else WARMEST_LIVABLE_DEGF
    return Promise(
        coldest_degf=min(coldest, room.heating_set_degf - COMFORT_DEGF) if heated else None,
        warmest_degf=max(warmest, room.cooling_set_degf + COMFORT_DEGF) if cooled else None)
