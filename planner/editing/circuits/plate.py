"""The power of a schedule: a nameplate for the code, from which a size is told, never a draw.

What a load draws on a day follows from its size by the library; volt-amperes of a schedule count in
the calculated load. So the size is looked for whose usual nameplate they are.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from functools import cache

from planner.case.file import LoadEntry
from planner.case.filling.by_weather import Weather
from planner.case.filling.ledger import Ledger
from planner.case.filling.running import nameplate_va, running_draw
from planner.case.filling.sizes import Size
from planner.case.library import Kind, SizeOption, kinds
from planner.case.messages import note, warning
from planner.editing.items import as_assumed
from planner.editing.values import Value
from planner.errors import Finding
from planner.physics.motor_tables import FULL_LOAD_A
from planner.physics.wire.branch import vehicle_a

AS_USUAL_VA = 1.0
"""Volt-amperes stand in whole numbers: the same size is no further apart (derived)."""
CIRCUIT_VA = 1500.0
"""NEC 220.52 (2017 to 2023): a small-appliance or laundry circuit counts 1,500 VA, whatever stands
on it: no nameplate."""
BY_CIRCUIT = frozenset({"clothes washer", "kitchen receptacles"})
_SAYS_MORE = frozenset({"size", "running", "mca"})
_STEPS = 50
_STAGE = re.compile(r"(.*\S),? stage ([1-9])", re.IGNORECASE)


def with_power(
    row: dict[str, Value], kind: Kind, va: float, where: str, *, volts: int,
    breaker_a: float | None = None,
) -> tuple[dict[str, Value], list[Finding]]:
    """Put the volt-amperes of a circuit into a row: as its nameplate, with the size that they tell.

    Nothing is put in where the library assumes the same by itself.

    Parameters
    ----------
    row : dict
        A load; a size, a running current or an MCA that it has says what it draws.
    kind : Kind
        Its kind.
    va : float
        What the schedule says [VA].
    where : str
        Place for findings.
    volts : int
        120 or 240.
    breaker_a : float, optional
        Its breaker [A], which says how large a vehicle charger is.
    """
    if kind.name in BY_CIRCUIT and va % CIRCUIT_VA == 0.0:
        return row, [note(where, f"{va:,.0f} VA are what the code counts for a circuit "
                          "(NEC 220.52), no nameplate: not read.")]
    plated: dict[str, Value] = {**row, "nameplate": f"{va:.0f} VA"}
    if row.keys() & _SAYS_MORE:
        return plated, []
    if kind.category == "vehicle" and breaker_a is not None \
            and abs(vehicle_a(breaker_a) * volts - va) <= AS_USUAL_VA:
        return row, []
    usual = next((one for one in kind.sizes if one.default is not None), None)
    if usual is not None and usual.default is not None and "stage" not in row \
            and abs(_va_of(kind.name, usual.unit, usual.default, volts) - va) <= AS_USUAL_VA:
        return row, []
    size = size_by_va(kind, va, volts)
    if size is None:
        return plated, [warning(where, f"{va:,.0f} VA are the nameplate of no size of kind "
                                f'"{kind.name}": what it draws is taken from them.',
                                "Write its size, or what it draws while it runs.")]
    return {**plated, "size": as_assumed(size)}, []


def size_by_va(kind: Kind, va: float, volts: int) -> str | None:
    """Find the size whose usual nameplate has so many volt-amperes; None if none has."""
    for option in sorted(kind.sizes, key=lambda one: one.default is None):
        motor = _motor_at(kind, option, va, volts)
        value = _value_at(kind, option, va, volts) if motor is None else motor
        if value is None:
            continue
        for digits in range(1, 6):
            text = f"{value:.{digits}g}"
            near = float(text)
            if option.low <= near <= option.high \
                    and abs(_va_of(kind.name, option.unit, near, volts) - va) <= AS_USUAL_VA:
                return f"{near:g} {option.unit}"
        return f"{value:.5g} {option.unit}"
    return None


def _motor_at(kind: Kind, option: SizeOption, va: float, volts: int) -> float | None:
    """Horsepower of the table whose current gives `va`: the table goes in steps."""
    if option.running.unit != "full-load":
        return None
    return next((hp for hp in FULL_LOAD_A if option.low - 1e-9 <= hp <= option.high + 1e-9
                 and abs(_va_of(kind.name, option.unit, hp, volts) - va) <= AS_USUAL_VA), None)


def _value_at(kind: Kind, option: SizeOption, va: float, volts: int) -> float | None:
    """Size of a kind by halving its range; None where its nameplate does not grow through `va`."""
    low, high = option.low, option.high
    if not (_va_of(kind.name, option.unit, low, volts) - AS_USUAL_VA <= va
            <= _va_of(kind.name, option.unit, high, volts) + AS_USUAL_VA):
        return None
    for _ in range(_STEPS):
        middle = (low + high) / 2.0
        if _va_of(kind.name, option.unit, middle, volts) < va:
            low = middle
        else:
            high = middle
    return high if abs(_va_of(kind.name, option.unit, high, volts) - va) <= AS_USUAL_VA else None


def with_stages(rows: Sequence[dict[str, Value]]) -> list[dict[str, Value]]:
    """Let rows of a staged heater say which stage they are, by their names: ``strips, stage 1``."""
    named = [_stage_named(row) for row in rows]
    many = Counter(name for name, _ in named if name is not None)
    return [row if name is None or number > many[name]
            else {**row, "stage": f"{number} of {many[name]}"}
            for row, (name, number) in zip(rows, named, strict=True)]


def _stage_named(row: dict[str, Value]) -> tuple[tuple[str, str] | None, int]:
    """Kind and name of a staged heater, and the number of the stage; None where it has none."""
    kind = kinds().get(str(row["kind"]))
    found = _STAGE.fullmatch(str(row.get("label", "")))
    if found is None or kind is None or kind.stage is None or "stage" in row:
        return None, 0
    return (kind.name, found[1].casefold()), int(found[2])


@cache
def _options(kind: str) -> dict[str, SizeOption]:
    return {one.unit: one for one in kinds()[kind].sizes}


def _va_of(kind_name: str, unit: str, value: float, volts: int) -> float:
    """Nameplate that the library has for a size [VA]."""
    kind, option = kinds()[kind_name], _options(kind_name)[unit]
    if option.nameplate_va is not None:
        return option.nameplate_va.at(value)
    entry, size = LoadEntry(id="one", kind=kind_name), Size(option, value)
    draw = running_draw(entry, kind, size, volts, Ledger(""), uses={},
                        weather=Weather((), 95.0))
    return nameplate_va(entry, size, draw, Ledger("")) if draw is not None else 0.0
