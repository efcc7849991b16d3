"""What becomes of comforts where a plan, an order or a wish is changed, in words."""

from __future__ import annotations

from collections.abc import Iterable

from planner.report.comforts.comfort_words import day_phrase
from planner.service.house import House
from planner.study.comfort_changes import ComfortChange


def change_sentences_of(
    changes: Iterable[ComfortChange], house: House, most: int = 99
) -> tuple[str, ...]:
    """Say of each comfort what it is like then, and what it is like now; those that read alike go.

    Parameters
    ----------
    changes : iterable of ComfortChange
        Those that differ most first.
    house : House
        The home as arrays.
    most : int
        How many are said.
    """
    said = (change_phrase(one, house) for one in changes)
    return tuple(one for one in said if one)[:most]


def change_phrase(change: ComfortChange, house: House) -> str:
    """Say one change: ``Upstairs no warmer than 79 degF instead of 84 degF on hot day``.

    Empty where both read alike.
    """
    then = day_phrase(change.before, house, change.day)
    now = day_phrase(change.after, house, change.day)
    if then == now:
        return ""
    return (f"{change.comfort.label}: {instead(now, then)} on "
            f"{house.home.days[change.day].label}")


def instead(now: str, then: str) -> str:
    """Hold one phrase against another without the words that both begin with."""
    ours, theirs = now.split(" "), then.split(" ")
    same = 0
    while same < min(len(ours), len(theirs)) - 1 and ours[same] == theirs[same]:
        same += 1
    return f"{now} instead of {' '.join(theirs[same:])}"
