"""Changes of one value of a load, each with what follows from it.

Follows `planner.case.filling`: a rating by code "taken from the running draw" grows with the draw,
and so do a locked-rotor current given as a multiple of the draw and the horsepower that a hermetic
compressor's current stands for.
"""

from __future__ import annotations

import math
from dataclasses import replace

from planner.case.library import kinds
from planner.facts.home import Load
from planner.physics.motor_tables import equivalent_hp

FROM_THE_DRAW = "taken from the running draw"


def with_draw(load: Load, kw_factor: float, kva_factor: float) -> Load:
    """Change the draw and what follows from it; a heater that runs by turns stays as it is."""
    if load.mean_kw:
        return _with_compressor(load, kw_factor, kva_factor)
    running_kva = load.running_kva * kva_factor
    by_day = {day: (kw * kw_factor, kva * kva_factor) for day, (kw, kva) in load.by_day.items()}
    changed = replace(load, running_kw=load.running_kw * kw_factor, running_kva=running_kva,
                      by_day=by_day)
    if assumes(load, "nameplate", FROM_THE_DRAW):
        changed = with_rating(changed, kva_factor)
    if _start_is_a_multiple(load):
        changed = with_start(changed, kva_factor)
    if assumes(load, "motor"):
        hp = equivalent_hp(changed.plate_a, load.volts)
        changed = replace(changed, motor_hp=hp)
    return changed


def _with_compressor(load: Load, kw_factor: float, kva_factor: float) -> Load:
    """Change the draw of a compressor that a heater of its own may pass, and what follows."""
    mean_kw, mean_kva = load.mean_kw * kw_factor, load.mean_kva * kva_factor
    kva = max(load.running_kw, mean_kva)  # of a heater the VA are the watts
    changed = replace(load, running_kw=max(load.running_kw, mean_kw), running_kva=kva)
    if mean_kw < load.running_kw:
        changed = replace(changed, mean_kw=mean_kw, mean_kva=mean_kva)
    else:
        changed = replace(changed, mean_kw=0.0, mean_kva=0.0)
    if assumes(load, "nameplate"):
        changed = with_rating(changed, kva / load.running_kva)
    if _start_is_a_multiple(load):
        changed = with_start(changed, kva_factor)
    if assumes(load, "motor"):
        changed = replace(changed, motor_hp=equivalent_hp(1000.0 * mean_kva / load.volts,
                                                          load.volts))
    return changed


def with_start(load: Load, factor: float) -> Load:
    """Make a load start harder or softer by a factor."""
    surge = tuple(replace(step, kw=step.kw * factor, kva=step.kva * factor) for step in load.surge)
    return replace(load, starting_kva=load.starting_kva * factor, surge=surge)


def with_rating(load: Load, factor: float) -> Load:
    """Change what a load adds to the calculated load by a factor."""
    code = load.code
    neutral_va = None if code.neutral_va is None else code.neutral_va * factor
    return replace(load, code=replace(code, va=code.va * factor, neutral_va=neutral_va))


def _start_is_a_multiple(load: Load) -> bool:
    """Whether the locked-rotor current was assumed as the kind's multiple of the draw.

    Not if the library tells the draw by size and the start by size too: the multiple of the motor
    table may then be the same number by chance.
    """
    kind = kinds().get(load.kind)
    if kind is None or kind.starting is None or not assumes(load, "locked_rotor"):
        return False
    curves = {option.running.source for option in kind.sizes if option.starting is not None}
    if any(assumes(load, "running", source) for source in curves):
        return False
    multiple_kva = kind.starting.value * (load.mean_kva or load.running_kva)
    return math.isclose(load.starting_kva, multiple_kva, rel_tol=1e-6)


def assumes(load: Load, key: str, source: str = "") -> bool:
    """Whether a value was filled in (from this source, if one is named)."""
    return any(one.key == key and source in ("", one.source) for one in load.assumed)


def leading_number(text: str) -> float:
    """Read the number at the head of ``96 A``."""
    return float(text.partition(" ")[0])


def scaled_text(text: str, factor: float) -> str:
    """Write ``96 A`` a factor larger."""
    unit = text.partition(" ")[2]
    return f"{leading_number(text) * factor:.4g} {unit}".strip()
