"""Rows of a schedule made circuits: a circuit of two poles may stand in one row or in two.

In the usual panel odd positions stand on the left, even ones on the right, and the legs alternate
from row to row: 1 and 2 on L1, 3 and 4 on L2 (common practice, no source). So a circuit of two
poles at 1 goes on at 3. A leg that the schedule states wins.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.errors import Finding, Severity
from planner.importing.panel.cells import NOTHING
from planner.importing.panel.record import Circuit, Pole, Row
from planner.importing.panel.table import DITTO, is_spare

BOTH_FROM_V = 200.0
"""A circuit of more volts than this is on both legs: 208 and 240 are, 120 is not."""


def circuits_of(
    rows: Sequence[Row], name: str, both: Mapping[int, bool]
) -> tuple[tuple[Circuit, ...], int, tuple[Finding, ...], tuple[str, ...]]:
    """Join rows to circuits.

    Parameters
    ----------
    rows : sequence of Row
        As the table has them.
    name : str
        What findings call the schedule.
    both : mapping
        By line, whether its words mean something that is on both legs only: two rows of the same
        words are one circuit then.

    Returns
    -------
    tuple
        Circuits, spaces that carry none, findings, rows of which nothing was made.
    """
    found: list[Circuit] = []
    not_read: list[str] = []
    findings: list[Finding] = []
    at = {(row.panel, row.positions[0]): place for place, row in enumerate(rows)
          if len(row.positions) == 1 and not any(row.halves)}
    taken: set[int] = set()
    spares = 0
    for place, row in enumerate(rows):
        if place in taken:
            continue
        if _carries_nothing(row):
            spares += 1
            continue
        if DITTO.fullmatch(row.words):
            findings.append(_warning(row, name, "it repeats a row that could not be found.",
                                     "Write what it carries."))
            not_read.append(f"line {row.line}: {row.words}")
            continue
        other = at.get((row.panel, row.positions[0] + 2)) if len(row.positions) == 1 else (
            place + 1 if not row.positions and place + 1 < len(rows)
            and not rows[place + 1].positions else None)
        second = None if other is None or other in taken or other == place else rows[other]
        if second is not None and _goes_on(row, second, both=both.get(row.line, False)):
            taken.add(other or 0)
            found.append(_of_two(row, second))
            continue
        if second is not None and row.poles == 2 and len(row.positions) == 1 and second.breaker_a:
            findings.append(_warning(
                row, name, f"its second pole stands at {second.positions[0]}, where line "
                f"{second.line} has another circuit.", "Check poles and positions."))
        found.append(_of_one(row))
    return tuple(found), spares, (*findings, *_twice(rows, name)), tuple(not_read)


def _carries_nothing(row: Row) -> bool:
    if is_spare(row.words):
        return True
    return NOTHING.fullmatch(row.words) is not None and not row.kind


def _goes_on(row: Row, second: Row, *, both: bool) -> bool:
    """Whether a row is the second pole of the one before it on its side of the panel."""
    same_words = _plain(row.words) == _plain(second.words)
    same_breaker = second.breaker_a in (None, row.breaker_a)
    if DITTO.fullmatch(second.words):
        return row.poles != 1 and same_breaker
    two = row.poles == 2 or (row.volts or 0.0) > BOTH_FROM_V
    if NOTHING.fullmatch(second.words):
        return two and same_breaker
    if len(row.positions) > 1 or row.poles == 1 or not same_words or not same_breaker:
        return False
    return two or both or second.breaker_a is None


def _plain(words: str) -> str:
    return "".join(sign for sign in words.casefold() if sign.isalnum())


def _of_two(row: Row, second: Row) -> Circuit:
    one = _of_one(replace(row, poles=2, leg=None, breaker_a=row.breaker_a or second.breaker_a,
                          notes=row.notes or second.notes))
    return replace(one, lines=(row.line, second.line),
                   positions=(*row.positions, *second.positions),
                   halves=(*row.halves, *second.halves),
                   va=_both_va(row, second))


def _both_va(row: Row, second: Row) -> float | None:
    """Power by leg is added; the whole power, repeated in the second row, is not.

    The sum counts unless the breaker cannot carry it and carries the one.
    """
    if row.va is None or second.va is None:
        return row.va or second.va
    total = row.va + second.va
    most = None if row.breaker_a is None else 240.0 * row.breaker_a
    repeated = row.va == second.va and most is not None and row.va <= most < total
    return row.va if repeated else total


def _of_one(row: Row) -> Circuit:
    poles = row.poles or (2 if len(row.positions) == 2 or row.leg == "both"
                          or (row.volts or 0.0) > BOTH_FROM_V else 0)
    leg: Pole | None = row.leg
    if poles == 2:
        leg = "both"
    elif leg is None and row.positions and len(row.positions) == 1:
        leg = leg_at(row.positions[0])
    return Circuit((row.line,), row.panel, row.positions, row.words, row.kind, row.breaker_a,
                   poles, row.va, leg, row.notes, row.halves)


def leg_at(position: int) -> Pole:
    """Leg of a position: 1 and 2 on L1, 3 and 4 on L2, and so on (common practice, no source)."""
    return "L1" if (position - 1) // 2 % 2 == 0 else "L2"


def _twice(rows: Sequence[Row], name: str) -> list[Finding]:
    """Positions that two rows name, unless each has its half of the space."""
    seen: dict[tuple[str, int, str], Row] = {}
    findings = []
    for row in rows:
        if _carries_nothing(row):
            continue
        for position, half in zip(row.positions, row.halves, strict=True):
            before = seen.setdefault((row.panel, position, half), row)
            if before is not row and not _is_shared(before, row):
                findings.append(_warning(row, name, f"position {position} stands in line "
                                         f"{before.line} as well.", "Check the positions."))
    return findings


def _is_shared(row: Row, other: Row) -> bool:
    """Whether two rows are loads of one circuit: each of a kind, at the same positions."""
    if not row.kind or not other.kind:
        return False
    several = row.breaker_a is None or other.breaker_a is None  # lights of many circuits
    same = (row.positions, row.halves, row.breaker_a) == (other.positions, other.halves,
                                                          other.breaker_a)
    return several or same


def _warning(row: Row, name: str, sentence: str, remedy: str) -> Finding:
    return Finding(Severity.WARNING, f"{name}: line {row.line}", sentence, remedy)
