"""A load of another size: everything that the library tabled by the size changes with it."""

from __future__ import annotations

import math
from dataclasses import replace

from planner.case.library import Curve, Kind, kinds
from planner.case.library.kinds import SizeOption
from planner.facts.assumption import Assumption
from planner.facts.home import Load
from planner.physics.motor_tables import full_load_a
from planner.study.verify.follow import assumes, leading_number, with_draw, with_rating, with_start


def by_size(load: Load, assumption: Assumption, factor: float) -> list[tuple[str, Load]]:
    """Change the size, within the library's range, and what it tables by size."""
    kind = kinds().get(load.kind)
    option = _option(kind, assumption) if kind is not None else None
    if option is None:
        return []
    old = leading_number(assumption.text)
    new = min(max(old * factor, option.low), option.high)
    changed = load
    if assumes(load, "running"):
        draw = _ratio(option.running, old, new, load.volts)
        changed = with_draw(load, draw, draw)
        if option.starting is not None and assumes(load, "locked_rotor"):
            kva = _start_ratio(option.starting, old, new, load, option)
            changed = with_start(changed, kva)
        curve = option.nameplate_va
        if curve is not None and assumes(load, "nameplate", curve.source):
            changed = with_rating(changed, _ratio(curve, old, new, load.volts))
    if option.unit == "hp" and math.isclose(load.motor_hp, old, rel_tol=1e-6):
        changed = replace(changed, motor_hp=new)
    return [(f"{new:.3g} {option.unit}", changed)]


def _option(kind: Kind, assumption: Assumption) -> SizeOption | None:
    unit = assumption.text.partition(" ")[2]
    return next((one for one in kind.sizes if one.default is not None and one.unit == unit), None)


def _ratio(curve: Curve, old: float, new: float, volts: int) -> float:
    before, after = curve.at(old), curve.at(new)
    if curve.unit == "full-load":
        before, after = full_load_a(before, volts), full_load_a(after, volts)
    return after / before


def _start_ratio(curve: Curve, old: float, new: float, load: Load, option: SizeOption) -> float:
    ratio = _ratio(curve, old, new, load.volts)
    if curve.unit == "x full-load" and option.unit == "hp":
        ratio *= full_load_a(new, load.volts) / full_load_a(old, load.volts)
    return ratio
