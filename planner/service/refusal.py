"""Why a choice is refused: the rule, the slot and the numbers behind it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from planner.arrays import Ints
from planner.facts.home import SLOTS_PER_DAY
from planner.service.house import House
from planner.service.loops import rules
from planner.service.loops.inputs import KW_ROW, Power
from planner.service.supply import Supply


@dataclass(frozen=True)
class Refusal:
    """Why a choice is refused: the rule, the slot and the numbers behind it."""

    rule: str
    day: str
    hour: float
    demand: float
    limit: float
    unit: str

    def __str__(self) -> str:
        clock = f"{int(self.hour):02d}:{round(self.hour % 1 * 60):02d}"
        return (
            f"{self.rule} on {self.day} at {clock}: {self.demand:.1f} {self.unit} needed, "
            f"{self.limit:.1f} {self.unit} allowed"
        )


def direct_refused(
    house: House, supply: Supply, power: Power, connection: Ints, reason: int, slot: int,
    which: int,
) -> Refusal:
    """Say why what is always connected does not fit."""
    firm = np.zeros(house.count, dtype=np.bool_)
    rules.mark_firm(connection, slot, house.works, house.wiring, firm)
    day = house.home.days[slot // SLOTS_PER_DAY]
    hour = slot % SLOTS_PER_DAY / 4.0
    drawn = house.draw[slot // SLOTS_PER_DAY][:, firm].sum(axis=1)
    if reason == rules.OVER_ROW:
        return Refusal(f"{house.row_names[which]} of the always-connected loads", day.label, hour,
                       float(drawn[which]), float(power.caps[which]),
                       "kW" if which == KW_ROW else "A")
    label = house.home.loads[which].label
    if reason == rules.OVER_START:
        own = float(house.draw[slot // SLOTS_PER_DAY, KW_ROW, which])
        return Refusal(f"other load while {label} starts", day.label, hour,
                       float(drawn[KW_ROW]) - own, max(0.0, float(power.room_kw[which])), "kW")
    if reason == rules.OVER_DIP:
        return Refusal(f"starting kVA of {label}", day.label, hour, float(power.start_kva[which]),
                       supply.startable_kva, "kVA")
    if reason == rules.OVER_TAKEOVER:
        return Refusal("starting kVA of the always-connected motors at takeover", day.label, hour,
                       float(power.start_kva[firm].sum()), supply.takeover_kva, "kVA")
    return Refusal(f"{label} together with a load that excludes it", day.label, hour, 2.0, 1.0,
                   "loads")


def pick_up_refused(
    house: House, supply: Supply, load: int, reason: int, slot: int, amount: float
) -> Refusal:
    """Say which start that nobody announced cannot be picked up."""
    day = house.home.days[slot // (house.spell * SLOTS_PER_DAY)]
    hour = slot % SLOTS_PER_DAY / 4.0
    label = house.home.loads[load].label
    if reason == rules.OVER_PICK_DIP:
        return Refusal(f"starting kVA of {label}, unannounced", day.label, hour, amount,
                       supply.pick_kva, "kVA")
    return Refusal(f"an unannounced start of {label} on top of what runs", day.label, hour, amount,
                   supply.pick_kw, "kW")


def average_refused(house: House, supply: Supply, slot: int, mean_kw: float) -> Refusal:
    """Say on which day more is drawn on average than the maker permits."""
    day = house.home.days[slot // (house.spell * SLOTS_PER_DAY)]
    return Refusal("average power over 24 h", day.label, 0.0, mean_kw, supply.average_kw, "kW")


def fuel_refused(house: House, supply: Supply, slot: int, mean_kw: float) -> Refusal:
    """Say on which day more is drawn on average than the site has fuel for."""
    place = slot // (house.spell * SLOTS_PER_DAY)
    return Refusal("average power for which the fuel suffices", house.home.days[place].label, 0.0,
                   mean_kw, float(supply.fuel_kw[place]), "kW")
