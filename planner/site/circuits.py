"""The circuits of a home by panel, each with its positions: a schedule as far as the home knows it.

Positions that the home states stay; loads that state the same are on one circuit. The others are
given by a rule: in each panel first what stands on both legs, then what stands on one, in the order
of the file; each takes the lowest free positions, odd before even, whose legs are those of the
load. Odd positions stand on the left, even ones on the
right, and the legs alternate from row to row (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from string import ascii_uppercase

from planner.facts.home import Home, Leg, Load
from planner.physics.wire.branch import Branch, usual_branch

SEVERAL = "several circuits, 210.11(A)"
"""NEC 210.11(A) (2017 to 2023), from memory: as many as the floor's load asks for."""


@dataclass(frozen=True, slots=True)
class Place:
    """A circuit at its positions: of a load, or of the feeder of another panel."""

    panel: str
    positions: tuple[int, ...]
    label: str
    breaker_a: float
    basis: str  # of the breaker: by the file, or the clause
    leg: Leg
    load: Load | None = None
    stated: tuple[str, ...] = ()  # its positions as the home states them

    @property
    def spaces(self) -> tuple[str, ...]:
        """Its positions in writing: ``9``, ``2A``."""
        return self.stated or tuple(map(str, self.positions))

    @property
    def poles(self) -> int:
        """Poles of its breaker."""
        return 2 if self.leg == "both" else 1

    @property
    def is_several(self) -> bool:
        """Whether it stands for the circuits of lights and receptacles of a floor."""
        return self.load is not None and device_of(self.load) is None


def circuits_of(home: Home) -> tuple[Place, ...]:
    """List the circuits of every panel of a home, by panel and position.

    Lights and receptacles of the whole floor are one load of the home and one entry here: how many
    circuits they have the home does not say.
    """
    found: list[Place] = []
    for panel in home.panels:
        fed = [(f"Subpanel {one.id}", one.feeder_a) for one in home.panels
               if one.fed_from == panel.id]
        loads = sorted((load for load in home.loads if load.panel == panel.id),
                       key=lambda load: load.leg != "both")
        taken = {number for load in loads for number in _numbers(load)}
        first: dict[tuple[str, ...], Load] = {}
        here = [Place(panel.id, _free("both", taken), label, amperes, "as the file gives it",
                      "both") for label, amperes in fed]
        for load in loads:
            branch = device_of(load)
            if branch is None:
                here.append(Place(panel.id, _numbers(load), load.label, 0.0, SEVERAL, load.leg,
                                  load, load.positions))
                continue
            if load.positions:
                one = first.setdefault(load.positions, load)
                shared = device_of(one) or branch
                basis = shared.clause if one is load else f"one circuit with {one.label}"
                here.append(Place(panel.id, _numbers(load), load.label, shared.breaker_a, basis,
                                  load.leg, load, load.positions))
                continue
            here.append(Place(panel.id, _free(load.leg, taken), load.label, branch.breaker_a,
                              branch.clause, load.leg, load))
        found += sorted(here, key=lambda place: place.positions)
    return tuple(found)


def device_of(load: Load) -> Branch | None:
    """Give the breaker of a load; None for lights and receptacles of a floor, which have several.

    The same on every drawing and table.
    """
    return None if load.code.area_ft2 > 0.0 else usual_branch(load)


def _numbers(load: Load) -> tuple[int, ...]:
    return tuple(int(space.rstrip(ascii_uppercase)) for space in load.positions)


def leg_at(position: int) -> Leg:
    """Leg of a position: 1 and 2 on L1, 3 and 4 on L2, and so on (common practice, no source)."""
    return "L1" if (position - 1) // 2 % 2 == 0 else "L2"


def _free(leg: Leg, taken: set[int]) -> tuple[int, ...]:
    """Take the lowest free positions for a leg; for both, one below the other on one side."""
    for positions in _candidates(leg):
        if not taken.intersection(positions):
            taken.update(positions)
            return positions
    raise AssertionError  # the candidates do not end


def _candidates(leg: Leg) -> Iterator[tuple[int, ...]]:
    for position in count(1):
        if leg == "both":
            yield position, position + 2
        elif leg_at(position) == leg:
            yield (position,)
