"""What must not hang on a generator that somebody has to be there for."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Home
from planner.service.house import House

FREEZING_DEGF = 32.0


@dataclass(frozen=True, slots=True)
class Unattended:
    """Something of a home for which a portable generator is not recommended.

    `what` it is, `why`, and `only_if` says in which case it would be all right.
    """

    what: str
    why: str
    only_if: str


def unattended(house: House) -> tuple[Unattended, ...]:
    """List what of a home must go on while nobody is there or awake; empty if there is nothing."""
    home = house.home
    found = [Unattended(load.label, "somebody's health hangs on it; it needs a backup of its own",
                        f"{load.label} has a backup of its own that needs nobody")
             for load in home.loads if load.is_medical]
    told = {load.id for load in home.loads if load.is_medical}
    for comfort in home.comforts:
        if comfort.kind == "pit":
            found.append(Unattended(
                comfort.label, "water rises whether or not anybody is there",
                f"a pump with a battery of its own empties {comfort.label} while the engine "
                "stands"))
            told.update(comfort.loads)
    frosty = _frosty(house)
    if frosty:
        found.append(Unattended("Heat", f"on {frosty} pipes can freeze while nobody is there",
                                "nobody leaves the house alone while it freezes"))
    heating = {one for comfort in home.comforts if comfort.kind == "room" for one in comfort.loads}
    found += [Unattended(load.label, "the family wants it served whenever it calls",
                         f"{load.label} may stop while the engine stands")
              for load in home.loads
              if _must(home, load.id) and load.id not in told
              and not (frosty and load.id in heating)]
    return tuple(found)


def _must(home: Home, load_id: str) -> bool:
    return home.load(load_id).must_run or any(
        comfort.must_run and comfort.loads[:1] == (load_id,) for comfort in home.comforts)


def _frosty(house: House) -> str:
    """Label of the coldest design day that freezes and on which a room is heated; else empty."""
    home = house.home
    days = [day for d, day in enumerate(home.days) if day.low_degf < FREEZING_DEGF and any(
        comfort.kind == "room" and house.nature.levels[c][d].loads
        and not house.nature.levels[c][d].cooling for c, comfort in enumerate(home.comforts))]
    return min(days, key=lambda day: day.low_degf).label if days else ""
