"""A generator too near to the house, said beside every price."""

from __future__ import annotations

from collections.abc import Iterator

from planner.errors import Finding, Severity
from planner.facts.home import Home
from planner.physics.clearances import FROM_OPENINGS_FT, FROM_WALLS_FT
from planner.plan.site.parts import WHERE
from planner.tolerances import meets

FIRE = "NFPA 37 4.1.4"
TESTED = "or show a listing whose fire test allows less for this enclosure"


def place_findings(home: Home) -> Iterator[Finding]:
    """Warn of distances from openings and from walls that burn, where the home gives them."""
    place = home.site.place if home.site is not None else None
    if place is None:
        return
    if place.opening_ft is not None and not meets(FROM_OPENINGS_FT, place.opening_ft):
        yield Finding(
            Severity.WARNING, f"{WHERE}: place.opening", f"the generator stands "
            f"{place.opening_ft:g} ft from a door, window or vent: exhaust may come in, and carbon "
            f"monoxide kills. At least {FROM_OPENINGS_FT:g} ft are asked against fire ({FIRE}); "
            "against exhaust farther is better.",
            f"Move it to {FROM_OPENINGS_FT:g} ft or farther, with the exhaust away from the house.")
    near = place.wall_ft is not None and not meets(FROM_WALLS_FT, place.wall_ft)
    if near and place.wall_is_combustible:
        yield Finding(
            Severity.WARNING, f"{WHERE}: place.wall", f"the generator stands {place.wall_ft:g} ft "
            f"from a wall that burns; at least {FROM_WALLS_FT:g} ft are asked ({FIRE}).",
            f"Move it to {FROM_WALLS_FT:g} ft; {TESTED}.")
