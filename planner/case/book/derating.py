"""From what a book says of altitude and heat to the loss of an engine."""

from __future__ import annotations

from planner.case.book.file import DeratingEntry
from planner.facts.price_book import Derating
from planner.units import magnitude, parse


def derating(entry: DeratingEntry) -> Derating:
    """Read slopes and datums."""
    return Derating(
        altitude_per_1000_ft=magnitude(entry.altitude * parse("1000 ft", "length"), "1"),
        altitude_datum_ft=magnitude(entry.altitude_from, "ft"),
        temperature_per_10_degf=magnitude(entry.temperature * parse("10 degF", "temperature"), "1"),
        temperature_datum_degf=magnitude(entry.temperature_from, "degF"),
        kva_too=entry.kva_too,
    )
