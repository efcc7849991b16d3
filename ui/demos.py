"""The invented homes and the invented price book that come with the planner."""

from __future__ import annotations

import sys
from functools import cache
from pathlib import Path

from planner.case.text import parse_toml
from planner.errors import CaseError

DEMO_BOOK = "demo_price_book.toml"
_PLACES = (Path(__file__).parents[1] / "cases",
           Path(sys.prefix) / "share" / "standby-planner" / "cases")


@cache
def demo_text(name: str) -> str:
    """Give the text of a file that came with the planner.

    Raises
    ------
    CaseError
        The installation is not whole.
    """
    for place in _PLACES:
        if (place / name).is_file():
            return (place / name).read_text("utf-8")
    message = f"{name} is missing. Install the planner again."
    raise CaseError(message)


@cache
def demo_homes() -> dict[str, str]:
    """Names of the demo homes that can be planned, by file name, the plain one first."""
    folder = next(place for place in _PLACES if place.is_dir())
    labels = {}
    for path in sorted(folder.glob("*.toml")):
        if path.name != DEMO_BOOK and not path.name.startswith(("broken_", "no_plan_")):
            labels[path.name] = str(parse_toml(path.read_text("utf-8"), path.name)["home"]["label"])
    first = "suburban.toml"
    return {first: labels.pop(first), **labels} if first in labels else labels


def given_home() -> tuple[str, str]:
    """Name and text of the home that the front end was started with; empty if there is none."""
    paths = [Path(one) for one in sys.argv[1:] if one.endswith((".toml", ".json"))]
    if not paths or not paths[0].is_file():
        return "", ""
    return paths[0].name, paths[0].read_text("utf-8")
