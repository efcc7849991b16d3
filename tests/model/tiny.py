"""For each rule of the model a tiny invented home on which the rule binds, with what it can buy.

One design day, a call or two around slot 40, 240 V loads at unity power factor unless said. The
generator's reactance is 0.2 per unit and 25 % of dip is allowed, so that it starts
V = kVA · 0.25 / (0.75 · 0.2) = 1.667 · kVA. Loads count nothing by code, so that the calculated
load binds only where it is meant to.
"""

from __future__ import annotations

from dataclasses import replace

from planner.facts.home import CodeEntry, Use
from planner.facts.price_book import SoftStarter, Transfer
from planner.model.tables import Tables
from planner.search.problem import problems_of
from tests.homes import ALL, book, generator, home
from tests.homes import load as counted_load

DIRECT, MODULE = frozenset({"direct"}), frozenset({"module"})
DIRECT_OR_OFF = frozenset({"direct", "off"})
SELECTED = frozenset({"selected-circuits"})
SMALL_PANELS = (Transfer("two", "2 positions", "selected-circuits", 60.0, 2, 300.0, 100.0),
                Transfer("four", "4 positions", "selected-circuits", 60.0, 4, 500.0, 200.0))


def load(load_id, kw, **changes):
    """A load that counts nothing by code; keyword arguments replace."""
    return counted_load(load_id, kw, **{"code": CodeEntry("appliance", 0.0), **changes})


def motor(load_id, kw, start_kva, **changes):
    """A motor with a locked-rotor kVA that counts nothing by code."""
    return load(load_id, kw, starting_kva=start_kva, soft_start_fits=True, **changes)


def tables_of(one, sizes):
    """Tables of a home with every generator of the book to choose from."""
    found = problems_of(one, sizes)
    return Tables(found[0].house, tuple(problem.menu for problem in found),
                  tuple(problem.supply for problem in found))


def at(*slots):
    """Use that calls in these slots of every day."""
    return {"every": Use("calls", calls="".join("1" if t in slots else "0" for t in range(96)))}


def one_generator():
    """An oven of 12 kW; the sizes of 7 and 8 kW take a narrow switch, that of 14 kW does not."""
    narrow = Transfer("narrow", "narrow switch", "whole-house", 55.0, 0, 150.0, 50.0)
    sizes = book(generator(7.0, 1000.0), generator(8.0, 1100.0), generator(14.0, 4000.0))
    return tables_of(
        home(load("oven", 12.0, allowed=MODULE, use=at(40)), service_a=55.0),
        replace(sizes, transfers=(narrow, *sizes.transfers)))


def every_load_has_one_connection():
    """An oven larger than the generator."""
    return tables_of(home(load("oven", 6.0, allowed=ALL, use=at(40))),
                     book(generator(5.0, 2000.0)))


def woken_loads_are_connected():
    """An air conditioner that needs its fan; two selected circuits cost less than four."""
    return tables_of(
        home(load("cooler", 2.0, allowed=ALL, use=at(40), requires=("fan",)),
             load("fan", 0.5, allowed=ALL, importance=0, use=at()), transfer_kinds=SELECTED),
        book(generator(5.0, 2000.0), transfers=SMALL_PANELS))


def must_run_is_never_off_or_late():
    """A pump that must run and could wait, and an oven that cannot; there is room for one."""
    return tables_of(
        home(load("pump", 3.0, allowed=MODULE, must_run=True, wait_h=0.25, use=at(40)),
             load("oven", 3.0, allowed=MODULE, use=at(40, 41))),
        book(generator(5.0, 2000.0)))


def soft_starter_needs_a_connected_motor():
    """Two motors that cannot take turns; both starts at once take 16 kVA of 13.3."""
    return tables_of(
        home(motor("pump", 1.0, 8.0, allowed=DIRECT_OR_OFF, use=at(40)),
             motor("fan", 1.0, 8.0, allowed=DIRECT_OR_OFF, use=at(40))),
        book(generator(8.0, 2000.0)))


def controller_drives_modules():
    """Three loads that must take turns; the small controller drives two modules."""
    return tables_of(
        home(*(load(name, 1.0, allowed=MODULE, use=at(40)) for name in ("oven", "pump", "fan"))),
        book(generator(5.0, 2000.0)))


def positions_hold_circuits():
    """Two circuits of two poles each; two selected positions cost less than four."""
    return tables_of(
        home(load("oven", 2.0, allowed=ALL, use=at(40)), load("pump", 2.0, allowed=ALL, use=at(41)),
             transfer_kinds=SELECTED),
        book(generator(5.0, 2000.0), transfers=SMALL_PANELS))


def run_only_by_module():
    """An oven that is always connected, and a heater that fits only after it."""
    return tables_of(
        home(load("oven", 3.0, allowed=DIRECT, use=at(40)),
             load("heater", 3.0, allowed=ALL, wait_h=0.25, use=at(40))),
        book(generator(5.0, 2000.0)))


def only_pending_calls_are_served():
    """A heater that calls once, while the oven is on, and may wait half an hour."""
    return tables_of(
        home(load("oven", 3.0, allowed=DIRECT, use=at(40)),
             load("heater", 3.0, allowed=MODULE, wait_h=0.5, use=at(40))),
        book(generator(5.0, 2000.0)))


def wakes():
    """An air conditioner of 3 kW that wakes its fan of 2.5 kW, on 5 kW."""
    return tables_of(
        home(load("cooler", 3.0, use=at(40), requires=("fan",)),
             load("fan", 2.5, importance=0, use=at(40))),
        book(generator(5.0, 2000.0)))


def rows_hold_what_is_on():
    """An oven and a heater, 5.5 kW and 22.9 A on each leg, on 5 kW with 20.8 A on each leg."""
    return tables_of(
        home(load("oven", 3.0, allowed=MODULE, use=at(40)),
             load("heater", 2.5, allowed=MODULE, use=at(40))),
        book(generator(5.0, 2000.0)))


def never_on_together():
    """Heating and cooling, for both of which there would be room."""
    return tables_of(
        home(load("cooler", 2.0, allowed=MODULE, use=at(40), not_with=("heater",)),
             load("heater", 2.0, allowed=MODULE, use=at(40))),
        book(generator(5.0, 2000.0)))


def takeover_starts_all_direct_motors():
    """Two motors that cannot both start when the generator takes over, and no soft starter."""
    return tables_of(
        home(motor("pump", 1.0, 8.0, use=at(40)), motor("fan", 1.0, 8.0, use=at(40))),
        book(generator(8.0, 2000.0, short_time=0.9), soft_starters=()))


def one_motor_starts_while_the_rest_run():
    """A pump that starts beside an oven: 5.5 kW run, 7.2 kW start, 6.6 kW for a short time."""
    return tables_of(
        home(load("oven", 3.5, allowed=DIRECT_OR_OFF, use=at(40)),
             motor("pump", 2.0, 9.0, allowed=MODULE, use=at(40))),
        book(generator(6.0, 2000.0)))


def start_within_the_dip():
    """A pump of 12 kVA where 10 kVA can be started; a soft starter is dearer than a module."""
    return tables_of(
        home(motor("pump", 1.0, 12.0, use=at(40))),
        book(generator(6.0, 2000.0, short_time=2.0),
             soft_starters=(SoftStarter("soft", "soft starter", 0.4, 40.0, 400.0, 80.0),)))


def direct_loads_pass_the_calculation():
    """An oven of 20 kVA by nameplate that draws little, and a cooler of 3 kVA, on 12 kW.

    The module carries 100 A, more than the plate's 83.
    """
    sizes = book(generator(12.0, 2000.0))
    return tables_of(
        home(load("oven", 1.0, use=at(40), code=CodeEntry("appliance", 20_000.0)),
             load("cooler", 1.0, use=at(40), code=CodeEntry("cooling", 3_000.0))),
        replace(sizes, modules=(replace(sizes.modules[0], amperes=100.0),)))


TINY = {make.__name__: make for make in (
    one_generator, every_load_has_one_connection, woken_loads_are_connected,
    must_run_is_never_off_or_late, soft_starter_needs_a_connected_motor,
    controller_drives_modules, positions_hold_circuits, run_only_by_module,
    only_pending_calls_are_served, wakes, rows_hold_what_is_on, never_on_together,
    takeover_starts_all_direct_motors, one_motor_starts_while_the_rest_run, start_within_the_dip,
    direct_loads_pass_the_calculation)}
