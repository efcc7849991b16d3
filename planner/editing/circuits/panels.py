"""The panels of a schedule: the first is the home's, others hang on the circuits that feed them."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.case.messages import note, warning
from planner.editing.items import id_for
from planner.editing.values import Value
from planner.errors import Finding
from planner.importing.panel.record import Circuit
from planner.quoting import quoted

MAIN = "main"
LEAST_SERVICE_A = 60.0
"""NEC 230.79 (2017 to 2023), from memory: no disconnect of a service is smaller, but for one or
two circuits."""
_MAIN = re.compile(r"(?:main|mdp|msp|mp|service)\b", re.IGNORECASE)


class Panels:
    """Which panel of the home a circuit is in, and what the schedule says of panels."""

    def __init__(self, circuits: Sequence[Circuit], name: str) -> None:
        named = list(dict.fromkeys(one.panel for one in circuits))
        first = next((one for one in named if _MAIN.match(one)), named[0] if named else "")
        self.rows: list[dict[str, Value]] = []
        self.house: list[tuple[tuple[str, str], Value]] = []
        self._ids = {one: id_for(one, (MAIN,)) for one in named if one and one != first}
        self._first, self._name = first, name
        self._said: list[Finding] = []

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What was odd, with the panels of which nothing says what feeds them."""
        return tuple(self._said)

    def take(self, circuit: Circuit, where: str, *, is_main: bool) -> bool:
        """Take the main breaker, or a circuit that feeds another panel; whether it was."""
        breaker = f"{circuit.breaker_a:g} A" if circuit.breaker_a is not None else ""
        if is_main:
            if breaker and (circuit.breaker_a or 0.0) >= LEAST_SERVICE_A \
                    and circuit.panel == self._first:
                self.house.append((("home", "service"), breaker))
            self._said.append(note(where, f"{quoted(circuit.words)}{breaker and ', '}{breaker}: "
                                   "the main breaker, no load."))
            return True
        said = set(re.findall(r"[a-z0-9-]+", circuit.words.casefold()))
        fed = next((panel for panel in self._ids
                    if panel.casefold() in said or len(self._ids) == 1), None)
        if fed is None or not breaker:
            self._said.append(warning(where, f"{quoted(circuit.words)} feeds another panel: no "
                                      "load by itself.", "Add that panel's schedule."))
            return False
        row: dict[str, Value] = {"id": self._ids[fed], "feeder": breaker,
                                 "fed_from": self._ids.get(circuit.panel, MAIN)}
        if all(one["id"] != row["id"] for one in self.rows):
            self.rows.append(row)
        return True

    def id_of(self, circuit: Circuit) -> str | None:
        """Id of a circuit's panel; None for the first panel of the home."""
        return self._ids.get(circuit.panel)

    def settle(self, rows: Sequence[dict[str, Value]]) -> None:
        """Take loads of panels that nothing feeds as of the first panel, and say so."""
        known = {one["id"] for one in self.rows}
        for panel, name in self._ids.items():
            if name not in known:
                self._said.append(warning(
                    self._name, f"no circuit feeds panel {quoted(panel)}: its loads are taken as "
                    "of the first panel.", 'Add a row such as "Subpanel '
                    f'{panel}", with its breaker.'))
        for row in rows:
            if "panel" in row and row["panel"] not in known:
                del row["panel"]
