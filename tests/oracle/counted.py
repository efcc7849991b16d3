"""What the code counts of always-connected loads, in the oracle's own words.

Only the two sheets are the planner's (`planner.physics.demand`, held to the examples of NEC Annex D
by tests of its own); which of them counts, and what a measurement bounds, is said here once more.
"""

from __future__ import annotations

from math import sqrt

from planner.physics.demand import calculated_load


def counted_va(home, direct, kind, moved):
    """VA by Part III; by 220.82 if that is less and the feeder of 100 A serves the whole dwelling.

    By 220.87 if the dwelling was measured and that is less still, whatever part is connected.
    `moved` says whether a circuit stays on the utility side.
    """
    whole = kind == "whole-house"
    by = {method: calculated_load(home, direct, whole_area=whole, method=method).total_va
          for method in ("standard", "optional")}
    permitted = whole and not moved and home.service_a >= 100.0
    calculated = min(by.values()) if permitted else by["standard"]
    return min([calculated, *measured_va(home, direct)])


def measured_va(home, direct):
    """VA that 125 % of the measured peak and later loads allow (NEC 220.87); none if it may not.

    A year of averages over an hour at most, or 30 days over 15 minutes, with the larger season.
    """
    code = home.code
    if code.measured_peak_kva is None or code.measured_with_generation:
        return []
    year = code.measured_days >= 360.0
    if code.measured_interval_min > (60.0 if year else 15.0) or code.measured_days < 30.0:
        return []
    loads = [ld for ld in home.loads if ld.id in direct]
    later = sum(ld.code.va for ld in loads if ld.id in code.added)
    peak = 1000.0 * code.measured_peak_kva * sqrt(max(1.0, code.measured_interval_min / 15.0))
    return [1.25 * peak + later + (0.0 if year else season_va(loads, code.added))]


def season_va(loads, later):
    """The larger of what cools and what heats at once, but for what came later."""
    def of(*categories):
        return sum(ld.code.va for ld in loads
                   if ld.code.category in categories and ld.id not in later)

    locked = sum(ld.code.va for ld in loads if ld.code.category == "heat-pump"
                 and ld.id not in later and not ld.code.with_supplemental)
    pumps = of("heat-pump") - locked
    heats = (of("heating", "fuel-heating", "air-handler") + pumps
             + max(locked, of("supplemental-heat")))
    return max(of("cooling", "heat-pump", "air-handler"), heats)


def carried(va, derated_kw):
    """Whether a generator carries that; by convention the kVA are compared with the kW."""
    return va <= 1000.0 * derated_kw + 1e-6


def switches(module, ld, breaker_a):
    """Whether a contactor may stand in the circuit of a load behind its breaker."""
    motor = ld.starting_kva > ld.running_kva
    return (module.poles >= ld.poles and module.amperes >= ld.running_a
            and module.amperes >= ld.code.va / ld.volts
            and (module.largest_breaker_a or module.amperes) >= breaker_a
            and (module.motor_hp >= ld.motor_hp or not motor))
