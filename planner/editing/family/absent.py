"""What is not there, or not in use any more."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.editing.family.marks import Statement
from planner.editing.family.mentions import Mention
from planner.editing.family.near import next_to

_NONE = re.compile(r"(?:\b(?:no|zero|don'?t have|do not have|never had|nor)\b|(?<![\w.])0)\s+"
                   r"(?:any\s+|a\s+|an\s+)?(?:[a-z-]+\s+){0,1}$")
_GONE = re.compile(
    r"\b(?:disconnected|drained|removed|gone|sold|abandoned|unused|decommissioned|capped|unplugged"
    r"|any ?more|no longer|taken (?:out|away|down)|took (?:it|their|the|his|her|out)|ripped out"
    r"|was replaced|got rid|tossed|not (?:in use|used|hooked up|connected|working)|broken|dead"
    r"|doesn'?t (?:work|exist)|shut down|out of (?:use|service)|none|came out|given away|gave away"
    r"|carried (?:it )?off|hauled away|unhooked|filled in)\b")
_HAD = re.compile(r"\b(?:had|used to have|used to be)\s+(?:an?|the)?\s*(?:[\w-]+\s+){0,2}$")
_SO = re.compile(r"\bso (?:is|are|was|were)\b")
_LISTED = re.compile(r"\s*(?:,|or|nor|and no|, no)\s*")


def miss(here: Statement, made: Sequence[Mention]) -> None:
    """Mark the things of a statement that are not there."""
    for number, one in enumerate(made):
        had = _HAD.search(here.text[:one.start])
        had_once = had is not None and ("used" in had[0] or "but" in here.text[one.end:])
        listed = number > 0 and made[number - 1].gone and _LISTED.fullmatch(
            here.text[made[number - 1].end:one.start])
        if _NONE.search(here.text[:one.start]) or had_once or listed:
            one.gone = True
    for match in _GONE.finditer(here.text):
        ahead, behind = next_to(made, match.start(), match.end())
        about = ahead or (behind if match[0] != "none" else None)
        if about is not None:
            about.gone = True
    for match in _SO.finditer(here.text):
        _, behind = next_to(made, match.start(), match.end())
        if behind is not None and _GONE.search(here.text[:match.start()]):
            behind.gone = True
