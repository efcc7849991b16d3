"""Which methods of the calculated load are permitted for what a feeder serves."""

from __future__ import annotations

from planner.facts.home import CodeEdition
from planner.physics.demand.tables import OPTIONAL_LEAST_A, clause


def why_not_optional(edition: CodeEdition, feeder_a: float, *, entire: bool) -> str:
    """Say why the optional method is not permitted behind a feeder; empty if it is.

    Parameters
    ----------
    edition : CodeEdition
        Of the code.
    feeder_a : float
        Rating of the feeder [A].
    entire : bool
        Whether the whole connected load of the dwelling is behind it, switched or not.

    References
    ----------
    NEC 220.82(A) (2017 to 2023): one set of 120/240 V service or feeder conductors of 100 A or more
    serves the total connected load. What is a part of it goes by Part III.
    """
    number = clause(edition, "220.82(A)")
    if not entire:
        return f"{number} asks for one feeder that serves the whole dwelling; this serves a part"
    if feeder_a < OPTIONAL_LEAST_A:
        return (f"{number} asks for a feeder of {OPTIONAL_LEAST_A:g} A or more; this one has "
                f"{feeder_a:g} A")
    return ""
