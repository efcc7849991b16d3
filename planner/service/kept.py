"""How well the comforts of a home are kept in a play, each in its own unit."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from planner.arrays import Floats
from planner.facts.comfort import Comfort, ComfortKind
from planner.facts.home import SLOTS_PER_DAY
from planner.service.choice import MODULE, OFF, Choice
from planner.service.house import House
from planner.service.loops.inputs import State
from planner.service.loops.losing import follow, is_promised, kept_of, lose

Unit = Literal["degF", "cold showers", "lost", "miles", "spoiled", "h dry", "overflows", "h dark"]

UNITS: dict[ComfortKind, Unit] = {
    "room": "degF", "hot water": "cold showers", "meals": "lost", "task": "lost", "car": "miles",
    "food": "spoiled", "running water": "h dry", "pit": "overflows", "clock": "h dark",
}

BROKEN = {
    "lost": "{:.0f} cut or not done, promised none", "spoiled": "spoiled, promised safe",
    "overflows": "overflows, promised never",
}
"""How a promise is broken whose figure is a yes or no, or a whole number."""


@dataclass(frozen=True)
class Kept:
    """How well one comfort is kept.

    Attributes
    ----------
    comfort : Comfort
        Which one.
    kept : float
        0-1 over all design days; 1 as with unlimited power, 0 as if its loads never ran.
    by_day : ndarray of float, shape (D,)
        The same of single days; 1 where nothing can be lost.
    worst : ndarray of float, shape (D,)
        The worst of each spell in its unit: air temperature of a room; cold showers, lost tasks,
        hours dry of the worst day; miles at the worst departure; 1 where food is spoiled or a pit
        overflows; hours dark of the judged day. NaN where it is not used on that day.
    measured : ndarray of float, shape (D,)
        What its promise bounds, as a deviation.
    unit : str
    counts : bool
        Whether it counts in the coverage.
    """

    comfort: Comfort
    kept: float
    by_day: Floats
    worst: Floats
    measured: Floats
    unit: Unit
    counts: bool

    @property
    def hardest_day(self) -> int:
        """Place of the design day on which least of it is kept; the first of equals."""
        return int(np.argmin(self.by_day))


@dataclass(frozen=True, slots=True)
class Unkept:
    """A promise that is broken on a day, or a must-run load that is refused.

    `reached` and `limit` in the unit of the comfort; `load` is empty for a promise.
    """

    comfort: str
    label: str
    day: str
    reached: float
    limit: float
    unit: str
    load: str = ""

    def __str__(self) -> str:
        if self.load:
            return f"{self.label} must run, but would wait or miss a call on {self.day}"
        if self.unit == "degF":
            return (f"{self.label} reaches {self.reached:.1f} degF on {self.day}, "
                    f"promised {self.limit:.1f}")
        if self.unit == "miles":
            return (f"{self.label}: {self.reached:.0f} miles on {self.day}, "
                    f"promised {self.limit:.0f}")
        if self.unit in BROKEN:
            return f"{self.label}: {BROKEN[self.unit].format(self.reached)} on {self.day}"
        return (f"{self.label}: {self.reached:.1f} {self.unit} on {self.day}, "
                f"promised at most {self.limit:.0f}")


def kept_of_all(house: House, state: State) -> tuple[tuple[Kept, ...], float]:
    """Give how well every comfort is kept, and the coverage."""
    cares, works, spell = house.cares, house.works, house.spell
    days, total = len(house.weights), state.ceiling.shape[0]
    hopes = np.zeros(state.called.shape, dtype=np.bool_)
    level, loss = np.zeros(total), np.zeros(house.slots)
    found = []
    coverage, counted = 0.0, 0.0
    for c, comfort in enumerate(house.home.comforts):
        measured, lost = np.zeros(days), np.zeros(days)
        follow(c, spell, cares, state.given[c], level)
        lose(c, spell, cares, works, level, state.share, hopes, state.lost, loss, measured)
        kept = kept_of(c, cares, loss, lost)
        coverage += cares.share[c] * kept
        counted += cares.share[c]
        found.append(Kept(
            comfort, kept, _by_day(house, c, lost),
            np.array([_worst(house, c, d, level, loss, measured) for d in range(days)]),
            measured, UNITS[comfort.kind], bool(cares.share[c] > 0.0)))
    return tuple(found), coverage if counted > 0.0 else 1.0


def promises_broken(house: House, kept: tuple[Kept, ...]) -> tuple[Unkept, ...]:
    """Give the promises that are broken, the first day of each."""
    found = []
    for c, one in enumerate(kept):
        if is_promised(c, house.cares, one.measured):
            continue
        d = int(np.argmax(one.measured - house.cares.bound[c]))
        reached, limit = (in_unit(house, c, d, float(value))
                          for value in (one.measured[d], house.cares.bound[c, d]))
        found.append(Unkept(one.comfort.id, one.comfort.label, house.home.days[d].label, reached,
                            limit, one.unit))
    return tuple(found)


def must_run_unmet(house: House, choice: Choice, state: State) -> tuple[Unkept, ...]:
    """Give the must-run loads that are off, or refused anywhere in a spell."""
    found = []
    length = house.spell * SLOTS_PER_DAY
    for i in np.flatnonzero(house.must_run):
        load = house.home.loads[i]
        refused = (np.flatnonzero(state.called[i] & (state.share[i] <= 0.0))
                   if choice.connection[i] == MODULE else np.arange(0))
        off = choice.connection[i] == OFF or choice.connection[i] > MODULE
        if refused.size or (off and house.works.can[i].any()):
            day = house.home.days[int(refused[0]) // length if refused.size else 0]
            found.append(Unkept(load.comfort, load.label, day.label, 0.0, 0.0, "", load.id))
    return tuple(found)


def in_unit(house: House, c: int, d: int, measured: float) -> float:
    """Turn what a promise bounds into the unit of the comfort: a temperature, miles."""
    comfort, level = house.home.comforts[c], house.nature.levels[c][d]
    if comfort.kind == "room":
        return level.set_degf + measured if level.cooling else level.set_degf - measured
    if comfort.kind == "car":
        return level.full - measured
    return measured


def _by_day(house: House, c: int, lost: Floats) -> Floats:
    losable = house.nature.losable_by_day[c]
    return np.array([1.0 - one / whole if whole > 0.0 else 1.0
                     for one, whole in zip(lost, losable, strict=True)])


def _worst(
    house: House, c: int, d: int, level: Floats, loss: Floats, measured: Floats
) -> float:
    comfort, store = house.home.comforts[c], house.nature.levels[c][d]
    here = slice(d * SLOTS_PER_DAY, (d + 1) * SLOTS_PER_DAY)
    if comfort.kind == "room":
        return in_unit(house, c, d, float(measured[d])) if store.loads else float("nan")
    if comfort.kind == "car":
        if not store.loads:
            return float("nan")
        leaves = np.tile(store.weight > 0.0, house.spell)
        spell = level[d * leaves.size:(d + 1) * leaves.size][leaves]
        return store.full - float(spell.max())
    if comfort.kind == "clock":
        return float(loss[here].sum()) * 24.0 / SLOTS_PER_DAY
    if comfort.kind == "running water":
        return float(measured[d]) * 24.0 / SLOTS_PER_DAY
    return float(measured[d])
