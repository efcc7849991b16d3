"""What is not known of a site, and so neither checked nor in the price."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Home
from planner.facts.site import GasService, Site


@dataclass(frozen=True, slots=True)
class Lacking:
    """A thing of the site in plain words, and what of it a home would say: a fact, with its key."""

    thing: str
    fact: str


def lacking(home: Home) -> tuple[Lacking, ...]:
    """List what a home does not say of its site; each has a price once it is known."""
    site = home.site or Site()
    gas, propane = site.gas or GasService(), home.fuel == "propane"
    said = (
        (site.wire_ft, "the wire to the house", "the length of the wire (wire)"),
        (gas.runs or None, "the gas pipe", "the length of the gas pipe (gas.pipe)"),
        (site.trench_ft, "the trench", "how much of wire and pipe is dug in (trench)"),
        (site.tank if propane else gas.meter_ft3_h,
         "a propane tank" if propane else "a larger gas meter if one is needed",
         "the propane tank (tank.size)" if propane else "what the gas meter passes (gas.meter)"),
    )
    return tuple(Lacking(thing, fact) for known, thing, fact in said if known is None)
