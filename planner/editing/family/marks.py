"""Marks on a statement: what was found where, and a text from which found things are taken out."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

from planner.editing.values import Value

TAKEN = "\x00"
_SEPARATOR = re.compile(r"[,;:()]|\s-+\s|\s/\s|\+|&|\.\s|\b(?:and|but|plus|with|or|so|because|while"
                        r"|which|that)\b")


@dataclass(frozen=True, slots=True)
class Mark:
    """Something found in a statement.

    Attributes
    ----------
    start, end : int
        Where it stands.
    what : str
        ``size``, ``plate``, ``count``, ``fuel``, ``wish``, ``gone``, ``fact``, ``no load``.
    key : str
        Which plate, wish or fact.
    value
        A number, a text, or a pair of a number and a unit.
    """

    start: int
    end: int
    what: str
    key: str
    value: Value | tuple[float, str] | None = None


@dataclass
class Statement:
    """A sentence or a line: its text, and what of it is not understood yet."""

    line: int
    text: str
    left: str = ""
    marks: list[Mark] = field(default_factory=list)
    _cut: tuple[str, list[tuple[int, int]]] | None = None

    def __post_init__(self) -> None:
        """Nothing is taken out yet."""
        self.left = self.text

    def take(
        self, pattern: re.Pattern[str], what: str,
        read: Callable[[re.Match[str]], tuple[str, Value | tuple[float, str] | None] | None],
    ) -> None:
        """Mark every place where a pattern fits, and take it out."""
        for match in list(pattern.finditer(self.left)):
            found = read(match)
            if found is not None:
                self.mark(Mark(match.start(), match.end(), what, *found))

    def mark(self, one: Mark) -> None:
        """Keep a mark, and take its words out."""
        self.marks.append(one)
        gap = TAKEN * (one.end - one.start)
        self.left = f"{self.left[:one.start]}{gap}{self.left[one.end:]}"

    def of(self, what: str) -> list[Mark]:
        """The marks of a sort, in the order of the text."""
        return sorted((one for one in self.marks if one.what == what), key=lambda one: one.start)

    def segments(self) -> list[tuple[int, int]]:
        """Where the parts between commas, brackets and connecting words stand."""
        if self._cut is None or self._cut[0] is not self.left:
            self._cut = self.left, self._segments()
        return self._cut[1]

    def _segments(self) -> list[tuple[int, int]]:
        cuts = [0, *(at for match in _SEPARATOR.finditer(self.left)
                     for at in (match.start(), match.end())), len(self.text)]
        return [(a, b) for a, b in zip(cuts[::2], cuts[1::2], strict=True)]

    def segment_of(self, place: int) -> int:
        """The number of the segment in which a place is, or the next one."""
        cut = self.segments()
        return min(bisect_right(cut, place, key=lambda one: one[1]), len(cut) - 1)

    def between(self, start: int, end: int) -> str:
        """The words between two places that are not taken, without signs and gaps."""
        return " ".join(self.left[start:end].replace(TAKEN, " ").split())


def phrases(pattern: str, words: Iterator[str] | list[str]) -> re.Pattern[str]:
    """A pattern of any of some phrases, the longest first."""
    ordered = sorted(words, key=len, reverse=True)
    return re.compile(pattern % "|".join(re.escape(one).replace(r"\ ", r"[\s-]+")
                                         for one in ordered))
