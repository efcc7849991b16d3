"""For each rule of the model a tiny invented home on which the rule binds, with what it can buy.

One design day alone, a piece of work or two around slot 40, 240 V loads at unity power factor
unless said. The engine has much inertia and may give all of its rating all day, so that starts and
averages bind only where they are meant to. The reactance is 0.2 per unit and 25 % of dip is
allowed, so that it starts V = kVA · 0.25 / (0.75 · 0.2) = 1.667 · kVA, and 2.143 · kVA at takeover.
Loads count nothing by code, so that the calculated load binds only where it is meant to.
"""

from __future__ import annotations

from dataclasses import replace

from planner.facts.comfort import Promise
from planner.facts.home import CodeEntry, SurgeStep, Use
from planner.facts.price_book import SoftStarter, Transfer
from planner.model.tables import Tables
from planner.search.problem import problems_of
from tests.homes import ALL, book, generator, home
from tests.homes import load as counted_load

DIRECT, MODULE = frozenset({"direct"}), frozenset({"module"})
DIRECT_OR_OFF, MODULE_OR_OFF = frozenset({"direct", "off"}), frozenset({"module", "off"})
SELECTED = frozenset({"selected-circuits"})
SMALL_PANELS = (Transfer("two", "2 positions", "selected-circuits", 60.0, 2, 300.0, 100.0),
                Transfer("four", "4 positions", "selected-circuits", 60.0, 4, 500.0, 200.0))


def load(load_id, kw, **changes):
    """A load that counts nothing by code; keyword arguments replace."""
    return counted_load(load_id, kw, **{"code": CodeEntry("appliance", 0.0), **changes})


def work(load_id, kw, *slots, **changes):
    """A piece of work in slots on end that takes turns."""
    return load(load_id, kw, **{"nature": "task", "use": at(*slots), "allowed": MODULE, **changes})


def motor(load_id, kw, start_kva, *slots, **changes):
    """A motor with a locked-rotor kVA and a piece of work."""
    return work(load_id, kw, *slots, **{
        "starting_kva": start_kva, "soft_start_fits": True,
        "surge": (SurgeStep(0.3, 0.5 * start_kva, start_kva),), **changes})


def oven(kw, *slots):
    """An oven that is always connected and so counts in no coverage."""
    return work("oven", kw, *slots, allowed=DIRECT)


def spa(kw, *slots):
    """A spa that nobody cares about: off, or left for the family to switch off."""
    return work("spa", kw, *slots, importance=0, allowed=frozenset({"by hand", "off"}))


def well(kw, *slots, **changes):
    """A well pump behind which the taps run dry in the slots in which it is not on."""
    return load("well", kw, **{"nature": "pressure", "use": at(*slots), "allowed": MODULE_OR_OFF,
                               **changes})


def house(*loads, **changes):
    """A home of one design day that stands alone."""
    return home(*loads, **{"spell_days": 1, **changes})


def engine(kw, usd=2000.0, **changes):
    """A set with much inertia that may give its rating all day."""
    return generator(kw, usd, **{"inertia_s": 2.0, "permitted_average": 1.0, **changes})


def tables_of(one, sizes):
    """Tables of a home with every generator of the book to choose from."""
    found = problems_of(one, sizes)
    return Tables(found[0].house, tuple(problem.menu for problem in found),
                  tuple(problem.supply for problem in found))


def at(*slots):
    """Use that calls in these slots of every day."""
    return {"every": Use("calls", calls="".join("1" if t in slots else "0" for t in range(96)))}


def promised(one, comfort_id, promise):
    """The home with a promise about one of its comforts."""
    return replace(one, comforts=tuple(
        replace(each, promise=promise) if each.id == comfort_id else each
        for each in one.comforts))


def sensing(sizes, senses="call"):
    """The book with modules that sense the call of their load, or what is said."""
    return replace(sizes, modules=tuple(replace(one, senses=senses) for one in sizes.modules))


def one_generator():
    """An oven of 12 kW; the sizes of 7 and 8 kW take a narrow switch, that of 14 kW does not."""
    narrow = Transfer("narrow", "narrow switch", "whole-house", 55.0, 0, 150.0, 50.0)
    sizes = book(engine(7.0, 1000.0), engine(8.0, 1100.0), engine(14.0, 4000.0))
    return tables_of(house(work("kiln", 12.0, 40), service_a=55.0),
                     sensing(replace(sizes, transfers=(narrow, *sizes.transfers))))


def every_load_has_one_connection():
    """A kiln larger than the generator."""
    return tables_of(house(work("kiln", 6.0, 40, allowed=ALL)), book(engine(5.0)))


def woken_loads_are_connected():
    """A cooler that needs a fan, which must be behind a module."""
    return tables_of(
        house(work("cooler", 2.0, 40, allowed=ALL, requires=("fan",)),
              load("fan", 0.5, nature="woken", importance=0, allowed=MODULE, use=at())),
        book(engine(5.0)))


def direct_loads_stand_ahead():
    """A kiln that is never to stand before the pump, which must be behind a module."""
    return tables_of(
        house(work("pump", 1.0, 40), work("kiln", 2.0, 40, allowed=ALL),
              never_before=(("kiln", "pump"),)),
        book(engine(5.0)))


def must_run_is_never_refused():
    """A pump that must run and could wait, and a kiln that cannot; there is room for one."""
    return tables_of(
        house(work("pump", 3.0, 40, must_run=True, wait_h=0.25), work("kiln", 3.0, 40)),
        book(engine(5.0)))


def modules_that_sense_are_modules():
    """A heater for an hour beside a kiln; a module that senses its call costs 60 USD more."""
    sizes = sensing(book(engine(6.0, inertia_s=0.1)), "current")
    dearer = tuple(replace(one, id="sensing", senses="call", price=one.price + 60.0)
                   for one in sizes.modules)
    return tables_of(
        house(work("kiln", 3.0, 40, 41, allowed=ALL),
              load("heater", 2.3, use=at(41, 42, 43, 44), nature="clock", allowed=ALL)),
        replace(sizes, modules=(*sizes.modules, *dearer)))


def modules_that_stay_open_leave_a_load_off():
    """A kiln larger than the generator, which costs 400 USD to move, and a lathe that fits."""
    return tables_of(house(work("lathe", 1.0, 40, allowed=DIRECT_OR_OFF),
                           work("kiln", 6.0, 40, allowed=DIRECT_OR_OFF)),
                     book(engine(5.0), relocation=400.0))


def soft_starter_needs_a_connected_motor():
    """Two motors that cannot take turns; both starts at once take 18 kVA of 17.1."""
    return tables_of(
        house(*(motor(name, 1.0, 9.0, 40, allowed=DIRECT_OR_OFF) for name in ("pump", "fan"))),
        book(engine(8.0)))


def controller_drives_modules():
    """Three loads that must take turns; the small controller drives two modules."""
    return tables_of(house(*(work(name, 1.0, 40) for name in ("kiln", "pump", "fan"))),
                     book(engine(5.0)))


def positions_hold_circuits():
    """Two circuits of two poles each; two selected positions cost less than four."""
    return tables_of(
        house(work("kiln", 2.0, 40, allowed=ALL), work("pump", 2.0, 41, allowed=ALL),
              transfer_kinds=SELECTED),
        book(engine(5.0), transfers=SMALL_PANELS))


def turns_are_taken_by_module():
    """A well pump that takes turns or is moved off standby power."""
    return tables_of(house(well(3.0, 40, 41, 42, 43)), book(engine(5.0)))


def tasks_are_done_in_time():
    """Half an hour of work that may begin in slot 40 or 41; in 41 the oven leaves it no room."""
    return tables_of(house(oven(3.0, 41), work("kiln", 3.0, 40, 41, wait_h=0.25)),
                     book(engine(5.0)))


def wakes():
    """A cooler that wakes a fan, together 3 kW, a kiln and a pump of 1.2 kW each, on 5 kW."""
    return tables_of(
        house(work("cooler", 1.5, 40, requires=("fan",)),
              load("fan", 1.5, nature="woken", importance=0, allowed=MODULE, use=at()),
              work("kiln", 1.2, 40), work("pump", 1.2, 40)),
        book(engine(5.0)))


def direct_loads_fit_together():
    """A kiln of 3 kW, and a spa of 2.5 kW that the family could switch off by hand, on 5 kW."""
    return tables_of(house(spa(2.5, 40), work("kiln", 3.0, 40, allowed=DIRECT_OR_OFF)),
                     book(engine(5.0)))


def rows_hold_what_is_on():
    """Three loads of 2 kW and 8.3 A on each leg, on 5 kW with 20.8 A on each leg."""
    return tables_of(house(*(work(name, 2.0, 40) for name in ("kiln", "pump", "fan"))),
                     book(engine(5.0)))


def never_on_together():
    """Heating and cooling, for both of which there would be room."""
    return tables_of(
        house(work("cooler", 2.0, 40, not_with=("heater",)), work("heater", 2.0, 40)),
        book(engine(5.0)))


def takeover_starts_all_direct_motors():
    """Two motors that cannot both start when the generator takes over, and no soft starter."""
    return tables_of(
        house(*(motor(name, 1.0, 9.0, 40, allowed=frozenset({"direct", "module"}))
                for name in ("pump", "fan"))),
        book(engine(8.0), soft_starters=()))


def direct_motors_start_beside_the_rest():
    """A pump that starts beside no more than a spa that the family could switch off by hand."""
    return tables_of(
        house(spa(3.0, 40), motor("pump", 2.0, 9.0, 40, allowed=DIRECT_OR_OFF)),
        book(engine(6.0, inertia_s=0.3), soft_starters=()))


def one_motor_starts_while_the_rest_run():
    """A pump that starts beside a kiln or a lathe, not beside both; their 5 kW would fit 6."""
    return tables_of(
        house(motor("pump", 2.0, 9.0, 40), work("kiln", 1.5, 40), work("lathe", 1.5, 40)),
        sensing(book(engine(6.0, inertia_s=0.3), soft_starters=())))


def start_within_the_dip():
    """A pump of 12 kVA where 10 kVA can be started; a soft starter is dearer than a module."""
    return tables_of(
        house(motor("pump", 1.0, 12.0, 40, allowed=frozenset({"direct", "module"}))),
        sensing(book(engine(6.0), soft_starters=(
            SoftStarter("soft", "soft starter", 0.4, 40.0, 400.0, 80.0),))))


def unannounced_starts_are_picked_up():
    """A heater of 2.5 kW that comes on while a kiln of 3 kW is on, on a light engine."""
    return tables_of(
        house(work("kiln", 3.0, 40, 41, allowed=ALL), work("heater", 2.5, 41, allowed=ALL)),
        sensing(book(engine(6.0, inertia_s=0.1)), "current"))


def day_stays_within_the_average():
    """Two pieces of work of 3 kW for half an hour each, on 5 kW that may give 31 % all day."""
    return tables_of(house(work("kiln", 3.0, 40, 41), work("pump", 3.0, 42, 43)),
                     book(engine(5.0, permitted_average=0.31)))


def what_is_missing_stays_missing():
    """A well pump that has no room beside the oven in one of four slots in which water is drawn."""
    return tables_of(house(oven(2.6, 41), well(2.6, 40, 41, 42, 43)), book(engine(5.0)))


def loss_grows_with_the_deviation():
    """A water heater that has no room beside the oven while water is drawn, from 0 to 2 h."""
    hours = (0.8, 0.8, *(0.0,) * 22)
    return tables_of(
        house(oven(3.0, *range(8)), load("tank", 4.5, nature="tank", allowed=MODULE,
                                          use={"every": Use("duty", hours=hours)})),
        book(engine(5.0)))


def dark_slots_are_lost():
    """Lamps that are wanted for an hour, and an oven that leaves them no room for half of it."""
    return tables_of(
        house(oven(3.0, 40, 41), load("lamps", 3.0, allowed=MODULE, use=at(40, 41, 42, 43))),
        book(engine(5.0)))


def a_stretch_beyond_the_limit_spoils():
    """A freezer for which there is no room on two days; it warms to its limit within them."""
    return tables_of(
        house(load("oven", 4.8, allowed=DIRECT, importance=3),
              load("freezer", 0.3, kind="freezer", nature="box", allowed=MODULE,
                   use={"every": Use("duty", hours=(0.4,) * 24)}), spell_days=2),
        book(engine(5.0)))


def promises_are_kept():
    """A range whose meals are promised, and a kiln that matters more; there is room for one."""
    return tables_of(
        promised(house(work("range", 3.0, 40, importance=1), work("kiln", 3.0, 40)), "range",
                 Promise(uncut=True)),
        book(engine(5.0)))


def connected_loads_pass_the_calculation():
    """A kiln of 20 kVA by nameplate that draws little, and a cooler of 3 kVA, on 12 kW.

    The module carries 100 A, more than the plate's 83.
    """
    sizes = book(engine(12.0))
    return tables_of(
        house(work("kiln", 1.0, 40, allowed=ALL, code=CodeEntry("appliance", 20_000.0)),
              work("cooler", 1.0, 40, allowed=ALL, code=CodeEntry("cooling", 3_000.0))),
        replace(sizes, modules=(replace(sizes.modules[0], amperes=100.0),)))


TINY = {make.__name__: make for make in (
    one_generator, every_load_has_one_connection, woken_loads_are_connected,
    direct_loads_stand_ahead, must_run_is_never_refused, modules_that_sense_are_modules,
    modules_that_stay_open_leave_a_load_off, soft_starter_needs_a_connected_motor,
    controller_drives_modules, positions_hold_circuits, turns_are_taken_by_module,
    tasks_are_done_in_time, wakes, direct_loads_fit_together, rows_hold_what_is_on,
    never_on_together, takeover_starts_all_direct_motors, direct_motors_start_beside_the_rest,
    one_motor_starts_while_the_rest_run, start_within_the_dip, unannounced_starts_are_picked_up,
    day_stays_within_the_average, what_is_missing_stays_missing, loss_grows_with_the_deviation,
    dark_slots_are_lost, a_stretch_beyond_the_limit_spoils, promises_are_kept,
    connected_loads_pass_the_calculation)}
