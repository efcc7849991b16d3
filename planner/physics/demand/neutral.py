"""Load of the neutral, by the standard method whatever the method of the sheet."""

from __future__ import annotations

from collections.abc import Sequence

from planner.physics.demand.cooking import cooking_demand_va
from planner.physics.demand.parts import general_demand_lines, general_lines, of, total_va
from planner.physics.demand.sheet import DemandBasis, DemandEntry, DemandLine
from planner.physics.demand.standard import cooking_units_kw, dryer_demand_va, fixed_share
from planner.physics.demand.tables import (
    LARGEST_MOTOR_SHARE,
    NEUTRAL_FULL_VA,
    NEUTRAL_SHARE,
    clause,
)


def neutral_lines(basis: DemandBasis, entries: Sequence[DemandEntry]) -> tuple[DemandLine, ...]:
    """List what returns through the neutral [VA].

    Parameters
    ----------
    basis : DemandBasis
        Edition, area, circuits.
    entries : sequence of DemandEntry, shape (n,)
        The loads [VA], with the part that returns through the neutral.

    References
    ----------
    NEC 220.61 (2017 to 2023): the general load after its factors; 70 % of the demand of cooking and
    dryers; other loads by the part between a leg and the neutral, with 25 % of the largest such
    motor; 70 % of what lies above 200 A. Annex D, D1(a) and D2.
    """
    number = clause(basis.edition, "220.61")
    lines = general_demand_lines(basis, total_va(general_lines(basis, entries)))
    lines += _seventy(number, entries)
    lines += _fixed(basis, number, entries)
    lines += _line("Motors and vehicle supply equipment on the neutral", number,
                   _neutral_va(of(entries, "motor", "vehicle")))
    lines += _line("Heating by a fuel on the neutral", number,
                   _neutral_va(of(entries, "fuel-heating")))
    handlers_va = _neutral_va(of(entries, "air-handler"))
    cooling_va = handlers_va + _neutral_va(of(entries, "cooling", "heat-pump"))
    heating_va = handlers_va + _neutral_va(
        of(entries, "heat-pump", "supplemental-heat", "heating"))
    lines += _line("Heating or cooling on the neutral, the larger", number,
                   max(cooling_va, heating_va))
    largest_va = max((e.motor_va for e in entries if e.motor_va and e.neutral_va), default=0.0)
    lines += _line("25 % of the largest motor on the neutral", number,
                   LARGEST_MOTOR_SHARE * largest_va)
    above_va = total_va(lines) - NEUTRAL_FULL_VA
    if above_va > 0.0:
        lines.append(DemandLine("30 % off the part above 200 A", number,
                                -(1.0 - NEUTRAL_SHARE) * above_va))
    return tuple(lines)


def _seventy(number: str, entries: Sequence[DemandEntry]) -> list[DemandLine]:
    cooking = [e for e in of(entries, "cooking") if e.neutral_va != 0.0]
    dryers = [e for e in of(entries, "dryer") if e.neutral_va != 0.0]
    return [
        *_line("Cooking, 70 % of its demand", number,
               NEUTRAL_SHARE * cooking_demand_va(cooking_units_kw(cooking))),
        *_line("Dryers, 70 % of their demand", number, NEUTRAL_SHARE * dryer_demand_va(dryers)),
    ]


def _fixed(basis: DemandBasis, number: str, entries: Sequence[DemandEntry]) -> list[DemandLine]:
    on_neutral = [e for e in of(entries, "appliance") if e.neutral_va]
    va = sum((e.neutral_va or 0.0) * fixed_share(basis.edition, e, on_neutral) for e in on_neutral)
    return _line("Appliances on the neutral", number, va)


def _neutral_va(entries: Sequence[DemandEntry]) -> float:
    return sum(entry.neutral_va or 0.0 for entry in entries)


def _line(text: str, number: str, va: float) -> list[DemandLine]:
    return [DemandLine(text, number, va)] if va else []
