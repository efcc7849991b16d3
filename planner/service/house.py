"""The home as arrays: what the replay, the search and the model all read.

Rows are limits that add up over the loads that are on: real power, amperes on each leg, amperes
on each leg of each panel that could be overloaded. Every design day has draws of its own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from planner.arrays import Bools, Floats
from planner.facts.home import SLOTS_PER_DAY, DesignDay, Home
from planner.physics.draw import leg_amperes
from planner.physics.engine import ELECTRONIC_MORE
from planner.remembered import remembered
from planner.service.answer import ELECTRONIC, nature_to_engine
from planner.service.loops.inputs import KW_ROW, L1_ROW, L2_ROW, STORE, Cares, Wiring, Works
from planner.service.nature import Nature, nature_of
from planner.service.relations import padded
from planner.service.unlimited import with_unlimited
from planner.wiring import PanelRow, exclusions, order_pairs, panel_rows, requires_closure

HOUSES = 32
"""Homes that are remembered as arrays: a question asks of the same one again and again."""


@dataclass(frozen=True)
class House:
    """A home as arrays over n loads, C comforts, R rows, D days.

    T = 96·D are the slots of the design days, N = T·spell those of their spells: slot
    (day · spell + day of the spell) · 96 + quarter of an hour.

    Attributes
    ----------
    ids : tuple of str
        Load ids in the order of the file.
    nature : Nature
        How its loads work, what its comforts lose.
    weights : ndarray of float, shape (D,)
        Weight of each design day; sums to 1.
    draw : ndarray of float, shape (D, R, n)
        What each load adds to each row on a day: kW, amperes on L1, amperes on L2, panel amperes.
    panel_caps_a : ndarray of float, shape (R - 3,)
        Limits of the panel rows in amperes.
    row_names : tuple of str
        Name of each row, for messages.
    starting_kva, starting_pf, start_s : ndarray of float, shape (n,)
        Locked-rotor values at full voltage and seconds of a start; 0 kVA for what is no motor.
    closure : ndarray of bool, shape (n, n)
        ``closure[i, k]``: load i needs load k on (through any number of steps, not itself).
    exclusive : ndarray of bool, shape (n, n)
        Symmetric: the two are never on together.
    before : ndarray of bool, shape (n, n)
        ``before[i, k]``: load i stands ahead of k among the modules: from the wishes, from the
        stages of a room that work on the same day, and from importance where the home asks for it.
    wished : ndarray of bool, shape (n, n)
        The same without importance: here a direct load counts as ahead of all modules.
    must_run : ndarray of bool, shape (n,)
    """

    home: Home
    ids: tuple[str, ...]
    nature: Nature
    weights: Floats
    draw: Floats
    panel_caps_a: Floats
    row_names: tuple[str, ...]
    starting_kva: Floats
    starting_pf: Floats
    start_s: Floats
    closure: Bools
    exclusive: Bools
    before: Bools
    wished: Bools
    must_run: Bools

    @property
    def count(self) -> int:
        """Number of loads."""
        return len(self.ids)

    @property
    def spell(self) -> int:
        """Equal days on end that each design day is played for."""
        return self.home.spell_days

    @property
    def slots(self) -> int:
        """Number of slots of the design days, T."""
        return SLOTS_PER_DAY * len(self.weights)

    @property
    def works(self) -> Works:
        """How its loads work."""
        return self.nature.works

    @property
    def cares(self) -> Cares:
        """What its comforts lose."""
        return self.nature.cares

    @property
    def importance(self) -> Floats:
        """Part of each comfort in the coverage, shape (C,); sums to 1, or to 0 if none counts."""
        return self.nature.cares.share

    @cached_property
    def weight(self) -> Floats:
        """What a kW of each load counts at a start that nobody announced, shape (n,)."""
        return np.array([1.0 + ELECTRONIC_MORE * (nature_to_engine(load) == ELECTRONIC)
                         for load in self.home.loads])

    @cached_property
    def wiring(self) -> Wiring:
        """What the loads draw, and what needs or excludes what, for the loops."""
        days, rows, n = self.draw.shape
        return Wiring(
            draw=np.ascontiguousarray(self.draw.reshape(days * rows, n)),
            weighed=np.ascontiguousarray(self.draw[:, KW_ROW, :] * self.weight), rows=rows,
            spell=self.spell, needs=padded([[i, *np.flatnonzero(row)]
                                            for i, row in enumerate(self.closure)]),
            foes=padded([list(np.flatnonzero(row)) for row in self.exclusive]))

    def index(self, load_id: str) -> int:
        """Place of a load in the arrays; ValueError if there is none of that id."""
        return self.ids.index(load_id)

    def judged(self, slot: int) -> int:
        """Slot of the last day of the spell that belongs to a slot of the design days."""
        day, rest = divmod(slot, SLOTS_PER_DAY)
        return ((day + 1) * self.spell - 1) * SLOTS_PER_DAY + rest


@remembered(HOUSES)
def house_of(home: Home) -> House:
    """Turn a validated home into arrays; those of the last homes are remembered.

    Parameters
    ----------
    home : Home
        As read from a file; its wiring must be free of cycles.
    """
    ids = tuple(load.id for load in home.loads)
    place = {load_id: i for i, load_id in enumerate(ids)}
    weights = np.array([day.weight for day in home.days], dtype=np.float64)
    draw, caps, names = _rows(home, place, panel_rows(home))
    exclusive = _exclusive(home, place)
    nature = with_unlimited(home, nature_of(home), exclusive)
    wished = _wished(home, place, nature.works.can)
    starting_kva, starting_pf, start_s = _motors(home)
    return House(
        home=home,
        ids=ids,
        nature=nature,
        weights=weights / weights.sum(),
        draw=draw,
        panel_caps_a=caps,
        row_names=names,
        starting_kva=starting_kva,
        starting_pf=starting_pf,
        start_s=start_s,
        closure=_closure(home, place),
        exclusive=exclusive,
        before=wished | _by_importance(home),
        wished=wished,
        must_run=np.array([load.must_run for load in home.loads], dtype=np.bool_),
    )


def house_like(house: House, home: Home, panels: Sequence[PanelRow]) -> House:
    """Turn a home into arrays that has other values than the one of a house, and nothing else.

    What needs, excludes or stands ahead of what stays as it is.

    Parameters
    ----------
    house : House
    home : Home
        With the loads, comforts and design days of `house.home`, in the same order.
    panels : sequence of PanelRow
        Those of the home. Each is a row, so that all houses that are alike have the same rows.
    """
    place = {load_id: i for i, load_id in enumerate(house.ids)}
    draw, caps, names = _rows(home, place, panels, all_panels=True)
    starting_kva, starting_pf, start_s = _motors(home)
    return replace(
        house, home=home, nature=with_unlimited(home, nature_of(home), house.exclusive),
        draw=draw, panel_caps_a=caps, row_names=names, starting_kva=starting_kva,
        starting_pf=starting_pf, start_s=start_s)


def _motors(home: Home) -> tuple[Floats, Floats, Floats]:
    """Locked-rotor kVA at full voltage, power factors and seconds of all starts."""
    return (np.array([ld.starting_kva if ld.is_motor else 0.0 for ld in home.loads]),
            np.array([ld.starting_pf for ld in home.loads]),
            np.array([sum(step.seconds for step in ld.surge) for ld in home.loads]))


def _rows(
    home: Home, place: dict[str, int], panels: Sequence[PanelRow], *, all_panels: bool = False
) -> tuple[Floats, Floats, tuple[str, ...]]:
    legs = np.array([[leg_amperes(load.kva_on(day.id), load.leg) for load in home.loads]
                     for day in home.days])  # (D, n, 2)
    rows = [np.array([[load.kw_on(day.id) for load in home.loads] for day in home.days]),
            legs[:, :, 0], legs[:, :, 1]]
    names = ["running power", "leg L1", "leg L2"]
    caps: list[float] = []
    for panel in panels:
        below = np.zeros(len(place))
        below[[place[load_id] for load_id in panel.load_ids]] = 1.0
        for leg in range(2):
            if all_panels or float((legs[:, :, leg] @ below).max()) > panel.feeder_a:
                rows.append(legs[:, :, leg] * below)
                names.append(f"panel {panel.panel_id}, leg L{leg + 1}")
                caps.append(panel.feeder_a)
    return (np.array(rows).transpose(1, 0, 2).copy(), np.array(caps, dtype=np.float64),
            tuple(names))


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


def _wished(home: Home, place: dict[str, int], can: Bools) -> Bools:
    matrix = np.zeros((len(place), len(place)), dtype=np.bool_)
    for first, second in order_pairs(home):
        matrix[place[first], place[second]] = True
    works_on = np.asarray(can.reshape(len(place), -1, SLOTS_PER_DAY).any(axis=2))
    for comfort in home.comforts:
        stages = [place[one] for one in comfort.loads if home.load(one).nature == "room"]
        for later, k in enumerate(stages):
            for i in stages[:later]:
                matrix[i, k] |= bool((works_on[i] & works_on[k]).any())
    return matrix


def _by_importance(home: Home) -> Bools:
    rank = np.array([load.rank for load in home.loads])
    if home.order_rule != "importance":
        return np.zeros((len(rank), len(rank)), dtype=np.bool_)
    ahead: Bools = rank[:, None] > rank[None, :]
    return ahead


def day_of(house: House, slot: int) -> DesignDay:
    """Give the design day of a slot of the design days."""
    return house.home.days[slot // SLOTS_PER_DAY]


__all__ = ["KW_ROW", "L1_ROW", "L2_ROW", "STORE", "House", "day_of", "house_like", "house_of"]
