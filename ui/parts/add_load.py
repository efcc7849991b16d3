"""Ways to add a load: by kind and size, by nameplate, many at once."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from planner.case.compose import with_items
from planner.case.file import CODE_LETTERS
from planner.case.library import Kind, kinds
from planner.case.lists import read_list
from planner.case.save import Value
from planner.units import tidied
from ui.parts.start import guarded
from ui.state import Session, bound, widget


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
    found.change_home(with_items(found.home_text, "loads", [row]))
    found.said = f"{row.get('label') or row.get('kind')} was added."


def _by_kind(found: Session) -> None:
    kind_place, size_place, name_place, button_place = st.columns(
        [3, 2, 3, 2], vertical_alignment="bottom")
    kind = kind_place.selectbox("Kind", list(kinds()), index=None, key="new kind",
                                placeholder="Type a few letters")
    known = kinds()[kind] if kind else None
    sizes = usual_sizes(known) if known else ()
    has_default = known is not None and any(one.default is not None for one in known.sizes)
    size = size_place.selectbox(
        "Size", sizes, index=0 if has_default else None, key=f"new size {kind}",
        accept_new_options=True, placeholder="Choose or type",
        help="Choose one, or type another with its unit.", disabled=kind is None)
    name = name_place.text_input("Name", key="new name", placeholder="As the family calls it")
    wanted = known is not None and (bool(size) or known.covers_floor)

    def add() -> None:
        _add(found, {"label": name or _called(found, str(kind)), "kind": str(kind),
                     "size": tidied(str(size), known.sizes[0].unit) if known and size else ""})
        bound("new name", "")
        bound("new kind", None)

    button_place.button("Add", type="primary", key="add load", on_click=add, disabled=not wanted,
                        width="stretch")


def _called(found: Session, kind: str) -> str:
    """A name that no other load has: the kind, numbered from the second on."""
    plain = f"{kind[:1].upper()}{kind[1:]}"
    number = 1
    while f'label = "{plain if number == 1 else f"{plain} {number}"}"' in found.home_text:
        number += 1
    return plain if number == 1 else f"{plain} {number}"


def _by_nameplate(found: Session) -> None:
    st.markdown("What the nameplate says wins over what is usual. Leave out what it does not say.")
    first, second, third = st.columns(3)
    keys: dict[str, Callable[[], object]] = {
        "label": lambda: first.text_input("Name", key="plate label"),
        "kind": lambda: first.selectbox("Kind", list(kinds()), index=None, key="plate kind",
                                        placeholder="Type a few letters"),
        "leg": lambda: first.selectbox("Leg", ["L1", "L2", "both"], index=None, key="plate leg",
                                       placeholder="both is 240 V",
                                       help="L1 or L2 at 120 V, both at 240 V."),
        "running": lambda: second.text_input("Running current or power", key="plate running",
                                             placeholder="18 A, or 4.5 kW"),
        "power_factor": lambda: second.text_input("Power factor", key="plate power_factor",
                                                  placeholder="0.95"),
        "locked_rotor": lambda: second.text_input("Locked-rotor current", key="plate locked_rotor",
                                                  placeholder="82 A"),
        "mca": lambda: third.text_input("Minimum circuit ampacity", key="plate mca",
                                        placeholder="24 A"),
        "motor": lambda: third.text_input("Horsepower", key="plate motor", placeholder="0.75 hp"),
        "code_letter": lambda: third.selectbox("Code letter", list(CODE_LETTERS), index=None,
                                               key="plate code_letter", placeholder="of the motor"),
    }
    said = {key: draw() for key, draw in keys.items()}

    def add() -> None:
        _add(found, {key: str(value) for key, value in said.items() if value})
        for key in keys:
            bound(f"plate {key}", None if key in ("kind", "leg", "code_letter") else "")

    st.button("Add by nameplate", type="primary", key="add plate", on_click=add,
              disabled=not said["kind"])


def _many(found: Session) -> None:
    st.text_area("One appliance to a line", key="more list", height=140,
                         placeholder="central air, 3.5 ton\nwater heater, 50 gal\nfridge")

    def add() -> None:
        def act() -> None:
            listed = read_list(str(widget("more list") or ""))
            found.add_listed(found.home_name, found.home_text, listed)
            bound("more list", "")

        guarded(act)

    st.button("Add these", type="primary", key="add many", on_click=add)
