"""Columns of the editable tables of a home."""

from __future__ import annotations

from collections.abc import Sequence
from typing import get_args

from planner.case.file import CODE_LETTERS, Blower, Wires
from planner.case.library import kinds
from planner.facts.home import Restarts
from ui.edits import Cell


def load_cells(
    load_ids: Sequence[str], panel_ids: Sequence[str], kinds_said: Sequence[str]
) -> tuple[Cell, ...]:
    """Columns of the loads: what they are and what their nameplates say.

    `kinds_said` are the kinds that the file names, known or not: what was typed stays in sight.
    """
    return (
        Cell("label", "Load", help="What the family calls it.", pinned=True),
        Cell("kind", "Kind", "choice", "Kind of the appliance library.",
             tuple(dict.fromkeys([*kinds(), *kinds_said]))),
        Cell("size", "Size", help="With its unit: 3 ton, 50 gal, 4.5 kW, 0.5 hp, 48 A."),
        Cell("running", "Runs at", help="From the nameplate: 18 A, 4.5 kW or 5 kVA."),
        Cell("locked_rotor", "Locked rotor", help="LRA of the nameplate: 80 A.", unit="A"),
        Cell("mca", "MCA", help="Minimum circuit ampacity of the nameplate: 25 A.", unit="A"),
        Cell("motor", "Motor", help="Horsepower of the nameplate: 0.75 hp.", unit="hp"),
        Cell("code_letter", "Code letter", "choice",
             "Of the motor's nameplate; with its horsepower it tells the locked-rotor kVA.",
             tuple(CODE_LETTERS)),
        Cell("nameplate", "Rated", help="Rating that the code counts: 5500 VA.",
             unit="VA"),
        Cell("year", "Made in", "whole", "Year of make of what cools or heats by a compressor."),
        Cell("eer", "EER", "number", "Of its nameplate, at 95 degF: 11.5."),
        Cell("blower", "Fan motor", "choice", "psc starts hard, ecm does not.", get_args(Blower)),
        Cell("wires", "Pump wires", "choice", "Of a pump in a well: a soft starter needs three.",
             get_args(Wires)),
        Cell("breaker", "Breaker", help="Branch breaker. A vehicle charger draws 80 % of it.",
             unit="A"),
        Cell("current_setting", "Set to", help="Current that a vehicle charger is set to.",
             unit="A"),
        Cell("restarts", "After a cut", "choice", "What it does when its power comes back.",
             get_args(Restarts)),
        Cell("leg", "Leg", "choice", "L1 or L2 at 120 V, both at 240 V.", ("L1", "L2", "both")),
        Cell("panel", "Panel", "choice", "Panel that its circuit starts from.", tuple(panel_ids)),
        Cell("requires", "Needs", "list", "Loads that must be on with it.", tuple(load_ids)),
        Cell("not_with", "Never with", "list", "Loads that are never on together with it.",
             tuple(load_ids)),
        Cell("room", "Room", help="The room that it heats or cools, where it is not the usual one: "
             "bedroom."),
    )


SEASONS = ("summer", "winter", "mild")


def day_cells(seasons_said: Sequence[str]) -> tuple[Cell, ...]:
    """Columns of the design days; `seasons_said` are what the file names, known or not."""
    season = Cell("season", "Season", "choice", "Which season's use of the loads applies.",
                  tuple(dict.fromkeys([*SEASONS, *seasons_said])))
    return (Cell("id", "Id", help="Lower-case letters, digits, hyphens."), Cell("label", "Day"),
            season, *DAY_CELLS)


DAY_CELLS = (
    Cell("weight", "Weight", "number", "How much it counts beside the other days."),
    Cell("low", "Lowest", help="Temperature at night: 74 degF.", unit="degF"),
    Cell("high", "Highest", help="Temperature by day: 97 degF.", unit="degF"),
)

PANEL_CELLS = (
    Cell("id", "Panel", help="Lower-case letters, digits, hyphens."),
    Cell("feeder", "Main or feeder", help="Its rating per leg: 200 A.", unit="A"),
    Cell("fed_from", "Fed from", help="The panel that feeds it; blank for the main one."),
)
