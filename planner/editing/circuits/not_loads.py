"""Circuits of a schedule that are no loads: the main breaker, feeders, sources, protection."""

from __future__ import annotations

import re
from typing import Literal

What = Literal["main", "feeder", "source", "protection", "future"]
_WORDS: dict[What, re.Pattern[str]] = {
    "main": re.compile(r"(?:the )?(?:service |panel )?mains?(?: (?:breaker|bkr|cb|disconnect|disc|"
                       r"switch|sw))?|service(?: (?:disconnect|disc|main))?"),
    "feeder": re.compile(r".*\b(?:subpanel|feeder|panel(?:board)?|load cent(?:er|re))\b.*"),
    "source": re.compile(r".*\b(?:generator|genset|transfer switch|ats|interlock|gen inlet"
                         r"|power inlet)\b.*"),
    "protection": re.compile(r".*\b(?:surge|spd|tvss|arrester|arrestor)\b.*"),
    "future": re.compile(r".*\bfuture\b.*"),
}
SAID: dict[What, tuple[str, str]] = {
    "source": ("a source or its transfer equipment is no load.",
               "If one is there already, it has to go or be part of what is planned: never two "
               "sources without transfer equipment between them."),
    "protection": ("surge protection draws nothing: it is no load.", ""),
    "future": ("it is not there yet, so it is not taken.", 'Without "future" it is planned for.'),
}


def what_else(words: str) -> What | None:
    """Say what a description means that is no load; None if it may be one."""
    plain = " ".join(re.sub(r"[^a-z0-9/ -]", " ", words).split())
    return next((what for what, pattern in _WORDS.items() if pattern.fullmatch(plain)), None)
