"""What the plain rule needs to know about a home and a generator, reckoned from the home itself.

Only the calls come from the planner (`planner.service.use`, which has tests of its own); limits,
starts, legs, panels, wakes and exclusions are worked out here from their definitions.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.service.use import calls_of, use_on
from tests.oracle.slot_by_slot import DIRECT, OFF, SHED, best_of, play

WORD = {"off": OFF, "direct": DIRECT, "module": SHED}


@dataclass(frozen=True)
class Facts:
    """One home on one generator; arrays in the order of the file.

    `worth` is the coverage of one served call of weight 1; `idle` says that no load carries
    importance, in which case coverage is 1 by definition.
    """

    home: object
    generator: object
    derated_kw: float
    calls: np.ndarray
    weights: np.ndarray
    worth: np.ndarray
    idle: bool
    must_run: np.ndarray
    motor: np.ndarray
    start_kva: np.ndarray  # at full voltage, without soft starter
    rule: tuple[object, ...]  # arguments of the rule that no choice changes

    def starts(self, factors):
        """Starting kW and kVA of each load; `factors` is what a soft starter leaves, 1 for none."""
        loads = self.home.loads
        rating_kva = self.rating_kva
        kva = np.array([s * f for s, f in zip(self.start_kva, factors, strict=True)])
        pull = self.generator.reactance * kva / rating_kva
        kw = kva * np.array([ld.starting_pf for ld in loads]) * (1.0 - pull / (1.0 + pull)) ** 2
        running = np.array([ld.running_kw for ld in loads])
        start_kw = np.where(self.motor, np.maximum(kw, running), running)
        return start_kw, np.where(self.motor, kva, 0.0)

    @property
    def rating_kva(self):
        """The generator's kVA at the site."""
        rating = self.generator.ratings[self.home.fuel]
        share = self.derated_kw / rating.kw
        return rating.kva * (share if self.generator.derating.kva_too else 1.0)

    def play(self, connection, factors, order):
        """Play words (off, direct, module), soft starter factors and an order of places."""
        head, relations, limits = self.rule
        return play(*head, *self.starts(factors), self.motor, *relations, *limits,
                    np.array([WORD[w] for w in connection]), np.array(order, dtype=np.int64))

    def best(self, connection, factors, orders):
        """Most coverage over orders of places; -1 if no order is valid and keeps what must run."""
        must_be_on = [c for c, must in zip(connection, self.must_run, strict=True) if must]
        if "off" in must_be_on:
            return -1.0
        head, relations, limits = self.rule
        found = best_of(np.array(orders, dtype=np.int64).reshape(len(orders), -1), self.must_run,
                        self.worth, self.weights, *head, *self.starts(factors), self.motor,
                        *relations, *limits, np.array([WORD[w] for w in connection]))
        return 1.0 if self.idle and found >= 0.0 else found


def facts_of(home, generator):
    """Work out the facts of a home on a generator."""
    loads = home.loads
    place = {ld.id: i for i, ld in enumerate(loads)}
    calls = np.array([np.concatenate([calls_of(use_on(ld, d), d) for d in home.days])
                      for ld in loads])
    weights = np.array([d.weight for d in home.days])
    weights = weights / weights.sum()
    called = calls.reshape(len(loads), len(weights), 96).sum(axis=2) @ weights
    counts = np.array([0.0 if ld.must_run or called[i] == 0 else float(ld.importance)
                       for i, ld in enumerate(loads)])
    idle = counts.sum() == 0
    worth = np.array([0.0 if idle or not c else c / counts.sum() / n
                      for c, n in zip(counts, called, strict=True)])
    needs = np.zeros((len(loads),) * 2, dtype=np.bool_)
    for ld in loads:
        todo = list(ld.requires)
        while todo:
            other = todo.pop()
            if not needs[place[ld.id], place[other]]:
                needs[place[ld.id], place[other]] = True
                todo += home.load(other).requires
    apart = np.zeros_like(needs)
    for ld in loads:
        for other in ld.not_with:
            apart[place[ld.id], place[other]] = apart[place[other], place[ld.id]] = True
    members, panel_cap_a = _panels(home)
    rating = generator.ratings[home.fuel]
    slope = generator.derating
    lost = (slope.altitude_per_1000_ft * max(0.0, home.altitude_ft - slope.altitude_datum_ft) / 1000
            + slope.temperature_per_10_degf
            * max(0.0, max([home.summer_degf, *(day.high_degf for day in home.days)])
                  - slope.temperature_datum_degf) / 10)
    share = max(0.0, 1.0 - lost)
    kva_share = share if slope.kva_too else 1.0
    dip = home.limits.allowed_dip
    limits = (rating.kw * share * home.limits.largest_share, rating.amperes * kva_share,
              rating.kw * share * generator.short_time,
              rating.kva * kva_share * dip / ((1.0 - dip) * generator.reactance))
    legs_a = np.array([[1000.0 * ld.running_kva / (240.0 if ld.leg == "both" else 120.0)
                        * (ld.leg in (leg, "both")) for leg in ("L1", "L2")] for ld in loads])
    head = (calls, np.array([int(ld.wait_h * 4 + 1e-9) for ld in loads]),
            np.array([ld.running_kw for ld in loads]), legs_a)
    return Facts(
        home, generator, rating.kw * share, calls, weights, worth, bool(idle),
        np.array([ld.must_run for ld in loads]),
        np.array([ld.starting_kva > ld.running_kva for ld in loads]),
        np.array([ld.starting_kva for ld in loads]),
        (head, (needs, apart, members, panel_cap_a), limits))


def _panels(home):
    """Which loads hang below each panel, and what each may carry per leg; last row the service."""
    above = {panel.id: panel.fed_from for panel in home.panels}

    def path(panel_id):
        while panel_id is not None:
            yield panel_id
            panel_id = above[panel_id]

    members = [[panel.id in path(ld.panel) for ld in home.loads] for panel in home.panels]
    members.append([True] * len(home.loads))
    return np.array(members), np.array([*(p.feeder_a for p in home.panels), home.service_a])
