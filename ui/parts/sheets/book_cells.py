"""Columns of the editable tables of a price book."""

from __future__ import annotations

from typing import get_args

from planner.case.book.file import Cooling, PerformanceClass, Senses
from planner.case.file import Action
from planner.facts.home import Fuel, TransferKind
from ui.edits import Cell
from ui.parts.sheets.fields import Field

PRICES = (Cell("price", "Price", help="Of the part: 4000 USD.", unit="USD"),
          Cell("installation", "Installation", help="Installing it: 3200 USD.", unit="USD"))
NAMES = (Cell("id", "Id", help="Lower-case letters, digits, hyphens."), Cell("label", "Name"))


def _on(fuel: str) -> tuple[Cell, ...]:
    return tuple(Cell(f"ratings/{fuel}/{key}", f"{heading}, {fuel}", help=help_)
                 for key, heading, help_ in (
                     ("power", "Rating", "15 kW"), ("apparent", "Apparent", "15 kVA"),
                     ("current", "Amperes", "Per leg: 62.5 A"),
                     ("no_load", "Burns at no load", "85000 Btu/h"),
                     ("half_load", "Burns at half load", "171000 Btu/h"),
                     ("full_load", "Burns at full load", "256000 Btu/h")))


GENERATORS = (
    *NAMES, *PRICES, Cell("cooling", "Cooled by", "choice", options=get_args(Cooling)),
    Cell("reactance", "X'd", "number", "Per unit on its kVA: 0.21."),
    Cell("short_time", "Short-time power", help="As a share of the rating at this site: 107 %."),
    *(cell for fuel in get_args(Fuel) for cell in _on(fuel)),
    Cell("derating/altitude", "Loss with altitude", help="3 % per 1000 ft"),
    Cell("derating/altitude_from", "above", help="500 ft"),
    Cell("derating/temperature", "Loss with heat", help="1 % per 10 degF"),
    Cell("derating/temperature_from", "above ", help="85 degF"),
    Cell("inertia", "Inertia", help="0.41 s"),
    Cell("governor_lag", "Governor lag", help="0.2 s"),
    Cell("under_frequency", "Stops below", help="Under-frequency protection: 54 Hz"),
    Cell("under_frequency_after", "after", help="5 s"),
    Cell("under_voltage", "Stops below a voltage of", help="75 %"),
    Cell("under_voltage_after", "after ", help="5 s"),
    Cell("performance_class", "Class", "choice", "ISO 8528-5.", get_args(PerformanceClass)),
)
TRANSFERS = (
    *NAMES, *PRICES, Cell("kind", "Kind", "choice", options=get_args(TransferKind)),
    Cell("rating", "Rating", help="200 A"),
    Cell("positions", "Positions", "whole", "Poles that it takes; 0 for whole-house.", low=0,
         high=84),
)
MODULES = (
    *NAMES, *PRICES, Cell("action", "Opens", "choice", "The circuit, or the thermostat's.",
                          get_args(Action)),
    Cell("poles", "Poles", "whole", low=1, high=2),
    Cell("current", "Largest current", help="60 A"), Cell("motor", "Largest motor", help="10 hp"),
    Cell("senses", "Senses", "choice", "The call of its load, the current of its circuit, or "
         "nothing.", get_args(Senses)),
)
CONTROLLERS = (*NAMES, *PRICES, Cell("modules", "Drives", "whole", "Modules at most.", low=1,
                                     high=200))
SOFT_STARTERS = (
    *NAMES, *PRICES, Cell("factor", "Start reduced to", help="50 %"),
    Cell("current", "Largest running current", help="18 A"),
    Cell("start", "A start takes", help="1 s"),
)
SECTIONS = {
    "generators": ("Generators", GENERATORS),
    "transfers": ("Transfer equipment", TRANSFERS),
    "modules": ("Shedding modules", MODULES),
    "controllers": ("Controllers", CONTROLLERS),
    "soft_starters": ("Soft starters", SOFT_STARTERS),
}
BOOK = (
    Field("book", "label", "Name of the book"),
    Field("book", "notice", "Notice beside every price"),
    Field("book", "relocation", "Moving a circuit to the utility side", "400 USD",
          unit="USD"),
    Field("book", "permits", "Permits", "350 USD", unit="USD"),
    Field("book", "maintenance_per_year", "Maintenance a year", "175 USD", unit="USD"),
    Field("book", "natural_gas", "Natural gas", "1.25 USD/therm", unit="USD/therm"),
    Field("book", "propane", "Propane", "2.50 USD/gal", unit="USD/gal"),
)
