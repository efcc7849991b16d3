"""What the controller was told at installation: rated draws, starts, order, relations."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np

from planner.arrays import Bools, FloatRows, Floats, IntRows, Ints
from planner.facts.engine import COMES_UP_S, SOFT_START_TIMES
from planner.facts.home import Load
from planner.physics.engine import pick_up_kw, start_room_kw
from planner.plan.plan import Plan
from planner.service.answer import ELECTRONIC, nature_to_engine
from planner.service.choice import DIRECT, NO_STARTER
from planner.service.supply import Supply
from planner.simulation.faults import Fault
from planner.simulation.generator import rated_leg_a
from planner.simulation.settings import Settings

LEGS = slice(1, 3)  # rows of the generator's legs, behind that of the kW
NOTHING: Final = 0
CURRENT: Final = 1
CALL: Final = 2
SENSES = {"nothing": NOTHING, "current": CURRENT, "call": CALL}
"""What a module senses: words of the price book, codes of the loops."""
USUAL_START_S = 0.5  # of a motor without a profile; common practice, no source


class Circuits(NamedTuple):
    """A plan as arrays over n loads and R rows (kW, amperes on L1 and L2, panel amperes).

    Attributes
    ----------
    connection : ndarray of int, shape (n,)
        `OFF`, `DIRECT`, `MODULE` or `BY_HAND` of `planner.service.choice`.
    order : ndarray of int, shape (modules,)
        Priority 1 first.
    needs, foes : ndarray of int, shape (n, m)
        Each load itself and what it needs; what is never on with it. Padded with -1.
    rated : ndarray of float, shape (R, n)
        What a load adds to each row when it runs.
    start_kw : ndarray of float, shape (n,)
        What a start alone takes from this engine [kW].
    start_kva, locked_kw : ndarray of float, shape (n,)
        Apparent and real power at standstill and full voltage, behind its soft starter.
    start_s : ndarray of float, shape (n,)
        Length of a start [s]; 0 for a load that is no motor.
    comes_up_s : ndarray of float, shape (n,)
        How long a load takes to come up to its draw; 0 for a step [s].
    nature : ndarray of int, shape (n,)
        `RESISTIVE`, `MOTOR` or `ELECTRONIC` of `planner.service.answer`.
    compressor : ndarray of bool, shape (n,)
    senses : ndarray of int, shape (n,)
        What the module of a load senses: `NOTHING`, `CURRENT` (while it is closed) or `CALL`.
    start_room_kw : ndarray of float, shape (n,)
        The other load on which a motor may be started [kW]; without limit for a load that is none.
    caps, shed_caps : ndarray of float, shape (R,)
        Limits for closing, and those whose excess opens a module.
    pick_up_kw, startable_kva, allowed_dip : float
        Load that the engine stands until modules open [kW]; what it starts at the allowed dip; and
        that, per unit.
    stuck_open, stuck_closed : ndarray of bool, shape (n,)
        Modules that do not obey.
    sensor_lost : bool
        Whether the measured load is missing.
    """

    connection: Ints
    order: Ints
    needs: IntRows
    foes: IntRows
    rated: FloatRows
    start_kw: Floats
    start_kva: Floats
    locked_kw: Floats
    start_s: Floats
    comes_up_s: Floats
    nature: Ints
    compressor: Bools
    senses: Ints
    start_room_kw: Floats
    caps: Floats
    shed_caps: Floats
    pick_up_kw: float
    startable_kva: float
    allowed_dip: float
    stuck_open: Bools
    stuck_closed: Bools
    sensor_lost: bool


def circuits_of(plan: Plan, fault: Fault, settings: Settings) -> Circuits:
    """Collect what a plan tells the controller, and what a fault takes away.

    Raises
    ------
    KeyError
        If the fault names a load that the home does not have.
    """
    house, supply, choice = plan.menu.house, plan.supply, plan.choice
    chosen = np.arange(house.count), np.array(choice.soft_start, dtype=np.int64)
    start_kw, start_kva = supply.start_kw[chosen], supply.start_kva[chosen]
    caps = supply.caps(house)
    shed_caps = caps.copy()
    shed_caps[0] = settings.overload_share * supply.derated_kw
    shed_caps[LEGS] = np.maximum(
        caps[LEGS], settings.overload_share * rated_leg_a(supply, house.home))
    caps[0] = min(caps[0], settings.admitted_share * supply.derated_kw)
    loads = house.home.loads
    motors = house.starting_kva > 0.0
    start_s = np.where(motors, [_start_s(plan, i) for i in range(house.count)], 0.0)
    return Circuits(
        connection=choice.connection_array(), order=choice.order_array(),
        needs=house.wiring.needs, foes=house.wiring.foes,
        rated=np.ascontiguousarray(house.draw.max(axis=0)), start_kw=start_kw, start_kva=start_kva,
        locked_kw=start_kva * house.starting_pf,
        start_s=start_s, comes_up_s=np.array([_comes_up_s(load) for load in loads]),
        senses=_senses(plan, settings),
        start_room_kw=_start_rooms_kw(supply, start_kw, start_s),
        nature=np.array([nature_to_engine(load) for load in loads], dtype=np.int64),
        compressor=np.array([ld.compressor for ld in loads], dtype=np.bool_),
        caps=caps, shed_caps=shed_caps,
        pick_up_kw=pick_up_kw(supply.derated_kw, supply.kva,
                              inertia_s=supply.generator.inertia_s, shed_s=settings.fast_s,
                              electronic_share=_electronic_share(plan)),
        startable_kva=supply.startable_kva,
        allowed_dip=house.home.limits.allowed_dip,
        stuck_open=_marks(house.ids, fault.stuck_open),
        stuck_closed=_marks(house.ids, fault.stuck_closed),
        sensor_lost=fault.sensor_lost,
    )


def _comes_up_s(load: Load) -> float:
    return COMES_UP_S if load.nature == "battery" or load.code.category == "vehicle" else 0.0


def _start_s(plan: Plan, i: int) -> float:
    """How long the start of load i takes, behind its soft starter [s]."""
    own_s = sum(step.seconds for step in plan.menu.house.home.loads[i].surge) or USUAL_START_S
    soft = plan.choice.soft_start[i]
    if soft == NO_STARTER:
        return own_s
    return plan.menu.book.soft_starters[soft - 1].start_s or SOFT_START_TIMES.value * own_s


def _electronic_share(plan: Plan) -> float:
    """Share of the rating that the electronics that are always connected take, at most 1."""
    kw = sum(load.running_kw for load, how in
             zip(plan.menu.house.home.loads, plan.choice.connection, strict=True)
             if how == DIRECT and nature_to_engine(load) == ELECTRONIC)
    return min(1.0, kw / plan.supply.derated_kw)


def _senses(plan: Plan, settings: Settings) -> Ints:
    if settings.senses != "as bought":
        code = CALL if settings.senses == "calls" else NOTHING
        return np.full(plan.menu.house.count, code, dtype=np.int64)
    kinds = [plan.menu.module_of(plan.choice, i) for i in range(plan.menu.house.count)]
    return np.array([SENSES[kind.senses] if kind else NOTHING for kind in kinds], dtype=np.int64)


def _start_rooms_kw(supply: Supply, start_kw: Floats, start_s: Floats) -> Floats:
    generator = supply.generator
    return np.array([
        start_room_kw(float(kw), float(seconds), supply.derated_kw, supply.kva,
                      inertia_s=generator.inertia_s, governor_s=generator.governor_s)
        if seconds > 0.0 else np.inf for kw, seconds in zip(start_kw, start_s, strict=True)])


def _marks(ids: tuple[str, ...], load_id: str | None) -> Bools:
    if load_id is not None and load_id not in ids:
        raise KeyError(load_id)
    return np.array([one == load_id for one in ids], dtype=np.bool_)
