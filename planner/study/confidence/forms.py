"""The forms of a home's loads and comforts as arrays, on one generator, for the loops."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from planner.arrays import Bools, Floats
from planner.facts.comfort import WITHIN_DEGF, WITHIN_MILES, Comfort
from planner.facts.price_book import Generator, SoftStarter
from planner.service.house import House
from planner.service.loops.inputs import KW_ROW
from planner.service.loops.losing import EMPTY
from planner.service.supply import Supply, begins_kw, start_of
from planner.study.confidence.houses import Houses
from planner.study.confidence.loops.holding import Drawn
from planner.tolerances import LIMIT

T = TypeVar("T", bound=np.generic)


@lru_cache(maxsize=2)
def stacked(houses: Houses) -> Drawn:
    """Lay all forms one upon the other; what starts take is empty."""
    forms = houses.forms

    def rows(of: Callable[[House], NDArray[T]]) -> NDArray[T]:
        return np.ascontiguousarray(np.concatenate([of(form) for form in forms]))

    def lines(of: Callable[[House], Floats]) -> Floats:
        return np.array([of(form) for form in forms])

    slack = np.array([_slack(one) for one in houses.home.comforts])
    none = np.zeros((0, 0))
    return Drawn(
        load_group=houses.groups.load, comfort_group=houses.groups.comfort,
        can=rows(lambda one: one.works.can), gain=rows(lambda one: one.works.gain),
        threshold=rows(lambda one: one.works.threshold), need=rows(lambda one: one.works.need),
        keep=lines(lambda one: one.works.keep), full=lines(lambda one: one.works.full),
        comfort_keep=lines(lambda one: one.cares.keep),
        comfort_full=lines(lambda one: one.cares.full),
        limit=lines(lambda one: one.cares.limit), comfort_need=rows(lambda one: one.cares.need),
        weight=rows(lambda one: one.cares.weight), low=rows(lambda one: one.cares.low),
        high=rows(lambda one: one.cares.high), amount=rows(lambda one: one.cares.amount),
        bound=rows(lambda one: one.cares.bound + slack[:, None]),
        draw=rows(lambda one: one.wiring.draw), weighed=rows(lambda one: one.wiring.weighed),
        begins_kw=none, start_kw=none, start_kva=none, dip_ok=none.astype(np.bool_))


def _slack(comfort: Comfort) -> float:
    """By how much a promise may be missed, in the unit of the comfort."""
    if comfort.kind == "room":
        return WITHIN_DEGF
    if comfort.kind == "car" and comfort.promise is not None:
        return WITHIN_MILES * (comfort.promise.miles or 0.0)
    return EMPTY


@dataclass(frozen=True)
class Starts:
    """What the start of every load takes in every form, with the soft starters of a plan.

    `kw`, `kva`, `seconds` and `dip_ok` have the shape (F, n); 0 kVA for what is no motor.
    """

    kw: Floats
    kva: Floats
    seconds: Floats
    dip_ok: Bools

    @cached_property
    def motors(self) -> Bools:
        """Which loads are motors, shape (n,)."""
        return np.asarray((self.kva > 0.0).any(axis=0))

    def of(self, houses: Houses, drawn: Drawn) -> Drawn:
        """Add what starts take to the forms of the houses."""
        begins = [begins_kw(form, form.draw[:, KW_ROW, :], line)
                  for form, line in zip(houses.forms, self.kw, strict=True)]
        return drawn._replace(begins_kw=np.ascontiguousarray(np.concatenate(begins)),
                              start_kw=self.kw, start_kva=self.kva, dip_ok=self.dip_ok)


def starts_of(
    houses: Houses, supply: Supply, starters: tuple[SoftStarter | None, ...]
) -> Starts:
    """Work out what starts take in every form; `starters` has one entry for each load."""
    generator: Generator = supply.generator
    forms = houses.forms
    kw = np.array([form.draw[:, KW_ROW, :].max(axis=0) for form in forms])
    kva, seconds = np.zeros_like(kw), np.zeros_like(kw)
    for f, form in enumerate(forms):
        for i in np.flatnonzero(form.starting_kva):
            kva[f, i], kw[f, i], seconds[f, i] = start_of(
                form, int(i), starters[i], generator.reactance, supply.kva)
    return Starts(kw, kva, seconds, kva <= supply.startable_kva + LIMIT)
