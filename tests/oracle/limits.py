"""What one generator can do for a home: its limits and every start, from their definitions.

The voltage dip, the start room and the pick-up limit are the planner's physics, which has tests of
its own. Settled here:

- one rating holds on all design days, that of the hottest;
- every dip is reckoned at its most cautious, without the power factor of the motor;
- a start without a profile lasts 0.05 s, and behind a soft starter that does not say so twice as
  long as the motor's own;
- a start takes at least the largest running draw of any day;
- the feeder counts in every dip with all of its impedance as reactance, and in no starting kW;
- electronics count by a third more where a start is picked up, so that the limit is one on a sum.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

import numpy as np

from planner.physics.engine import start_room_kw, weighed_pick_up_kw
from planner.physics.motor_start import engine_start_kw, voltage_dip

HAIR = 1e-9
LEAST_START_S, SOFTER_TIMES, FAST_LEVEL_S = 0.05, 2.0, 0.5
TAKEOVER_DIP, PICK_UP_DIP = 0.30, 0.25
PERMITTED_AVERAGE, COUNTED_AT_LEAST = 0.70, 0.30


@dataclass(frozen=True)
class Limits:
    """Limits of a generator at a home; `panels` are (load ids, amperes per leg)."""

    home: object
    generator: object
    derated_kw: float
    kva: float
    kw_cap: float
    leg_cap_a: float
    pick_up_kw: float
    energy_cap_kwh: float
    panels: tuple[tuple[frozenset[str], float], ...]
    fuel_cap_kwh: tuple[float, ...] = ()
    feeder_ohm: float = 0.0

    def dip(self, kva):
        """Dip of several starts together, at its most cautious."""
        feeder = self.feeder_ohm * 1000.0 * self.kva / 240.0**2
        return voltage_dip(self.generator.reactance + feeder, kva, self.kva)

    def starts(self, soft):
        """Starts of each load behind its soft starter (None for none), by its place in the file.

        Returns starting kVA, the power its start takes [kW], the other load on which it can be
        started [kW], and whether its dip is allowed; (n,) each.
        """
        rows = [self._start(ld, starter)
                for ld, starter in zip(self.home.loads, soft, strict=True)]
        return tuple(np.array(column) for column in zip(*rows, strict=True))

    def _start(self, ld, starter):
        if ld.starting_kva <= ld.running_kva:
            return 0.0, 0.0, inf, True
        size = self.generator
        seconds = max(LEAST_START_S, sum(step.seconds for step in ld.surge))
        kva = ld.starting_kva
        if starter is not None:
            kva *= starter.factor
            seconds = SOFTER_TIMES * seconds if starter.start_s is None else starter.start_s
        running_kw = max(ld.kw_on(day.id) for day in self.home.days)
        kw = max(running_kw, engine_start_kw(kva, ld.starting_pf, size.reactance, self.kva))
        room = start_room_kw(kw, seconds, self.derated_kw, self.kva, inertia_s=size.inertia_s,
                             governor_s=size.governor_s)
        return kva, kw, room, self.dip(kva) <= self.home.limits.allowed_dip + HAIR


def limits_of(home, generator, fuel_kw=(), feeder_ohm=0.0):
    """Derate a generator for a home; average kW by day that the fuel allows, ohms of its feeder."""
    rating, slope = generator.ratings[home.fuel], generator.derating
    hottest_degf = max([home.summer_degf, *(day.high_degf for day in home.days)])
    lost = (slope.altitude_per_1000_ft / 1000.0
            * max(0.0, home.altitude_ft - slope.altitude_datum_ft)
            + slope.temperature_per_10_degf / 10.0
            * max(0.0, hottest_degf - slope.temperature_datum_degf))
    share = max(0.0, 1.0 - lost)
    apparent = share if slope.kva_too else 1.0
    derated_kw, kva = rating.kw * share, rating.kva * apparent
    permitted = generator.permitted_average
    return Limits(
        home, generator, derated_kw, kva,
        kw_cap=derated_kw * home.limits.largest_share,
        leg_cap_a=rating.amperes * apparent * home.limits.largest_share,
        pick_up_kw=weighed_pick_up_kw(derated_kw, kva, inertia_s=generator.inertia_s,
                                      shed_s=FAST_LEVEL_S),
        energy_cap_kwh=24.0 * derated_kw * (PERMITTED_AVERAGE if permitted is None else permitted),
        panels=_panels(home), fuel_cap_kwh=tuple(24.0 * kw for kw in fuel_kw),
        feeder_ohm=feeder_ohm)


def _panels(home):
    """Which loads hang below each panel, and what it may carry per leg; last the service."""
    above = {panel.id: panel.fed_from for panel in home.panels}

    def path(panel_id):
        while panel_id is not None:
            yield panel_id
            panel_id = above[panel_id]

    below = [(frozenset(ld.id for ld in home.loads if panel.id in path(ld.panel)), panel.feeder_a)
             for panel in home.panels]
    return (*below, (frozenset(ld.id for ld in home.loads), home.service_a))
