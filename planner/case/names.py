"""What loads, days and parts are called wherever they are listed: no two alike."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TypeVar

from planner.case.messages import note, place
from planner.errors import Finding
from planner.facts.home import DesignDay, Load
from planner.facts.price_book import Controller, Generator, Module, SoftStarter, Transfer
from planner.quoting import quoted

Item = TypeVar("Item", Load, DesignDay, Generator, Transfer, Module, Controller, SoftStarter)


def label_of(load_id: str) -> str:
    """Call a load by its id where the file gives no label: ``garage-door`` is Garage door."""
    return load_id.replace("-", " ").capitalize()


def told_apart(labels: Sequence[str], ids: Sequence[str]) -> tuple[str, ...]:
    """Put the id behind every label that looks like another: ``Refrigerator (refrigerator-2)``.

    Parameters
    ----------
    labels, ids : sequence of str, both of n items
        What each item is called, and its id. Labels that differ in capitals or spaces alone look
        alike.

    Returns
    -------
    tuple of str, n items
        No two alike if no two ids are.
    """
    named = list(labels)
    while alike := {look for look, count in Counter(map(_look, named)).items() if count > 1}:
        longer = [f"{label} ({name})" if _look(label) in alike else label
                  for label, name in zip(named, ids, strict=True)]
        if len(set(ids)) < len(ids):  # they can never be told apart: once is enough
            return tuple(longer)
        named = longer
    return tuple(named)


def with_own_names(items: Sequence[Item]) -> tuple[Item, ...]:
    """Give each item of a list a label of its own."""
    labels = told_apart([item.label for item in items], [item.id for item in items])
    return tuple(replace(item, label=label) for item, label in zip(items, labels, strict=True))


def shared_names(items: Sequence[Item], file: str, what: str, many: str) -> Iterator[Finding]:
    """Note which items of a list share a label, before they are told apart."""
    groups: dict[str, list[Item]] = {}
    for item in items:
        groups.setdefault(_look(item.label), []).append(item)
    for group in groups.values():
        if len(group) > 1:
            yield note(place(file, f"{what} {group[0].id}", "label"),
                       f"{len(group)} {many} are called {quoted(group[0].label)}; their ids stand "
                       "behind their names.", "Give each a name of its own.")


def _look(label: str) -> str:
    return " ".join(label.split()).casefold()
