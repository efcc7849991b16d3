"""From the table ``site`` of a home file to the facts of the site."""

from __future__ import annotations

from dataclasses import replace

from planner.case.draft import Draft
from planner.case.file import LoadEntry
from planner.case.site.file import (
    ApplianceEntry,
    GasSection,
    PlaceSection,
    ServiceSection,
    SiteSection,
    TankSection,
)
from planner.facts.home import Home
from planner.facts.site import (
    DELIVERY_SHARE,
    FUEL_BURNING,
    GasAppliance,
    GasService,
    PipeRun,
    Place,
    PropaneTank,
    ServiceEquipment,
    Site,
)
from planner.units import Quantity, UnitError, magnitude, parse

BURNERS = ("gas furnace", "gas boiler")
"""Kinds of load whose size is what they burn."""
ALONE = "generator"
"""Id of the run of its own that `pipe` stands for."""


def with_site(home: Home, draft: Draft) -> Home:
    """Give a home the site that its file describes.

    Parameters
    ----------
    home : Home
        As read without it; it must have its loads.
    draft : Draft
        The file taken apart.
    """
    said = draft.site
    if said is None:
        return home
    return replace(home, site=Site(
        wire_ft=_in(said.wire, "ft"), material=said.conductor, raceway=said.raceway,
        terminals_degc=_degc(said), trench_ft=_in(said.trench, "ft"), gas=_gas(said, draft, home),
        tank=None if said.tank is None else _tank(said.tank),
        fuel_days=_in(said.fuel_promise, "day"),
        place=_place(said.place or PlaceSection()),
        service=_service(said.service or ServiceSection())))


def burner_loads(draft: Draft) -> tuple[LoadEntry, ...]:
    """Loads of the file that burn gas and that no appliance of the site speaks of."""
    section = draft.site.gas if draft.site is not None else None
    told = {one.load for one in section.appliances} if section is not None else set()
    return tuple(load for load in draft.loads if load.kind in FUEL_BURNING and load.id not in told)


def burnt_btu_h(load: LoadEntry) -> float | None:
    """What a load burns by its size [Btu/h]; None where the size does not say it."""
    if load.kind not in BURNERS or load.size is None:
        return None
    try:
        return magnitude(parse(load.size, "heat rate"), "Btu/h")
    except UnitError:
        return None


def _gas(said: SiteSection, draft: Draft, home: Home) -> GasService | None:
    counted = tuple((load.id, heat) for load in burner_loads(draft)
                    if (heat := burnt_btu_h(load)) is not None)
    if said.gas is None and said.tank is None and not counted:
        return None
    section = said.gas or GasSection()
    usual = GasService()
    runs = tuple(PipeRun(run.id, magnitude(run.length, "ft"), run.fed_from, run.size,
                         tuple(run.appliances), run.generator) for run in section.runs)
    if section.pipe is not None and not runs:
        runs = (PipeRun(ALONE, magnitude(section.pipe, "ft"), generator=True),)
    labels = {load.id: load.label for load in home.loads}
    return GasService(
        pressure_psi=_in(section.pressure, "psi"),
        drop_in_wc=usual.drop_in_wc if section.drop is None else magnitude(section.drop, "inWC"),
        meter_ft3_h=_in(section.meter, "ft^3/h"), runs=runs,
        appliances=(*(_appliance(one, labels) for one in section.appliances),
                    *(GasAppliance(name, labels.get(name, name), heat, name, assumed=True)
                      for name, heat in counted)),
        btu_per_ft3=_in(section.heating_value, "Btu/ft^3"))


def _appliance(entry: ApplianceEntry, labels: dict[str, str]) -> GasAppliance:
    label = entry.label or labels.get(entry.load or "") or entry.id.replace("-", " ").capitalize()
    share = 0.0 if entry.burns is None else magnitude(entry.burns, "1")
    return GasAppliance(entry.id, label, magnitude(entry.input, "Btu/h"), entry.load or "", share)


def _tank(section: TankSection) -> PropaneTank:
    share = section.fill_at_delivery
    return PropaneTank(magnitude(section.size, "gal"), section.count,
                       DELIVERY_SHARE if share is None else magnitude(share, "1"))


def _place(section: PlaceSection) -> Place:
    return Place(
        opening_ft=_in(section.opening, "ft"), wall_ft=_in(section.wall, "ft"),
        wall_is_combustible=section.wall_is_combustible,
        gas_meter_ft=_in(section.gas_meter, "ft"),
        property_line_ft=_in(section.property_line, "ft"),
        neighbour_ft=_in(section.neighbour, "ft"),
        neighbour_limit_db=_in(section.neighbour_limit, "dB"), snow_in=_in(section.snow, "in"),
        flood_in=_in(section.flood, "in"), raised_pad=section.raised_pad)


def _service(section: ServiceSection) -> ServiceEquipment:
    rating_a = _in(section.interrupting_rating, "A")
    return ServiceEquipment(
        replaced=section.replaced, disconnect_outside=section.disconnect_outside,
        surge_protected=section.surge_protected, conductor=section.conductor,
        material=section.material,
        panel_working_depth_in=_in(section.working_depth, "in"),
        panel_working_width_in=_in(section.working_width, "in"),
        panel_rating_ka=None if rating_a is None else rating_a / 1000.0,
        bundled_cables=section.bundled_cables)


def _in(said: Quantity | None, unit: str) -> float | None:
    return None if said is None else magnitude(said, unit)


def _degc(said: SiteSection) -> int | None:
    degf = _in(said.terminals, "degF")
    return None if degf is None else round((degf - 32.0) / 1.8)
