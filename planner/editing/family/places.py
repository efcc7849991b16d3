"""Places of a list: what is under ``Shop:``, and wishes about all that stands there."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.editing.family.marks import Statement
from planner.editing.family.mentions import Mention

_NAMES = (r"(shop|workshop|barn|garage|basement|cottage|guest house|pool house|cabin|upstairs"
          r"|downstairs)")
_SECTION = re.compile(rf"\W*(?:the\s+)?{_NAMES}\b[^:,]{{0,12}}(?:\s*:)?")
_WISHED = re.compile(rf"\b{_NAMES}(?:\s+(?:stuff|things|loads|tools|panel|all|says))*\s*$")


def section_of(here: Statement, made: Sequence[Mention]) -> str:
    """The place that a line or its beginning names: ``Shop: table saw, welder``."""
    named = _SECTION.match(here.text)
    if named is None or here.of("wish"):
        return ""
    return named[1] if ":" in named[0] or not any(one.is_load for one in made) else ""


def standing_in(
    here: Statement, made: Sequence[Mention], known: Sequence[Mention]
) -> list[Mention]:
    """What stands in the place that a wish is about: ``the shop can stay off``."""
    wish = here.of("wish")
    place = _WISHED.search(here.text[:wish[0].start]) if wish else None
    if place is None or (made and made[-1].end > place.start()):
        return []
    return [one for one in known if one.section == place[1]]
