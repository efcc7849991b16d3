"""A table as columns over items: one definition for the screen, the file and the frame."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Item = TypeVar("Item")


@dataclass(frozen=True, slots=True)
class Column(Generic[Item]):
    """One column.

    Attributes
    ----------
    key : str
        Name in frames, with the unit as a suffix.
    heading : str
        Name on screen and paper.
    value : callable
        From an item to its plain value: a number in the unit of `key`, text, or None.
    show : callable
        From an item to the text in the cell.
    right : bool
        Whether cells stand to the right, as numbers do.
    """

    key: str
    heading: str
    value: Callable[[Item], object]
    show: Callable[[Item], str]
    right: bool = False


@dataclass(frozen=True, slots=True)
class Table(Generic[Item]):
    """Columns and the items they are asked about, in the order of the rows."""

    title: str
    columns: tuple[Column[Item], ...]
    items: Sequence[Item]

    @property
    def headings(self) -> list[str]:
        """Headings of all columns."""
        return [column.heading for column in self.columns]

    @property
    def cells(self) -> list[list[str]]:
        """Text of every cell, row by row."""
        return [[column.show(item) for column in self.columns] for item in self.items]

    @property
    def records(self) -> list[dict[str, object]]:
        """Plain values of every row, by the key of the column."""
        return [{column.key: column.value(item) for column in self.columns} for item in self.items]


def text(key: str, heading: str, value: Callable[[Item], str]) -> Column[Item]:
    """Make a column of text."""
    return Column(key, heading, value, value)


def figure(
    key: str, heading: str, value: Callable[[Item], float | None], show: Callable[[float], str]
) -> Column[Item]:
    """Make a column of numbers, blank where there is none."""

    def shown(item: Item) -> str:
        found = value(item)
        return "" if found is None else show(found)

    return Column(key, heading, value, shown, right=True)
