"""Wishes of a statement, and the things that they are about."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Collection, Sequence
from functools import cache
from importlib.resources import files
from typing import get_args

from planner.editing.family.marks import Mark, Statement
from planner.editing.family.mentions import Mention, Wish
from planner.editing.family.names import small_talk
from planner.editing.values import Value

WISHES: tuple[Wish, ...] = get_args(Wish)

_NOT = r"(?:do not|don'?t|does not|doesn'?t|did not|didn'?t|need not|needn'?t|not)"


@cache
def _patterns() -> tuple[tuple[Wish, str, re.Pattern[str]], ...]:
    """Patterns of wishes; those that stand ahead of what they are about come first."""
    text = files("planner.editing.family").joinpath("wishes.toml").read_text(encoding="utf-8")
    told = tomllib.loads(text)
    return tuple(
        (wish, side, re.compile(rf"(?<!\w)(?:{_joined(told[wish][side]['patterns'])})(?!\w)"))
        for side in ("after", "before") for wish in reversed(WISHES) if side in told[wish])


def _joined(patterns: Sequence[str]) -> str:
    return "|".join(one.replace("NOT", _NOT).replace(" ", r"\s+") for one in patterns)


_SAME = re.compile(r"\bsame (?:for|with|goes for|as|is true (?:for|of))\b")
_LIST = frozenset(small_talk("list"))
_RELATIVE = re.compile(r"\b(?:which|that|it|one)\b")
_PLURAL = re.compile(r"\b(?:matter|all|both|neither|are|they|these|those)\b")
_ALL = re.compile(r"\ball of (?:which|them|these|those)\b")
_ALONG = re.compile(r"\W*(?:along with|as (?:do|does|may|must|can)|and so (?:do|does|must|can)"
                    r"|together with)\b")
_TOO = re.compile(r"\s*(?:too|as well|also)\b")
_NUMBERED = re.compile(r"\b(?:unit|no|number)\s*#?\s*\d|#\s?\d")
_TWO = re.compile(r"\b(?:neither|both)\b")
_HEADING = re.compile(
    r"[\W_]*(?:\b(?:the|these|things?|stuff|that|what|loads?|list|we|i|ones|to|items|nice|have|in|an"
    r"|outage|during|until|night|till|later)\b[\W_]*)*")
_PRONOUN = re.compile(r"\s*(?:it|them|that|those|this)\b")


def mark_wishes(found: Statement) -> None:
    """Mark the wishes that a statement has."""
    for wish, side, pattern in _patterns():
        found.take(pattern, "wish", _reading(wish, side))
    found.take(_SAME, "same", lambda _: ("", None))


def _reading(wish: Wish, side: str) -> Callable[[re.Match[str]], tuple[str, Value]]:
    return lambda _: (wish, side)


def heading_of(found: Statement) -> Wish | None:
    """The wish of a line that holds nothing else: it is about the lines below."""
    marks = found.of("wish")
    if len(marks) != 1 or found.of("kind"):
        return None
    rest = found.between(0, len(found.text))
    return _wish(marks[0]) if _HEADING.fullmatch(rest) else None


def attach(
    found: Statement, mentions: Sequence[Mention], before: Sequence[Mention],
    again: Collection[int],
) -> None:
    """Give the wishes of a statement to the things that they are about.

    Parameters
    ----------
    mentions : sequence of Mention
        Of the statement, in its order.
    before : sequence of Mention
        Of the statement before, for a wish about "it" or "they".
    again : collection of int
        Identities of those that were spoken of before.
    """
    for mark in found.of("wish"):
        for one in _about(found, mark, mentions, before, again):
            one.wish = _wish(mark)


def _about(
    found: Statement, mark: Mark, mentions: Sequence[Mention], before: Sequence[Mention],
    again: Collection[int],
) -> list[Mention]:
    ahead = [one for one in mentions if one.end <= mark.start]
    behind = [one for one in mentions if one.start >= mark.end]
    if behind and _leads(found, mark, behind[0], alone=not ahead):
        return _chain(found, behind, again)
    if ahead:
        return _follows(found, mark, ahead, behind, again)
    if behind:
        return _chain(found, behind, again)
    if _NUMBERED.search(found.text):
        return []
    several = _PLURAL.search(found.text) or any(one.section for one in before)
    return list(before) if several else list(before[-1:])


def _leads(found: Statement, mark: Mark, one: Mention, *, alone: bool) -> bool:
    """Whether a wish is about what stands behind it."""
    if ":" in found.text[mark.end:one.start]:
        return True
    listed = _only_list(found.between(mark.end, one.start))
    pronoun = _PRONOUN.match(found.text[mark.end:])
    return listed and not pronoun and (mark.value == "after" or alone)


def _follows(
    found: Statement, mark: Mark, ahead: Sequence[Mention], behind: Sequence[Mention],
    again: Collection[int],
) -> list[Mention]:
    """What a wish is about that stands ahead of it, and what is said to be wished so, too."""
    gap, said = found.text[ahead[-1].end:mark.start], found.text[mark.start:mark.end]
    if _ALL.search(gap):
        return list(ahead)
    if _TWO.search(said):
        return list(ahead[-2:])
    chain = _chain(found, ahead[::-1], again)
    if behind and _ALONG.match(found.text[mark.end:]):
        return [*chain, *_chain(found, behind, again)]
    if behind and _only_list(found.between(mark.end, behind[0].start)) and _TOO.match(
            found.text[behind[0].end:]):
        return [*chain, behind[0]]
    single = _RELATIVE.search(gap) and not _PLURAL.search(f"{gap} {said}")
    return [ahead[-1]] if single else chain


def _chain(
    found: Statement, mentions: Sequence[Mention], again: Collection[int]
) -> list[Mention]:
    """The first of some things, and those that are only listed with it."""
    chosen = list(mentions[:1])
    for one in mentions[1:]:
        last = chosen[-1]
        a, b = (last, one) if last.start < one.start else (one, last)
        if not _only_list(found.between(a.end, b.start)) or (id(a) in again) != (id(b) in again):
            break
        chosen.append(one)
    return chosen


def _only_list(gap: str) -> bool:
    return all(word in _LIST or not any(sign.isalnum() for sign in word)
               for word in re.findall(r"[a-z0-9']+", gap)) and "." not in gap.replace("...", "")


def _wish(mark: Mark) -> Wish:
    return next(one for one in WISHES if one == mark.key)


def last_of(found: Statement) -> Wish | None:
    """The last wish of a statement."""
    marks = found.of("wish")
    return _wish(marks[-1]) if marks else None
