"""The home as arrays: what the replay, the search and the model all read.

Rows are limits that add up over the loads that are on: real power, amperes on each leg, amperes
on each leg of each panel that could be overloaded.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Bools, Floats, Ints
from planner.facts.home import SLOT_H, SLOTS_PER_DAY, Home
from planner.physics.draw import leg_amperes
from planner.service.loops import KW_ROW, L1_ROW, L2_ROW
from planner.service.use import calls_of, use_on
from planner.wiring import exclusions, order_pairs, panel_rows, requires_closure


@dataclass(frozen=True)
class House:
    """A home as arrays over n loads, R rows, D days and T = 96·D slots.

    Attributes
    ----------
    ids : tuple of str
        Load ids in the order of the file.
    calls : ndarray of bool, shape (n, T)
        Whether a load calls in a slot.
    weights : ndarray of float, shape (D,)
        Weight of each design day; sums to 1.
    draw : ndarray of float, shape (R, n)
        What each load adds to each row: kW, amperes on L1, amperes on L2, panel amperes.
    panel_caps_a : ndarray of float, shape (R - 3,)
        Limits of the panel rows in amperes.
    row_names : tuple of str
        Name of each row, for messages.
    starting_kva, starting_pf : ndarray of float, shape (n,)
        Locked-rotor values at full voltage; 0 kVA for a load that is no motor.
    wait_slots : ndarray of int, shape (n,)
        How many slots a call may be put off.
    closure : ndarray of bool, shape (n, n)
        ``closure[i, k]``: load i needs load k on (through any number of steps, not itself).
    exclusive : ndarray of bool, shape (n, n)
        Symmetric: the two are never on together.
    before : ndarray of bool, shape (n, n)
        ``before[i, k]``: if both take turns, i stands before k in the priority order: from the
        wishes, and from importance where the home asks for the order by importance (must-run
        loads first).
    importance : ndarray of float, shape (n,)
        Weight in coverage; 0 for must-run loads and for loads that never call.
    must_run : ndarray of bool, shape (n,)
    called : ndarray of float, shape (n,)
        Calls of each load, weighted by day.
    """

    home: Home
    ids: tuple[str, ...]
    calls: Bools
    weights: Floats
    draw: Floats
    panel_caps_a: Floats
    row_names: tuple[str, ...]
    starting_kva: Floats
    starting_pf: Floats
    wait_slots: Ints
    closure: Bools
    exclusive: Bools
    before: Bools
    importance: Floats
    must_run: Bools
    called: Floats

    @property
    def count(self) -> int:
        """Number of loads."""
        return len(self.ids)

    @property
    def slots(self) -> int:
        """Number of slots over all design days."""
        return int(self.calls.shape[1])

    def index(self, load_id: str) -> int:
        """Place of a load in the arrays; ValueError if there is none of that id."""
        return self.ids.index(load_id)


def house_of(home: Home) -> House:
    """Turn a validated home into arrays.

    Parameters
    ----------
    home : Home
        As read from a file; its wiring must be free of cycles.
    """
    ids = tuple(load.id for load in home.loads)
    place = {load_id: i for i, load_id in enumerate(ids)}
    calls = np.array(
        [np.concatenate([calls_of(use_on(load, day), day) for day in home.days])
         for load in home.loads],
        dtype=np.bool_,
    )
    weights = np.array([day.weight for day in home.days], dtype=np.float64)
    weights /= weights.sum()
    must_run = np.array([load.must_run for load in home.loads], dtype=np.bool_)
    called = calls.reshape(len(ids), len(weights), SLOTS_PER_DAY).sum(axis=2) @ weights
    importance = np.array([float(load.importance) for load in home.loads])
    importance[must_run | (called == 0)] = 0.0
    draw, caps, names = _rows(home, place)
    return House(
        home=home,
        ids=ids,
        calls=calls,
        weights=weights,
        draw=draw,
        panel_caps_a=caps,
        row_names=names,
        starting_kva=np.array([ld.starting_kva if ld.is_motor else 0.0 for ld in home.loads]),
        starting_pf=np.array([ld.starting_pf for ld in home.loads]),
        wait_slots=np.array([int(ld.wait_h / SLOT_H + 1e-9) for ld in home.loads], dtype=np.int64),
        closure=_closure(home, place),
        exclusive=_exclusive(home, place),
        before=_before(home, place),
        importance=importance,
        must_run=must_run,
        called=called,
    )


def _rows(home: Home, place: dict[str, int]) -> tuple[Floats, Floats, tuple[str, ...]]:
    legs = np.array([leg_amperes(load.running_kva, load.leg) for load in home.loads]).T
    rows = [np.array([load.running_kw for load in home.loads]), legs[0], legs[1]]
    names = ["running power", "leg L1", "leg L2"]
    caps: list[float] = []
    for panel in panel_rows(home):
        below = np.zeros(len(place))
        below[[place[load_id] for load_id in panel.load_ids]] = 1.0
        for leg, leg_a in enumerate(legs):
            if float(leg_a @ below) > panel.feeder_a:
                rows.append(leg_a * below)
                names.append(f"panel {panel.panel_id}, leg L{leg + 1}")
                caps.append(panel.feeder_a)
    return np.array(rows), np.array(caps, dtype=np.float64), tuple(names)


def _closure(home: Home, place: dict[str, int]) -> Bools:
    matrix = np.zeros((len(place), len(place)), dtype=np.bool_)
    for load_id, needed in requires_closure(home).items():
        for other in needed:
            if other != load_id:
                matrix[place[load_id], place[other]] = True
    return matrix


def _exclusive(home: Home, place: dict[str, int]) -> Bools:
    matrix = np.zeros((len(place), len(place)), dtype=np.bool_)
    for pair in exclusions(home):
        one, other = sorted(pair)
        matrix[place[one], place[other]] = matrix[place[other], place[one]] = True
    return matrix


def _before(home: Home, place: dict[str, int]) -> Bools:
    matrix = np.zeros((len(place), len(place)), dtype=np.bool_)
    for first, second in order_pairs(home):
        matrix[place[first], place[second]] = True
    if home.order_rule == "importance":
        rank = np.array([load.rank for load in home.loads])
        matrix |= rank[:, None] > rank[None, :]
    return matrix


__all__ = ["KW_ROW", "L1_ROW", "L2_ROW", "House", "house_of"]
