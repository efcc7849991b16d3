"""The rules of the model, one function each; `RULES` is the whole of them in the order they apply.

Each says its rule in the trade's words, then as an equation over the variables of
`planner.model.variables` (G generators, n loads, C comforts, N slots), and adds its rows to the
problem.
"""

from planner.model.rules.average import day_stays_within_the_average
from planner.model.rules.comforts import (
    a_stretch_beyond_the_limit_spoils,
    dark_slots_are_lost,
    loss_grows_with_the_deviation,
    promises_are_kept,
    what_is_missing_stays_missing,
)
from planner.model.rules.connect import (
    direct_loads_stand_ahead,
    every_load_has_one_connection,
    modules_that_sense_are_modules,
    modules_that_stay_open_leave_a_load_off,
    must_run_is_never_refused,
    one_generator,
    soft_starter_needs_a_connected_motor,
    woken_loads_are_connected,
)
from planner.model.rules.demand import connected_loads_pass_the_calculation
from planner.model.rules.equipment import controller_drives_modules, positions_hold_circuits
from planner.model.rules.pickup import unannounced_starts_are_picked_up
from planner.model.rules.power import (
    direct_loads_fit_together,
    never_on_together,
    rows_hold_what_is_on,
)
from planner.model.rules.start import (
    direct_motors_start_beside_the_rest,
    one_motor_starts_while_the_rest_run,
    start_within_the_dip,
    takeover_starts_all_direct_motors,
)
from planner.model.rules.turns import tasks_are_done_in_time, turns_are_taken_by_module, wakes

RULES = (
    one_generator,
    every_load_has_one_connection,
    woken_loads_are_connected,
    direct_loads_stand_ahead,
    must_run_is_never_refused,
    modules_that_sense_are_modules,
    modules_that_stay_open_leave_a_load_off,
    soft_starter_needs_a_connected_motor,
    controller_drives_modules,
    positions_hold_circuits,
    turns_are_taken_by_module,
    tasks_are_done_in_time,
    wakes,
    direct_loads_fit_together,
    rows_hold_what_is_on,
    never_on_together,
    takeover_starts_all_direct_motors,
    direct_motors_start_beside_the_rest,
    one_motor_starts_while_the_rest_run,
    start_within_the_dip,
    unannounced_starts_are_picked_up,
    day_stays_within_the_average,
    what_is_missing_stays_missing,
    loss_grows_with_the_deviation,
    dark_slots_are_lost,
    a_stretch_beyond_the_limit_spoils,
    promises_are_kept,
    connected_loads_pass_the_calculation,
)

__all__ = ["RULES"]
