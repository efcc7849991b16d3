"""Ways to add a load: by kind and size, by nameplate, many at once."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import cycle

import streamlit as st

from planner.case.file import CODE_LETTERS
from planner.case.library import Kind, kinds
from planner.editing.any_list import read_any
from planner.editing.items import with_items
from planner.editing.values import Value
from planner.units import tidied
from ui.parts.sheets.ways_to_begin import guarded
from ui.session import Session
from ui.state import bound, widget


def show_adding(found: Session) -> None:
    """Offer every way to add loads; each keeps what is there."""
    by_kind, by_plate, many = st.tabs(["By kind and size", "By nameplate", "Several at once"])
    with by_kind:
        _by_kind(found)
    with by_plate:
        _by_nameplate(found)
    with many:
        _many(found)


def usual_sizes(kind: Kind) -> tuple[str, ...]:
    """Sizes to choose from: the library's default first, then the points of its curves."""
    found = [f"{one.default:g} {one.unit}" for one in kind.sizes if one.default is not None]
    found += [f"{size:g} {one.unit}" for one in kind.sizes for size in _steps(one.low, one.high)]
    return tuple(dict.fromkeys(found))


def _steps(low: float, high: float) -> tuple[float, ...]:
    """Round sizes between two ends, the ends included."""
    rounds = (0.05, 0.1, 0.2, 0.25, 0.3333, 0.5, 0.75, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0,
              7.5, 8.0, 10.0, 12.0, 15.0, 16.0, 20.0, 24.0, 30.0, 32.0, 40.0, 48.0, 50.0, 60.0,
              66.0, 75.0, 80.0, 100.0, 120.0, 200.0, 500.0, 1000.0, 2000.0, 3000.0, 5000.0, 8000.0,
              12000.0)
    inner = tuple(one for one in rounds if low <= one <= high)
    return inner if len(inner) > 1 else (low, high)


def _add(found: Session, row: dict[str, Value]) -> None:
    found.edit_home(lambda text: with_items(text, "loads", [row]))
    found.said = f"{row.get('label') or row.get('kind')} was added."


def _by_kind(found: Session) -> None:
    kind_place, size_place, name_place, button_place = st.columns(
        [3, 2, 3, 2], vertical_alignment="bottom")
    kind = kind_place.selectbox("Kind", list(kinds()), index=None, key="new kind",
                                persist_state="session", placeholder="Type a few letters")
    known = kinds()[kind] if kind else None
    sizes = usual_sizes(known) if known else ()
    has_default = known is not None and any(one.default is not None for one in known.sizes)
    size = size_place.selectbox(
        "Size", sizes, index=0 if has_default else None, key=_size_key(kind),
        accept_new_options=True, placeholder="Choose or type" if kind else "Kind first",
        help="Choose one, or type another with its unit.")
    name_place.text_input("Name", key="new name", persist_state="session",
                          placeholder="As the family calls it")
    wanted = known is not None and (bool(size) or known.covers_floor)
    button_place.button("Add", key="add load", on_click=_take_kind, args=(found,),
                        disabled=not wanted, width="stretch")


def _take_kind(found: Session) -> None:
    """Add what stands in the fields now: the name may have been typed just before the click."""
    kind = str(widget("new kind"))
    size, unit = widget(_size_key(kind)), kinds()[kind].sizes[0].unit
    _add(found, {"label": widget("new name") or _called(found, kind), "kind": kind,
                 "size": tidied(str(size), unit) if size else ""})
    bound("new name", "")
    bound("new kind", None)


def _size_key(kind: str | None) -> str:
    return f"new size {kind}"


def _called(found: Session, kind: str) -> str:
    """A name that no other load has: the kind, numbered from the second on."""
    plain = f"{kind[:1].upper()}{kind[1:]}"
    number = 1
    while f'label = "{plain if number == 1 else f"{plain} {number}"}"' in found.home_text:
        number += 1
    return plain if number == 1 else f"{plain} {number}"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a nameplate: key of the file, what it is called, an example or what may be."""

    key: str
    label: str
    example: str
    options: tuple[str, ...] = ()
    unit: str = ""


PLATE = (
    Line("label", "Name", "As the family calls it"),
    Line("kind", "Kind", "Type a few letters", tuple(kinds())),
    Line("leg", "Leg", "both is 240 V, L1 or L2 120 V", ("L1", "L2", "both")),
    Line("running", "Running current or power", "18 A, or 4.5 kW"),
    Line("power_factor", "Power factor", "0.95"),
    Line("locked_rotor", "Locked-rotor current", "80 A", unit="A"),
    Line("mca", "Minimum circuit ampacity", "25 A", unit="A"),
    Line("motor", "Horsepower", "0.75 hp", unit="hp"),
    Line("code_letter", "Code letter", "of the motor", tuple(CODE_LETTERS)),
)


def _by_nameplate(found: Session) -> None:
    st.markdown("What the nameplate says wins over what is usual. Leave out what it does not say.")
    for line, place in zip(PLATE, cycle(st.columns(3)), strict=False):
        key = f"plate {line.key}"
        if line.options:
            place.selectbox(line.label, line.options, index=None, key=key, persist_state="session",
                            placeholder=line.example)
        else:
            place.text_input(line.label, key=key, persist_state="session",
                             placeholder=line.example)
    st.button("Add by nameplate", key="add plate", on_click=_take_plate,
              args=(found,), disabled=not widget("plate kind"))


def _take_plate(found: Session) -> None:
    said = {line: str(widget(f"plate {line.key}") or "").strip() for line in PLATE}
    _add(found, {line.key: tidied(text, line.unit) if line.unit else text
                 for line, text in said.items() if text})
    for line in PLATE:
        bound(f"plate {line.key}", None if line.options else "")


def _many(found: Session) -> None:
    st.text_area("One appliance per line", key="more list", persist_state="session", height=140,
                         placeholder="central air, 3.5 ton\nwater heater, 50 gal\nfridge")

    def add() -> None:
        def act() -> None:
            listed = read_any(str(widget("more list") or ""))
            found.add_listed(found.home_name, found.home_text, listed)
            bound("more list", "")

        guarded(act)

    st.button("Add these", key="add many", on_click=add)
