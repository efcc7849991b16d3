"""A home with one of its assumed values changed, and everything that was derived from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from planner.case.library import kinds
from planner.facts.assumption import Assumption
from planner.facts.comfort import Comfort
from planner.facts.home import Home, Load, Use
from planner.facts.price_book import PriceBook, SoftStarter
from planner.study.verify.follow import (
    FROM_THE_DRAW,
    scaled_text,
    with_draw,
    with_rating,
    with_start,
)
from planner.study.verify.sized import by_size
from planner.study.wishes import with_comfort, with_load

DUTY_SPREAD = 0.25  # of an assumed running time; common practice, no source
SOFT_START_LEAVES = (0.3, 0.8)
"""Share of the locked-rotor current that soft starters leave: no independent measurement is known
(common practice, no source); which it is, the estimator says and the maker of the motor agrees."""
CURRENT_UNITS = frozenset({"kVA", "full-load"})  # running curves that tell the current, not the kW


@dataclass(frozen=True, slots=True)
class Changed:
    """A home at one end of a value's plausible range; `value` is the value there, with its unit.

    `book` is the price book at that end, where the value is one of its own.
    """

    value: str
    home: Home
    book: PriceBook | None = None


def is_derived(assumption: Assumption) -> bool:
    """Whether an assumed value follows from another one, which is then the one to doubt."""
    return assumption.key == "nameplate" and assumption.source == FROM_THE_DRAW


def spread_of(assumption: Assumption) -> float:
    """Plausible relative error of an assumed value; 0 for a choice of use or a derived value."""
    if is_derived(assumption):
        return 0.0
    return DUTY_SPREAD if assumption.key == "use" else assumption.spread


def ends_of(home: Home, load: Load, assumption: Assumption) -> tuple[Changed, ...]:
    """Change an assumed value of a load down and up by its spread.

    Parameters
    ----------
    home : Home
        With the load in it.
    load : Load
        The load whose value is assumed.
    assumption : Assumption
        One of `load.assumed`.

    Returns
    -------
    tuple of Changed
        Lower values first. Empty for a value without spread, or a key that nothing depends on. A
        power factor of a draw whose unit is unknown is changed twice, once with the kilowatts held
        and once with the amperes held.
    """
    spread = spread_of(assumption)
    if spread <= 0.0:
        return ()
    found = []
    for growth in (-spread, spread):
        for value, changed in changed_by(load, assumption, growth):
            found.append(Changed(value, with_load(home, changed)))
    return tuple(found)


def comfort_ends(home: Home, comfort: Comfort, assumption: Assumption) -> tuple[Changed, ...]:
    """Change an assumed value of a comfort down and up by its spread: how fast a room drifts.

    Empty for a value without spread, or a choice of use.
    """
    if assumption.key != "time_constant" or assumption.spread <= 0.0:
        return ()
    hours = comfort.time_constant_h
    return tuple(
        Changed(f"{hours * factor:.3g} h", with_comfort(home, comfort.id,
                                                        time_constant_h=hours * factor))
        for factor in (1.0 - assumption.spread, 1.0 + assumption.spread))


def softened(home: Home, book: PriceBook, starter: SoftStarter) -> tuple[Changed, ...]:
    """Let a soft starter leave the least and the most of the starting current that it may."""
    found = []
    for factor in (min(SOFT_START_LEAVES[0], starter.factor),
                   max(SOFT_START_LEAVES[1], starter.factor)):
        starters = tuple(replace(one, factor=factor) if one.id == starter.id else one
                         for one in book.soft_starters)
        changed = replace(book, soft_starters=starters)
        found.append(Changed(f"{100.0 * factor:.0f} %", home, changed))
    return tuple(found)


def reweighted(home: Home, day_id: str, growth: float) -> Changed:
    """Change the weight of one design day by a share of itself; all weights then sum to 1."""
    raw = [day.weight * (1.0 + growth if day.id == day_id else 1.0) for day in home.days]
    days = tuple(replace(day, weight=weight / sum(raw))
                 for day, weight in zip(home.days, raw, strict=True))
    weight = next(day.weight for day in days if day.id == day_id)
    return Changed(f"{100.0 * weight:.0f} %", replace(home, days=days))


Ways = list[tuple[str, Load]]


def changed_by(load: Load, assumption: Assumption, growth: float) -> Ways:
    """Change a value of a load, and what follows from it: text and load, one for each way."""
    way = WAYS.get(assumption.key)
    return [] if way is None else way(load, assumption, 1.0 + growth)


def _running(load: Load, assumption: Assumption, factor: float) -> Ways:
    return [(scaled_text(assumption.text, factor), with_draw(load, factor, factor))]


def _locked_rotor(load: Load, assumption: Assumption, factor: float) -> Ways:
    return [(scaled_text(assumption.text, factor), with_start(load, factor))]


def _start_power_factor(load: Load, assumption: Assumption, factor: float) -> Ways:
    power_factor = min(1.0, load.starting_pf * factor)
    surge = tuple(replace(step, kw=step.kva * power_factor) for step in load.surge)
    return [(f"{power_factor:.3g}", replace(load, starting_pf=power_factor, surge=surge))]


def _start_seconds(load: Load, assumption: Assumption, factor: float) -> Ways:
    surge = tuple(replace(step, seconds=step.seconds * factor) for step in load.surge)
    return [(scaled_text(assumption.text, factor), replace(load, surge=surge))]


def _power_factor(load: Load, assumption: Assumption, factor: float) -> Ways:
    """Change amperes where the kilowatts are known, kilowatts where the amperes are."""
    if load.running_kva <= 0.0:
        return []
    old = (load.mean_kw / load.mean_kva if load.mean_kva  # of a compressor, not of its heater
           else load.running_kw / load.running_kva)
    change = min(1.0, old * factor) / old
    text = f"{old * change:.3g}"
    held = _held(load)
    by_kw = (text, with_draw(load, 1.0, 1.0 / change))
    by_kva = (text, with_draw(load, change, 1.0))
    return [by_kw] * (held != "kVA") + [by_kva] * (held != "kW")


def _held(load: Load) -> str:
    """Say which of kW and kVA is known apart from the power factor; empty if that is not known."""
    running = next((one for one in load.assumed if one.key == "running"), None)
    kind = kinds().get(load.kind)
    if running is None or kind is None or running.source == "taken from the nameplate":
        return ""
    if running.text.endswith(" A"):
        return "kVA"
    told = {"kVA" if option.running.unit in CURRENT_UNITS else "kW" for option in kind.sizes}
    return told.pop() if len(told) == 1 else ""


def _nameplate(load: Load, assumption: Assumption, factor: float) -> Ways:
    return [(scaled_text(assumption.text, factor), with_rating(load, factor))]


def _motor(load: Load, assumption: Assumption, factor: float) -> Ways:
    changed = replace(load, motor_hp=load.motor_hp * factor)
    return [(scaled_text(assumption.text, factor), changed)]


def _use(load: Load, assumption: Assumption, factor: float) -> Ways:
    """Change the running time of the uses that were assumed as a share of the time."""
    keys = {part.partition(":")[0] for part in assumption.text.split(", ")}
    uses = {key: _longer(use, factor) if key in keys else use for key, use in load.use.items()}
    if uses == load.use:
        return []
    return [(f"{100.0 * factor:.0f} % of the assumed time", replace(load, use=uses))]


def _longer(use: Use, factor: float) -> Use:
    if use.kind == "duty":
        return replace(use, hours=tuple(min(1.0, hour * factor) for hour in use.hours))
    if use.kind in ("cooling", "heating"):
        return replace(use, full_duty=min(1.0, use.full_duty * factor))
    return use


WAYS: dict[str, Callable[[Load, Assumption, float], Ways]] = {
    "running": _running,
    "locked_rotor": _locked_rotor,
    "start_power_factor": _start_power_factor,
    "start_seconds": _start_seconds,
    "power_factor": _power_factor,
    "nameplate": _nameplate,
    "motor": _motor,
    "size": by_size,
    "use": _use,
}
