"""A value that nobody gave."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Assumption:
    """A value that the file does not give, or that it marks as assumed.

    `spread` is the plausible relative error (0.25 is a quarter more or less); 0 where the value
    is a choice of use, not a measurement.
    """

    key: str
    text: str
    source: str
    spread: float = 0.0

    @property
    def said_key(self) -> str:
        """The key as words: ``summer design``, ``days hot low``."""
        return self.key.removeprefix("home.").replace(".", " ").replace("_", " ")
