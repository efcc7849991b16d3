"""What a room lived through, beside the same outage with the utility."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.physics.comfort import farthest_livable_degf
from planner.simulation.columns import DISCOMFORT, ROOM, SET, SIGN, UNLIVABLE_H, WORST
from planner.simulation.outage import Outage


@dataclass(frozen=True, slots=True)
class RoomOutage:
    """One room in one outage.

    Attributes
    ----------
    id : str
        As in `planner.wiring.rooms`.
    cooled : bool
        Whether it was cooled or heated.
    set_degf, worst_degf, utility_degf : float
        Set point; warmest air of a room that is cooled, coldest of one that is heated; the same
        with the utility [degF].
    degree_h : float
        Degree-hours beyond 3 degF behind the set point, above those with the utility [degF·h].
    unlivable_h, utility_unlivable_h : float
        Hours beyond what is livable; the same with the utility.
    """

    id: str
    cooled: bool
    set_degf: float
    worst_degf: float
    utility_degf: float
    degree_h: float
    unlivable_h: float
    utility_unlivable_h: float


@dataclass(frozen=True, slots=True)
class RoomResult:
    """One room on one design day, over all its outages.

    Attributes
    ----------
    id, label : str
        Of the room.
    lived_in, connected : bool
        Whether people are in it; whether anything that heats or cools it is on standby power.
    day, day_label : str
        The design day.
    cooled, set_degf
        As in `RoomOutage`.
    worst_degf, utility_degf : float
        Worst of all outages [degF].
    degree_h, unlivable_h : float
        Means per day, above those with the utility [degF·h], [h].
    """

    id: str
    label: str
    lived_in: bool
    connected: bool
    day: str
    day_label: str
    cooled: bool
    set_degf: float
    worst_degf: float
    utility_degf: float
    degree_h: float
    unlivable_h: float

    @property
    def limit_degf(self) -> float:
        """Temperature beyond which the room is not livable [degF]."""
        behind_degf = farthest_livable_degf(self.set_degf, cooling=self.cooled)
        return self.set_degf + (behind_degf if self.cooled else -behind_degf)


def rooms_in(outage: Outage) -> tuple[RoomOutage, ...]:
    """Give what each room of an outage came to, by its id."""
    row, state, utility = outage.machines.parameters, outage.state, outage.with_utility
    return tuple(sorted((
        RoomOutage(
            id=room.id, cooled=bool(row[i, SIGN] > 0.0), set_degf=float(row[i, SET]),
            worst_degf=float(row[i, SET] + row[i, SIGN] * state[i, WORST]),
            utility_degf=float(row[i, SET] + row[i, SIGN] * utility[i, WORST]),
            degree_h=float(max(0.0, state[i, DISCOMFORT] - utility[i, DISCOMFORT])),
            unlivable_h=float(state[i, UNLIVABLE_H]),
            utility_unlivable_h=float(utility[i, UNLIVABLE_H]))
        for i, (room, _) in outage.rooms.items() if outage.machines.kind[i] == ROOM
    ), key=lambda one: one.id))


def worst_of(played: Sequence[RoomOutage]) -> tuple[float, float]:
    """Give the worst temperature of a room over outages of one day, and with the utility [degF]."""
    pick = max if played[0].cooled else min
    return pick(one.worst_degf for one in played), pick(one.utility_degf for one in played)
