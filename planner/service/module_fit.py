"""Whether a shedding module suits a load, and why not.

A contactor stands in the branch circuit: it must have its poles, stand behind its breaker, carry
the load, switch its motor and withstand the fault current. A thermostat module opens the control
circuit of a compressor and carries none of its current.
"""

from __future__ import annotations

from functools import lru_cache

from planner.errors import Finding, Severity
from planner.facts.home import Home, Load
from planner.facts.price_book import Module, PriceBook
from planner.physics.motor_tables import FULL_LOAD_A, full_load_a
from planner.physics.wire.branch import branch_circuit
from planner.remembered import Itself
from planner.tolerances import meets

HOMES = 32
"""Homes whose modules are remembered, each with its book."""

FAULT_REMEDY = (
    "Offer a module of a higher short-circuit rating in the price book, its own or that of a "
    "listed combination with the breaker ahead of it. Behind the branch wire less flows than at "
    "the panel: an electrical engineer can work out what flows at the module.")
REMEDY = ('Write breaker = "... A" as it stands in the panel if it is smaller, or offer a larger '
          "module in the price book.")


def why_not(module: Module, load: Load, fault_current_a: float | None = None) -> str:
    """Say why a module may not switch a load; empty if it may.

    Parameters
    ----------
    module : Module
        Ratings that its maker does not state are not held against it, but the branch breaker is:
        without a larger permitted one it is that of the module's amperes at most.
    load : Load
        Its nameplate counts.
    fault_current_a : float or None
        Available fault current at the panel [A]; None: not known, and not asked.

    References
    ----------
    NEC 110.9, 110.10 (short-circuit current), 430.52, 422.11, 625.41 (branch breaker) (2017 to
    2023).
    """
    if module.action not in load.module_actions:
        return f"a {module.action} module does not suit it"
    if module.action == "thermostat":
        return ""
    return (_circuit(module, load) or _fault(module, fault_current_a)
            or (_motor(module, load) if load.is_motor else ""))


def _circuit(module: Module, load: Load) -> str:
    if module.poles < load.poles:
        return "it has one pole, and the circuit two"
    branch, most_a = branch_circuit(load), module.largest_breaker_a or module.amperes
    if not meets(branch.breaker_a, most_a):
        said = (f"is {branch.breaker_a:g} A" if branch.given else
                f"may be {branch.breaker_a:g} A ({branch.clause})")
        return (f"the branch breaker {said}, and it may stand behind "
                f"{most_a:g} A at most")
    drawn_a = max(load.plate_a, load.code.va / load.volts)
    if not meets(drawn_a, module.amperes):
        return f"the load draws {drawn_a:.1f} A, and it carries {module.amperes:g} A"
    return ""


def _fault(module: Module, fault_current_a: float | None) -> str:
    withstands_a = module.short_circuit_a
    if fault_current_a is None or withstands_a is None or fault_current_a <= withstands_a:
        return ""
    return (f"{fault_current_a:,.0f} A may flow in a fault, and it withstands "
            f"{withstands_a:,.0f} A (110.9)")


def _motor(module: Module, load: Load) -> str:
    if not meets(load.motor_hp, module.motor_hp):
        return (f"the motor has {load.motor_hp:.3g} hp, and it switches {module.motor_hp:.3g} hp "
                "at most")
    full_a = motor_full_load_a(load)
    if module.full_load_a is not None and not meets(full_a, module.full_load_a):
        return (f"the motor's full-load current is {full_a:.1f} A, and it switches "
                f"{module.full_load_a:g} A at most")
    locked_a = 1000.0 * load.starting_kva / load.volts
    if module.locked_rotor_a is not None and not meets(locked_a, module.locked_rotor_a):
        return (f"the motor's locked-rotor current is {locked_a:.0f} A, and it switches "
                f"{module.locked_rotor_a:g} A at most")
    return ""


def motor_full_load_a(load: Load) -> float:
    """Full-load current of a load's motor [A]: by NEC Table 430.248, else what it draws."""
    if load.compressor or not 0.0 < load.motor_hp <= max(FULL_LOAD_A):
        return load.plate_a
    return full_load_a(load.motor_hp, load.volts)


LONGEST_TRIAL_H = 0.5
"""A load whose module does not sense its call is tried every quarter of an hour; a task that may
wait less than two of them needs one that does (a choice, no source) [h]."""


def cheapest_module(
    load: Load, book: PriceBook, fault_current_a: float | None = None
) -> Module | None:
    """Give the cheapest module kind that may switch a load; None if there is none.

    Supper cannot wait for a trial: for a task that may wait less than `LONGEST_TRIAL_H` it is the
    cheapest that senses the call, where the book has one.
    """
    fitting = [m for m in book.modules if not why_not(m, load, fault_current_a)]
    if load.nature == "task" and load.wait_h < LONGEST_TRIAL_H:
        fitting = [m for m in fitting if m.senses == "call"] or fitting
    return min(fitting, key=lambda m: (m.installed_usd, m.id), default=None)


def cheapest_sensing_module(
    load: Load, book: PriceBook, fault_current_a: float | None = None
) -> Module | None:
    """Give the cheapest module kind that may switch a load and senses its call; None if none."""
    fitting = [m for m in book.modules
               if m.senses == "call" and not why_not(m, load, fault_current_a)]
    return min(fitting, key=lambda m: (m.installed_usd, m.id), default=None)


def modules_for(home: Home, book: PriceBook) -> tuple[Module | None, ...]:
    """Give the cheapest module kind that may switch each load, in the order of the home."""
    return _kinds_for(Itself(home), Itself(book))[0]


def sensing_modules_for(home: Home, book: PriceBook) -> tuple[Module | None, ...]:
    """Give for each load the cheapest kind that senses its call; None where the cheapest does."""
    return _kinds_for(Itself(home), Itself(book))[1]


@lru_cache(maxsize=HOMES)
def _kinds_for(
    home: Itself[Home], book: Itself[PriceBook]
) -> tuple[tuple[Module | None, ...], tuple[Module | None, ...]]:
    loads, fault_a = home.it.loads, home.it.fault_current_a
    kinds = tuple(cheapest_module(load, book.it, fault_a) for load in loads)
    return kinds, tuple(
        None if kind is None or kind.senses == "call"
        else cheapest_sensing_module(load, book.it, fault_a)
        for load, kind in zip(loads, kinds, strict=True))


def closest_reason(load: Load, book: PriceBook, fault_current_a: float | None = None) -> str:
    """Say why the module that comes closest may not switch a load; empty if one may.

    Where all that keeps modules from it is the fault current, the one that withstands the most
    comes closest.
    """
    if cheapest_module(load, book, fault_current_a) is not None:
        return ""
    fitting = [m for m in book.modules if m.action in load.module_actions]
    if not fitting:
        return "the price book has no module of a kind that suits it"
    weak = _too_weak(load, book)
    if weak:
        closest = max(weak, key=lambda m: (m.short_circuit_a or 0.0, -m.installed_usd, m.id))
    else:
        closest = max(fitting, key=lambda m: (m.poles >= load.poles, m.amperes, m.id))
    return f"{closest.label}: {why_not(closest, load, fault_current_a)}"


def _too_weak(load: Load, book: PriceBook) -> list[Module]:
    """Modules that may switch a load but for the fault current, where no other may."""
    return [m for m in book.modules if not why_not(m, load)]


def module_findings(home: Home, book: PriceBook) -> tuple[Finding, ...]:
    """Say which loads could take turns by their file but have no module in the price book."""
    found = []
    for load in home.loads if book.modules else ():
        reason = (closest_reason(load, book, home.fault_current_a)
                  if "module" in load.allowed and load.module_actions else "")
        if reason:
            remedy = FAULT_REMEDY if _too_weak(load, book) else REMEDY
            found.append(Finding(Severity.WARNING, f"load {load.id}",
                                 f"it cannot take turns with {book.label}. {reason}.", remedy))
    return tuple(found)
