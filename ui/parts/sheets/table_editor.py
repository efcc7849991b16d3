"""An editable table of a section of a file: what is typed lands in the text, nothing is lost.

The table is laid out once from a text that stays the same while it is edited; every edit is put
into that text anew. Fed its own output it would lose every second edit.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, field
from typing import Any

import pandas as pd
import streamlit as st

from ui import state
from ui.edits import UNSAID, Cell, applied, fresh_edits, has_emptied, rows_of

Edit = Callable[[str], str]
Put = Callable[[str, Mapping[str, Any] | None], str]
HEADING_PX, WIDE_PX, LIST_PX = 108, 145, 145  # a heading, a promise and two words are seen whole


@dataclass
class Base:
    """The text that a table was laid out from, and what became of it by the table's edits.

    A table whose columns change, or of which a cell was emptied (an emptied cell would say "None"),
    is laid out anew.
    """

    text: str
    result: str
    cells: tuple[Cell, ...]
    round: int = 0
    emptied: bool = False
    taken: Mapping[str, Any] = field(default_factory=dict)

    def take(self, put: Put, edits: Mapping[str, Any] | None, now: str) -> str:
        """Put edits into the text as it is now, and remember what became of it.

        `put` puts them into the text that the table was laid out from. Where something else has
        changed the text since then, what is new among the edits is put into that text, and the
        table is laid out anew.
        """
        mine = now == self.result
        start, what = (self.text, edits) if mine else (now, fresh_edits(edits, self.taken))
        done = put(start, what)
        if mine:
            self.result = done
        self.taken, self.emptied = deepcopy(dict(edits or {})), has_emptied(edits)
        return done


def table_editor(
    section: str, cells: Sequence[Cell], text: str, edit: Callable[[Edit], None], *,
    label: str, name: str = "", fixed: bool = False,
    filled: Callable[[pd.DataFrame], pd.DataFrame] = lambda frame: frame,
    rows: Callable[[str], pd.DataFrame] | None = None, put: Put | None = None,
) -> None:
    """Draw a section of a file as a table that can be edited.

    Parameters
    ----------
    section, cells
        Which list of tables of the file, and its columns.
    text : str
        The file as it is now; it parses.
    edit : callable
        Takes what to do with the text of the file, and does it to the text as it is then.
    label : str
        What the table holds, for those who cannot see it.
    name : str
        Tells tables of the same section apart.
    fixed : bool
        Whether rows can be neither added nor taken out.
    filled : callable
        Fills blanks of the frame with what is understood; only what is edited is written.
    rows, put : callable, optional
        Lay a text out and put edits into it, where the rows are not the items of the section.
    """
    name = name or section
    lay = rows or (lambda text: rows_of(text, section, cells))
    write = put or (lambda text, edits: applied(text, section, cells, edits))
    base = _base(name, text, tuple(cells))
    key = _key(name, base)

    def take() -> None:
        edits = state.widget(key)
        edit(lambda now: base.take(write, edits, now))

    st.data_editor(
        state.session().remembered(f"frame {name}", (base.text, base.round, tuple(cells)),
                                   lambda: filled(lay(base.text))),
        key=key, on_change=take, hide_index=True, width="stretch", height="content",
        num_rows="fixed" if fixed else "dynamic", alt=label, placeholder="",
        disabled=[cell.key for cell in cells if cell.kind == "shown"],
        column_config={cell.key: _column(cell) for cell in cells})


def _base(name: str, text: str, cells: tuple[Cell, ...]) -> Base:
    """The base of a table; laid out anew when the file was changed by anything else."""
    bases = state.session().tables
    base = bases.get(name)
    if base is None:
        base = bases[name] = Base(text, text, cells)
    untouched = not state.widget(_key(name, base))
    outdated = base.result != text or base.cells != cells or base.emptied
    if outdated or (untouched and base.text != text):
        base = bases[name] = Base(text, text, cells, next(state.session().rounds))
    return base


def _key(name: str, base: Base) -> str:
    return f"table {name} {base.round}"


def _column(cell: Cell) -> Any:  # noqa: ANN401
    made = st.column_config
    options = [UNSAID, *cell.options] if cell.kind == "choice" else list(cell.options)
    match cell.kind:
        case "truth":
            return made.CheckboxColumn(cell.heading, help=cell.help, width=HEADING_PX)
        case "whole":
            return made.NumberColumn(cell.heading, help=cell.help, step=1, min_value=cell.low,
                                     max_value=cell.high, width=HEADING_PX)
        case "number":
            return made.NumberColumn(cell.heading, help=cell.help)
        case "choice":
            return made.SelectboxColumn(cell.heading, help=cell.help, options=options)
        case "list":
            return made.MultiselectColumn(cell.heading, help=cell.help, options=options,
                                          width=LIST_PX)
        case _:
            return made.TextColumn(cell.heading, help=cell.help, pinned=cell.pinned,
                                   width=WIDE_PX if cell.wide else
                                   "medium" if cell.pinned else None)
