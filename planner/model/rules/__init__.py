"""The rules of the model, one function each; `RULES` is the whole of them in the order they apply.

Each says its rule in the trade's words, then as an equation over the variables of
`planner.model.variables` (G generators, n loads, T slots), and adds its rows to the problem.
"""

from planner.model.rules.connect import (
    every_load_has_one_connection,
    must_run_is_never_off_or_late,
    one_generator,
    soft_starter_needs_a_connected_motor,
    woken_loads_are_connected,
)
from planner.model.rules.demand import direct_loads_pass_the_calculation
from planner.model.rules.equipment import controller_drives_modules, positions_hold_circuits
from planner.model.rules.power import never_on_together, rows_hold_what_is_on
from planner.model.rules.start import (
    one_motor_starts_while_the_rest_run,
    start_within_the_dip,
    takeover_starts_all_direct_motors,
)
from planner.model.rules.turns import only_pending_calls_are_served, run_only_by_module, wakes

RULES = (
    one_generator,
    every_load_has_one_connection,
    woken_loads_are_connected,
    must_run_is_never_off_or_late,
    soft_starter_needs_a_connected_motor,
    controller_drives_modules,
    positions_hold_circuits,
    run_only_by_module,
    only_pending_calls_are_served,
    wakes,
    rows_hold_what_is_on,
    never_on_together,
    takeover_starts_all_direct_motors,
    one_motor_starts_while_the_rest_run,
    start_within_the_dip,
    direct_loads_pass_the_calculation,
)

__all__ = ["RULES"]
