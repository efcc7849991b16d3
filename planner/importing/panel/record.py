"""What a panel schedule says, circuit by circuit, before anybody asks what the words mean."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.errors import Finding

MOST_ROWS = 1000
"""Rows of a schedule that are read: chosen; some ten panels."""
Pole = Literal["L1", "L2", "both"]


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the table: its cells understood one by one, None and "" where nothing stands.

    `positions` are the spaces that it names, `halves` the letters of half spaces; `poles` 0 where
    nobody says; `va` its nameplate power [VA]; `name` its panel.
    """

    line: int
    panel: str = ""
    positions: tuple[int, ...] = ()
    halves: tuple[str, ...] = ()
    words: str = ""
    kind: str = ""
    breaker_a: float | None = None
    poles: int = 0
    volts: float | None = None
    va: float | None = None
    leg: Pole | None = None
    notes: str = ""


@dataclass(frozen=True, slots=True)
class Circuit:
    """A circuit of one or two poles; `lines` are its rows of the table."""

    lines: tuple[int, ...]
    panel: str
    positions: tuple[int, ...]
    words: str
    kind: str
    breaker_a: float | None
    poles: int
    va: float | None
    leg: Pole | None
    notes: str
    halves: tuple[str, ...] = ()

    @property
    def spaces(self) -> tuple[str, ...]:
        """Its positions as they are written: ``9``, ``2A``."""
        halves = self.halves or ("",) * len(self.positions)
        return tuple(f"{number}{half.upper()}"
                     for number, half in zip(self.positions, halves, strict=True))


@dataclass(frozen=True, slots=True)
class Schedule:
    """The circuits of a panel schedule, how many spaces carry none, what was odd, what not read."""

    circuits: tuple[Circuit, ...]
    spares: int
    findings: tuple[Finding, ...]
    not_read: tuple[str, ...] = ()
