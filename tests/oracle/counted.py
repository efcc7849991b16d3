"""What the code counts of always-connected loads, in the oracle's own words.

Only the two sheets are the planner's (`planner.physics.demand`, held to the examples of NEC Annex D
by tests of its own); which of them counts is said here once more.
"""

from __future__ import annotations

from planner.physics.demand import calculated_load


def counted_va(home, direct, kind, moved):
    """VA by Part III; by 220.82 if that is less and the feeder of 100 A serves the whole dwelling.

    `moved` says whether a circuit stays on the utility side.
    """
    whole = kind == "whole-house"
    by = {method: calculated_load(home, direct, whole_area=whole, method=method).total_va
          for method in ("standard", "optional")}
    permitted = whole and not moved and home.service_a >= 100.0
    return min(by.values()) if permitted else by["standard"]


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
