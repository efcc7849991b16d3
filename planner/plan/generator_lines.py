"""What the maker of a plan's generator does not state, and the simulated outage assumes."""

from __future__ import annotations

from planner.errors import Finding, Severity
from planner.facts import engine
from planner.facts.engine import Usual
from planner.plan.plan import Plan

_KEYS: dict[str, tuple[str, Usual, str]] = {
    "inertia": ("inertia H", engine.INERTIA_S, "s"),
    "governor_lag": ("governor lag", engine.GOVERNOR_S, "s"),
    "droop": ("droop", engine.DROOP, ""),
    "under_frequency": ("under-frequency protection", engine.LOW_HZ, "Hz"),
    "under_frequency_after": ("its delay", engine.LOW_HZ_S, "s"),
    "under_voltage": ("under-voltage protection", engine.LOW_VOLTAGE, ""),
    "under_voltage_after": ("its delay", engine.LOW_VOLTAGE_S, "s"),
}


def to_verify_of_generator(plan: Plan) -> tuple[Finding, ...]:
    """Say what the price book does not state of the generator, with what is assumed and its range.

    Parameters
    ----------
    plan : Plan
        Only its generator is looked at.
    """
    silent = [(key, *_KEYS[key]) for key in _KEYS if key in plan.supply.generator.unstated]
    if not silent:
        return ()
    said = ", ".join(f"{name} {_with_range(usual, unit)}" for _, name, usual, unit in silent)
    keys = ", ".join(key for key, *_ in silent)
    return (Finding(Severity.NOTE, "generator", f"the price book does not state all that a stall "
                    f"hangs on; assumed in the simulated outage: {said}.",
                    f"Ask the maker, and write {keys} at the generator in the price book."),)


def _with_range(usual: Usual, unit: str) -> str:
    if not unit:
        return (f"{100.0 * usual.value:g} % ({100.0 * usual.low:g} to {100.0 * usual.high:g} %)")
    return f"{usual.value:g} {unit} ({usual.low:g} to {usual.high:g})"
