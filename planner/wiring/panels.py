"""Which loads each panel's feeder has to carry."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Home
from planner.wiring.graph import SERVICE, TRANSFER, build, panel_node


@dataclass(frozen=True, slots=True)
class PanelRow:
    """A limit in amperes that holds on each leg for the loads below a panel."""

    panel_id: str
    feeder_a: float
    load_ids: tuple[str, ...]


def panel_rows(home: Home) -> tuple[PanelRow, ...]:
    """List the panel limits of a home, in the order of its panels.

    A panel carries its own loads and those of the panels that it feeds. A panel that alone hangs on
    the service is limited by the smaller of its feeder and the service; where several hang on the
    service, each has its feeder and a row named ``service`` holds all loads to the service rating.

    Returns
    -------
    tuple of PanelRow
        `load_ids` in the order of the file.
    """
    wiring = build(home)
    roots = [panel.id for panel in home.panels if panel.fed_from is None]
    rows = []
    for panel in home.panels:
        below = wiring.loads_below(panel_node(panel.id))
        limit_a = min(panel.feeder_a, home.service_a) if roots == [panel.id] else panel.feeder_a
        rows.append(PanelRow(panel.id, limit_a, _in_file_order(home, below)))
    if len(roots) > 1:
        below = wiring.loads_below(TRANSFER)
        rows.append(PanelRow(SERVICE, home.service_a, _in_file_order(home, below)))
    return tuple(rows)


def _in_file_order(home: Home, load_ids: frozenset[str]) -> tuple[str, ...]:
    return tuple(load.id for load in home.loads if load.id in load_ids)
