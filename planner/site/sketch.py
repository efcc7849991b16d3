"""Where the generator stands: every distance that the home gives, beside what is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from planner.physics.clearances import FROM_RELIEF_FT
from planner.physics.noise import REFERENCE_FT
from planner.plan.plan import Plan
from planner.site.one_line.words import NOT_STATED
from planner.site.sheet.rows import Row, SiteSheet
from planner.site.wire import site_of

Verdict = Literal["OK", "NOT OK", "not stated", "minimum not stated", "limit not stated",
                  "no minimum"]
UNSTATED: Verdict = "not stated"


@dataclass(frozen=True, slots=True)
class Distance:
    """A distance of the sketch.

    Attributes
    ----------
    key : str
        ``opening``, ``wall``, ``gas-meter``, ``property-line``, ``neighbour``, ``wire``, ``tank``.
    what : str
        From the generator to what.
    found_ft : float or None
        As the home gives it [ft]; None: not stated.
    least : str
        What is asked for, in words with the unit; empty where nothing is known to be.
    verdict : Verdict
    source : str
        The clause, or that there is none.
    """

    key: str
    what: str
    found_ft: float | None
    least: str
    verdict: Verdict
    source: str

    @property
    def found(self) -> str:
        """The distance with its unit, or that it is not stated."""
        return NOT_STATED if self.found_ft is None else f"{self.found_ft:g} ft"


@dataclass(frozen=True, slots=True)
class Sketch:
    """The place of the generator of a plan.

    Attributes
    ----------
    distances : tuple of Distance
    generator : tuple of str
        Which it is, its outside, its sound.
    transfer, tank : str
        What is drawn, in words; `tank` is empty without propane.
    notes : tuple of str
        Sound, snow and water, wall, space in front of the panel.
    """

    distances: tuple[Distance, ...]
    generator: tuple[str, ...]
    transfer: str
    tank: str
    notes: tuple[str, ...]


def sketch_of(plan: Plan, sheet: SiteSheet) -> Sketch:
    """Collect what a sketch of the place shows; its checks are those of the site sheet."""
    site, place = site_of(plan), site_of(plan).place
    propane = plan.menu.house.home.fuel == "propane"
    distances = [
        _checked(sheet.row("opening"), place.opening_ft),
        _checked(sheet.row("wall"), place.wall_ft),
        _checked(sheet.row("gas-meter"), place.gas_meter_ft),
        _checked(sheet.row("property-line"), place.property_line_ft),
        _neighbour(plan, sheet),
        Distance("wire", "Wire to the transfer equipment, one way", site.wire_ft, "no minimum",
                 _without_minimum(site.wire_ft, none_asked=True), "its voltage drop: site sheet"),
    ]
    if propane:
        distances.append(Distance("tank", "To the propane tank", None,
                                  f"at least {FROM_RELIEF_FT:g} ft", UNSTATED,
                                  "NFPA 58 6.4 (from memory); ask the supplier"))
    transfer = f"{plan.price.transfer.label}; where meter and panel hang: {NOT_STATED}"
    return Sketch(tuple(distances), _generator(plan), transfer, _tank(plan) if propane else "",
                  _notes(sheet))


def _checked(row: Row, found_ft: float | None) -> Distance:
    verdict: Verdict
    if row.status in ("ok", "not ok"):
        verdict = "OK" if row.status == "ok" else "NOT OK"
    else:
        verdict = _without_minimum(found_ft)
    return Distance(row.key, row.what, found_ft, row.limit, verdict, row.clause)


def _without_minimum(found_ft: float | None, *, none_asked: bool = False) -> Verdict:
    if found_ft is None:
        return UNSTATED
    return "no minimum" if none_asked else "minimum not stated"


def _neighbour(plan: Plan, sheet: SiteSheet) -> Distance:
    """The neighbour's distance, held against the noise that is allowed there."""
    row, found_ft = sheet.row("noise"), site_of(plan).place.neighbour_ft
    least = f"no more than {row.limit}" if row.limit else ""
    verdict = _checked(row, found_ft).verdict
    if verdict == "minimum not stated":
        verdict = "limit not stated"
    return Distance("neighbour", "To the neighbour's nearest window or seat", found_ft, least,
                    verdict, row.clause)


def _generator(plan: Plan) -> tuple[str, ...]:
    generator = plan.supply.generator
    sides = [NOT_STATED if side is None else f"{side:g} in"
             for side in (generator.length_in, generator.width_in)]
    outside = NOT_STATED if set(sides) == {NOT_STATED} else " × ".join(sides)
    sound = (NOT_STATED if generator.noise_db is None
             else f"{generator.noise_db:g} dB at {REFERENCE_FT:g} ft")
    return generator.label, f"outside {outside}", f"sound {sound}"


def _tank(plan: Plan) -> str:
    tank, tanks = site_of(plan).tank, plan.menu.works.tanks
    if tank is None:
        return f"size {NOT_STATED}"
    parts = [_gallons(tank.count, tank.gal)] if tank.count else []
    if tanks is not None and tanks.added:
        more = "more " if parts else ""
        parts.append(f"{_gallons(len(tanks.added), tanks.added[0].gal)} {more}in the price")
    called = f"delivery called at {100.0 * tank.delivery_share:g} % fill"
    return f"{' and '.join(parts) or 'none'}; {called}"


def _gallons(count: int, gal: float) -> str:
    return f"{gal:g} gal" if count == 1 else f"{count} × {gal:g} gal"


def _notes(sheet: SiteSheet) -> tuple[str, ...]:
    notes = []
    for key in ("noise", "snow", "flood", "carbon-monoxide", "space-depth", "space-width"):
        row = sheet.row(key)
        text = NOT_STATED if row.status == "missing" and row.value is None else row.text
        limit = f" ({row.limit})" if row.limit and row.limit not in text else ""
        if row.status == "missing" and row.value is not None:
            limit = f"; limit {NOT_STATED}"
        verdict = {"ok": "OK.", "not ok": "NOT OK."}.get(row.status, "")
        todo = "" if row.status == "missing" else row.todo
        notes.append(" ".join(part for part in (
            f"{row.what}: {text}{limit}.", verdict, todo, f"[{row.clause}]") if part))
    return tuple(notes)
