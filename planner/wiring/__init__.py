"""How the house is wired: what hangs on what, what needs what, what must not run together."""

from planner.wiring.checks import check_wiring
from planner.wiring.graph import Wiring, build
from planner.wiring.panels import PanelRow, panel_rows
from planner.wiring.relations import exclusions, order_pairs, requires_closure

__all__ = [
    "PanelRow",
    "Wiring",
    "build",
    "check_wiring",
    "exclusions",
    "order_pairs",
    "panel_rows",
    "requires_closure",
]
