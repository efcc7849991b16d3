"""Positions of a circuit, kept in the row of its load where they fit what stands on them."""

from __future__ import annotations

from collections.abc import Mapping

from planner.case.checks import spaces_of
from planner.case.library import Kind
from planner.editing.values import Value
from planner.importing.panel.record import Circuit

BOTH_POLES = 2


def at_positions(
    row: Mapping[str, Value], kind: Kind, *circuits: Circuit
) -> dict[str, Value]:
    """Put the positions of its circuits into a row; not where their number is not its poles'.

    Of several circuits those of the first panel that is named count: a load is in one.
    """
    here = [one for one in circuits if one.panel == circuits[0].panel]
    spaces = tuple(dict.fromkeys(space for one in here for space in one.spaces))
    if len(spaces) == 1 and spaces[0].isdecimal() and circuits[0].poles == BOTH_POLES:
        spaces = (spaces[0], str(int(spaces[0]) + 2))  # as `planner.importing.panel.joined` has it
    needed = spaces_of(kind.name, str(row.get("leg", "")))
    if not spaces or (needed is not None and len(spaces) != needed):
        return dict(row)
    return {**row, "positions": ",".join(spaces)}
