"""Fields for single values of a file: what is typed lands in the text, findings stand below."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import streamlit as st

from planner.case.text import parse_toml
from planner.editing.values import edited, marked_assumed
from planner.errors import Finding
from planner.units import tidied
from ui import state
from ui.parts.findings import about, show_findings

Edit = Callable[[str], str]


@dataclass(frozen=True, slots=True)
class Field:
    """One value: its table and key, what it is called, what may be chosen.

    A table within a table is written with a point: ``site.gas``.
    """

    table: str
    key: str
    label: str
    help: str = ""
    options: tuple[str, ...] = ()
    kind: Literal["text", "choice", "choices", "whole"] = "text"
    unit: str = ""  # put behind a bare number, and in place of everyday spellings


def show_fields(
    fields: Sequence[Field], text: str, name: str, edit: Callable[[Edit], None],
    findings: Sequence[Finding], *, columns: int = 3,
) -> None:
    """Draw fields in columns, each with the findings about it.

    `edit` takes what to do with the text, and does it to the text as it is then: a quick visitor
    changes the next field before the page is drawn again.
    """
    raw = parse_toml(text, name)
    assumed = marked_assumed(text)
    for start in range(0, len(fields), columns):
        for field, place in zip(fields[start : start + columns], st.columns(columns), strict=False):
            with place:
                said = " (assumed)" if (field.table, field.key) in assumed else ""
                _show(field, f"{field.label}{said}", raw, edit)
                table, _, inner = field.table.partition(".")
                spoken = f"{inner}.{field.key}" if inner else field.key
                show_findings(about(findings, table, spoken), places=False)


def _tidied(text: str, unit: str) -> str:
    return tidied(text, unit) if unit else text


def _show(
    field: Field, label: str, raw: dict[str, Any], edit: Callable[[Edit], None]
) -> None:
    table: Any = raw
    for step in field.table.split("."):
        table = table.get(step) if isinstance(table, dict) else None
    value = table.get(field.key) if isinstance(table, dict) else None
    key = f"field {field.table} {field.key}"

    def take(new: Any) -> None:  # noqa: ANN401
        cleaned = _tidied(new.strip(), field.unit) if isinstance(new, str) else new
        value = None if cleaned in ("", []) else cleaned
        path = (*field.table.split("."), field.key)
        edit(lambda text: edited(text, {path: value}))

    heard = state.heard(key, take)
    match field.kind:
        case "choice":
            options = list(dict.fromkeys([*field.options, *([str(value)] if value else [])]))
            st.selectbox(label, options, key=state.bound(key, str(value) if value else None),
                         on_change=heard, help=field.help or None)
        case "choices":
            chosen = [str(one) for one in value] if isinstance(value, list) else []
            st.multiselect(label, list(dict.fromkeys([*field.options, *chosen])),
                           key=state.bound(key, chosen), on_change=heard, help=field.help or None)
        case "whole":
            number = value if isinstance(value, int) else None
            st.number_input(label, min_value=0, step=1, key=state.bound(key, number),
                            on_change=heard, help=field.help or None)
        case _:
            st.text_input(label, key=state.bound(key, "" if value is None else str(value)),
                          on_change=heard, help=field.help or None)
