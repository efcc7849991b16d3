"""Fields for single values of a file: what is typed lands in the text, findings stand below."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import streamlit as st

from planner.case.save import edited
from planner.case.text import parse_toml
from planner.errors import Finding
from ui import state
from ui.parts.findings import about, show_findings

_BARE = re.compile(r"[+-]?\d[\d,]*(?:\.\d+)?|\.\d+")


@dataclass(frozen=True, slots=True)
class Field:
    """One value: its table and key, what it is called, what may be chosen."""

    table: str
    key: str
    label: str
    help: str = ""
    options: tuple[str, ...] = ()
    kind: Literal["text", "choice", "choices", "whole"] = "text"
    unit: str = ""  # put behind a bare number, where the visitor sees it


def show_fields(
    fields: Sequence[Field], text: str, name: str, change: Callable[[str], None],
    findings: Sequence[Finding], *, columns: int = 3,
) -> None:
    """Draw fields in columns, each with the findings about it."""
    raw = parse_toml(text, name)
    for start in range(0, len(fields), columns):
        for field, place in zip(fields[start : start + columns], st.columns(columns), strict=False):
            with place:
                _show(field, raw, text, change)
                show_findings(about(findings, field.table, field.key), places=False)


def with_unit(text: str, unit: str) -> str:
    """Put the unit of a field behind a bare number; anything else stays as it was typed."""
    return f"{text} {unit}" if unit and _BARE.fullmatch(text) else text


def _show(field: Field, raw: dict[str, Any], text: str, change: Callable[[str], None]) -> None:
    table = raw.get(field.table)
    value = table.get(field.key) if isinstance(table, dict) else None
    key = f"field {field.table} {field.key}"

    def take(new: Any) -> None:  # noqa: ANN401
        cleaned = with_unit(new.strip(), field.unit) if isinstance(new, str) else new
        change(edited(text, {(field.table, field.key): None if cleaned in ("", []) else cleaned}))

    heard = state.heard(key, take)
    match field.kind:
        case "choice":
            options = list(dict.fromkeys([*field.options, *([str(value)] if value else [])]))
            st.selectbox(field.label, options, key=state.bound(key, str(value) if value else None),
                         on_change=heard, help=field.help or None)
        case "choices":
            chosen = [str(one) for one in value] if isinstance(value, list) else []
            st.multiselect(field.label, list(dict.fromkeys([*field.options, *chosen])),
                           key=state.bound(key, chosen), on_change=heard, help=field.help or None)
        case "whole":
            number = value if isinstance(value, int) else None
            st.number_input(field.label, min_value=0, step=1, key=state.bound(key, number),
                            on_change=heard, help=field.help or None)
        case _:
            st.text_input(field.label, key=state.bound(key, "" if value is None else str(value)),
                          on_change=heard, help=field.help or None)
