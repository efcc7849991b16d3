"""What filling a load leaves behind: the values it assumed and the findings it made."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.case.library import Curve, Given
from planner.case.messages import error, note, place, warning
from planner.errors import Finding
from planner.facts.assumption import Assumption


@dataclass(slots=True)
class Ledger:
    """The book kept while one load is filled; `where` is the file and the load."""

    where: str
    refused: frozenset[str] = frozenset()  # keys whose values were refused: not missing, wrong
    assumed: list[Assumption] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)

    def assume(self, key: str, text: str, source: str, spread: float = 0.0) -> None:
        """Mark a value as filled in."""
        self.assumed.append(Assumption(key, text, source, spread))

    def spread_of(self, key: str) -> float:
        """Spread of a value that was filled in; 0 if the file gives it."""
        return max((item.spread for item in self.assumed if item.key == key), default=0.0)

    def assume_given(self, key: str, text: str, given: Given | Curve) -> None:
        """Mark a value as filled in from the library."""
        self.assume(key, text, given.source, given.spread)

    def refuse(self, key: str, sentence: str, remedy: str = "") -> None:
        """Note an error, unless the key has been refused before."""
        if key not in self.refused:
            self.findings.append(error(place(self.where, key), sentence, remedy))

    def note(self, key: str, sentence: str, remedy: str = "") -> None:
        """Note what the reader should know."""
        self.findings.append(note(place(self.where, key), sentence, remedy))

    def doubt(self, key: str, sentence: str, remedy: str = "") -> None:
        """Note a warning."""
        self.findings.append(warning(place(self.where, key), sentence, remedy))
