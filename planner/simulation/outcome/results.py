"""Many outages together: means with their intervals, by comfort, load, and for the equipment."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import asdict, dataclass
from statistics import fmean
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import ArrayLike

from planner.arrays import Floats
from planner.facts.home import DesignDay
from planner.plan.plan import Plan
from planner.simulation.comforts import ComfortResult, day_of
from planner.simulation.outcome.mean import Mean, mean_of
from planner.simulation.outcome.summary import Summary
from planner.simulation.rooms import RoomOutage, RoomResult, worst_of
from planner.wiring.rooms import Room, rooms_of

if TYPE_CHECKING:
    import pandas as pd

LATE_S = 60.0  # a wait longer by less than this is not called late (a choice, no source)


@dataclass(frozen=True, slots=True)
class LoadResult:
    """What one load got, per day of outage, means over seeds and design days by weight.

    Attributes
    ----------
    service : Mean
        Energy served over energy wanted, at most 1 per day; run time made up later counts.
    kwh, wanted_kwh, run_h, wanted_h : float
        Per day.
    waits, usual_wait_h, longest_wait_h : float
        Waits per day; median and longest over all runs [h].
    late : float
        Waits per day that are longer than the load may wait, by more than `LATE_S`.
    missed, sheds : float
        Per day.
    degree_h : float
        Food too warm, above what it is with the utility, per day [degF·h].
    coldest_draw_degf, warmest_food_degf : float or None
        Worst over all runs, for the loads that have it.
    """

    id: str
    label: str
    planned: float
    service: Mean
    kwh: float
    wanted_kwh: float
    run_h: float
    wanted_h: float
    waits: float
    late: float
    usual_wait_h: float
    longest_wait_h: float
    missed: float
    sheds: float
    degree_h: float
    coldest_draw_degf: float | None
    warmest_food_degf: float | None


@dataclass(frozen=True, repr=False)
class Results:
    """Many outages of one plan: every seed on every design day.

    Raises
    ------
    ValueError
        If no seed has been played on every design day.
    """

    plan: Plan
    hours: float
    summaries: tuple[Summary, ...]

    def __post_init__(self) -> None:
        """Keep the seeds that have all design days, in their order."""
        days = [day.id for day in self.plan.menu.house.home.days]
        by_seed: dict[int, dict[str, Summary]] = {}
        for one in self.summaries:
            by_seed.setdefault(one.seed, {})[one.day] = one
        kept = [found[day] for _, found in sorted(by_seed.items())
                if set(days) <= found.keys() for day in days]
        if not kept:
            msg = "No seed was played on every design day."
            raise ValueError(msg)
        object.__setattr__(self, "summaries", tuple(kept))

    @property
    def seeds(self) -> int:
        """Number of seeds."""
        return len(self.summaries) // len(self.plan.menu.house.weights)

    @property
    def coverage(self) -> Mean:
        """Importance-weighted mean of how well the comforts are kept, as the plan counts it."""
        weight = self.plan.menu.house.importance
        total = float(weight.sum())
        return mean_of(self.kept_by_seed() @ weight / total if total else np.ones(self.seeds))

    def kept_by_seed(self) -> Floats:
        """Share that is kept of every comfort for every seed, shape (seeds, C), days by weight."""
        lost = self._by_weight(lambda one: [part.lost for part in one.comforts])
        losable = self._by_weight(lambda one: [part.losable for part in one.comforts])
        return 1.0 - lost / np.where(losable > 0.0, losable, 1.0)

    def comforts(self) -> tuple[ComfortResult, ...]:
        """Give every comfort of the home, in its order, beside what the plan says of it."""
        kept = self.kept_by_seed()
        days = self.plan.menu.house.home.days
        return tuple(
            ComfortResult(
                said.comfort, said.unit, mean_of(kept[:, c]), said.kept, said.counts,
                tuple(day_of(said, d, day, [one.comforts[c] for one in self.summaries
                                            if one.day == day.id])
                      for d, day in enumerate(days)))
            for c, said in enumerate(self.plan.comforts))

    def service_by_seed(self) -> Floats:
        """Service of every load for every seed, shape (seeds, n), days by weight.

        A connected load that never wanted power counts as served, one that is off as not served:
        the planner's rule.
        """
        kwh = self._daily(lambda one: np.minimum(one.kwh, one.wanted_kwh))
        wanted = self._daily(lambda one: one.wanted_kwh)
        idle = np.array([part.connection != "off" for part in self.plan.loads], dtype=np.float64)
        share = kwh / np.where(wanted > 0.0, wanted, 1.0)
        return np.where(wanted > 0.0, np.round(share, 9), idle)

    def loads(self) -> tuple[LoadResult, ...]:
        """Results of every load, in the order of the file."""
        service = self.service_by_seed()
        return tuple(self._load(i, service[:, i]) for i in range(service.shape[1]))

    def rooms(self) -> tuple[RoomResult, ...]:
        """Give every room on every design day on which it is heated or cooled, by room and day."""
        home = self.plan.menu.house.home
        off = {part.id for part in self.plan.loads if part.connection == "off"}
        return tuple(self._room(room, day, {*room.loads} <= off) for room in rooms_of(home)
                     for day in home.days if self._played(room.id, day.id))

    def __repr__(self) -> str:
        """Say in a line what was played and what came of it."""
        return f"<Results of {self.plan!r}: {self.seeds} seeds, {self.hours:g} h each>"

    def frame(self) -> pd.DataFrame:
        """Give the results of every load as a frame, one row each; units in the names."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        rows = [{**asdict(one), "service": one.service.value, "service_half": one.service.half}
                for one in self.loads()]
        return pd.DataFrame(rows).set_index("id")

    def per_day(self, figure: Callable[[Summary], ArrayLike]) -> Mean:
        """Mean of a figure that grows with time, per day of outage."""
        return mean_of(self._daily(figure))

    def worst(self, figure: Callable[[Summary], float], *, largest: bool = True) -> float:
        """Largest or smallest value of a figure over all outages."""
        found = [figure(one) for one in self.summaries]
        return float(max(found) if largest else min(found))

    def _daily(self, figure: Callable[[Summary], ArrayLike]) -> Floats:
        """A figure per day of outage for every seed, design days by weight: shape (seeds, ...)."""
        return self._by_weight(lambda one: np.asarray(figure(one)) * 24.0 / one.hours)

    def _by_weight(self, figure: Callable[[Summary], ArrayLike]) -> Floats:
        """A figure for every seed, design days by weight: shape (seeds, ...)."""
        weights = self.plan.menu.house.weights
        found = np.array([np.asarray(figure(one)) for one in self.summaries], dtype=np.float64)
        by_day = found.reshape(self.seeds, len(weights), *found.shape[1:])
        return np.asarray(np.einsum("sd...,d->s...", by_day, weights))

    def _played(self, room_id: str, day_id: str) -> list[RoomOutage]:
        return [room for one in self.summaries if one.day == day_id for room in one.rooms
                if room.id == room_id]

    def _room(self, room: Room, day: DesignDay, dark: bool) -> RoomResult:
        played = self._played(room.id, day.id)
        worst_degf, utility_degf = worst_of(played)
        days = self.summaries[0].hours / 24.0
        return RoomResult(
            id=room.id, label=room.label, lived_in=room.lived_in, connected=not dark, day=day.id,
            day_label=day.label, cooled=played[0].cooled, set_degf=played[0].set_degf,
            worst_degf=worst_degf, utility_degf=utility_degf,
            degree_h=fmean(one.degree_h for one in played) / days,
            unlivable_h=fmean(max(0.0, one.unlivable_h - one.utility_unlivable_h)
                              for one in played) / days)

    def _load(self, i: int, service: Floats) -> LoadResult:
        part = self.plan.loads[i]
        waits = np.concatenate([one.waits_h[i] for one in self.summaries])
        allowed_h = self.plan.menu.house.home.loads[i].wait_h + LATE_S / 3600.0

        def daily(figure: Callable[[Summary], ArrayLike]) -> float:
            return self.per_day(figure).value

        return LoadResult(
            id=part.id, label=part.label, planned=part.service, service=mean_of(service),
            kwh=daily(lambda one: one.kwh[i]), wanted_kwh=daily(lambda one: one.wanted_kwh[i]),
            run_h=daily(lambda one: one.run_h[i]), wanted_h=daily(lambda one: one.wanted_h[i]),
            waits=daily(lambda one: one.waits_h[i].size),
            late=daily(lambda one: (one.waits_h[i] > allowed_h).sum()),
            usual_wait_h=float(np.median(waits)) if waits.size else 0.0,
            longest_wait_h=float(waits.max()) if waits.size else 0.0,
            missed=daily(lambda one: one.missed[i]), sheds=daily(lambda one: one.sheds[i]),
            degree_h=daily(lambda one: one.degree_h[i]),
            coldest_draw_degf=_extreme([one.coldest_draw_degf[i] for one in self.summaries], min),
            warmest_food_degf=_extreme([one.warmest_food_degf[i] for one in self.summaries], max),
        )


def _extreme(values: Sequence[float], pick: Callable[[Sequence[float]], float]) -> float | None:
    known = [float(one) for one in values if np.isfinite(one)]
    return pick(known) if known else None
