"""Wishes of a statement, and the things that they are about."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence

from planner.editing.family.marks import Mark, Statement
from planner.editing.family.mentions import Mention, Wish

_NOT = r"(?:do not|don'?t|does not|doesn'?t|did not|didn'?t|need not|needn'?t|not)"
_BEFORE: tuple[tuple[Wish, str], ...] = (
    ("don't care", rf"{_NOT}\s+(?:\w+\s+)?(?:have|need) to (?:run|work|be on)|never needs? to (?:run|be on|work)|(?:we|i|they)? ?(?:can|could) skip|(?:would|will) not (?:be )?(?:miss|use|missed|used)|won'?t (?:be )?(?:miss|use|missed|used)|need not (?:run|work|be on)"
                   r"|(?:is|are|'s)?\s*(?:not|n't) (?:needed|necessary|required|important|essential)"
                   r"|neither (?:is|one is)?\s*(?:needed|matters|important)|(?:can|could|may) (?:all\s+|both\s+|just\s+)?(?:stay|be|go|remain) off"
                   r"|(?:can|could|may) (?:all\s+|both\s+)?be (?:skipped|left (?:off|out))|(?:is|are) off (?:that'?s|is) (?:fine|ok|okay)"
                   r"|(?:is|are) (?:optional|unimportant|no big deal)|(?:fine|ok|okay) (?:to be )?(?:off|without)"
                   r"|(?:staying|being|if it'?s|if they'?re) off is (?:fine|ok|okay)|off is (?:fine|ok|okay)|doesn'?t matter|does not matter|don'?t matter|do not matter|no need\b(?! to)|not a priority|(?:nobody|no one|none of us) needs"),
    ("can wait", r"(?:can|could|may|might) (?:all\s+|both\s+|also\s+|easily\s+|definitely\s+|probably\s+)?wait(?:\s+(?:till|until|til|to)\s+(?:the\s+)?\w+)?"
                 r"|only (?:needs? to run|runs?) at night|(?:can|could) (?:run|be done|charge) (?:later|at night|overnight)|later is fine|not right away"),
    ("matters most", r"(?:is|are|'s)?\s*(?:the\s+)?(?:most|single most) important(?: thing| one)?|matters? (?:the )?most"
                     r"|comes? first|#\s?1(?: priority)?|number (?:one|1) priority|(?:top|first|highest) priority|priority (?:#\s?)?(?:one|1)\b|above all|before anything else"),
    ("must run", r"(?:should|can|may|must) never (?:go off|go out|fail|stop|lose power)|(?:have|has|need|needs) to stay (?:cold|frozen|warm)|gotta (?:run|work|stay on|keep running)|must(?: absolutely| always| really| never| not)*\s+(?:run|work|stay on|stay up|be on|keep (?:running|working|going)|go off|fail|be kept (?:on|running)|operate)"
                 r"|(?:has|have|needs?|got) to(?: absolutely| always)?\s+(?:run|work|stay on|stay up|stay running|be on|keep (?:running|working|going))"
                 r"|absolutely must\b|must\s+always\b(?! have)|(?:is|are|as)\s+(?:absolutely\s+)?(?:essential|critical|vital|a must)|no matter what|always (?:on|running)"
                 r"|(?:can'?t|cannot|can not|must not|mustn'?t|may not) (?:ever\s+)?(?:go (?:out|off|down)|fail|stop|be off|lose power)|not even for a minute|depends? on|essential|critical\b|life support|must[\s-]*run|must[\s-]*haves?\b(?=\s*[:!)-]|$)|\bmust\b\s*!*(?=\s*[)!.,]|$)"),
)
_AFTER: tuple[tuple[Wish, str], ...] = (
    ("don't care", rf"(?:{_NOT}|never) (?:really\s+|much\s+)?(?:care|worry|bother)(?:\s+(?:much|at all|too much))?(?:\s+(?:about|for|with|if))?|couldn'?t care less(?:\s+about)?"
                   rf"|{_NOT} (?:really\s+)?need(?!\s+to\b)|(?:can|could) (?:easily\s+|certainly\s+|well\s+)?(?:live|do|go|manage) without|skip|forget(?: about)?|leave out|no opinion on"),
    ("must run", r"(?:can'?t|cannot|can not|couldn'?t)\s+(?:really\s+)?(?:be|live|do|go|manage)\s+without|must have|gotta have|have to have|need to (?:have|keep)(?: running)?|(?:really\s+)?need(?=[^.]{0,25}:)|want to keep running"),
    ("matters most", r"(?:most important|top priority|first priority|number (?:one|1))(?: thing)?(?:\s+(?:is|are|:)|\s*:)|care most about"),
)
_PATTERNS = [(wish, "after", re.compile(rf"(?<!\w)(?:{text})(?!\w)")) for wish, text in _AFTER] + \
            [(wish, "before", re.compile(rf"(?<!\w)(?:{text})(?!\w)")) for wish, text in _BEFORE]
_SAME = re.compile(r"\bsame (?:for|with|goes for|as|is true (?:for|of))\b")
_LIST = frozenset("the a an and or my our his her their both all also it's is are as well too plus "
                  "bsmt bsmnt of for each either neither whole new old big small main one other ones kids mom's "
                  "dad's moms dads upstairs downstairs basement garage".split())
_RELATIVE = re.compile(r"\b(?:which|that|it|one)\b")
_PLURAL = re.compile(r"\b(?:matter|all|both|neither|are|they|these|those)\b")
_ALL = re.compile(r"\ball of (?:which|them|these|those)\b")
_ALONG = re.compile(r"\W*(?:along with|as (?:do|does|may|must|can)|and so (?:do|does|must|can)|together with)\b")
_NUMBERED = re.compile(r"\b(?:unit|no|number)\s*#?\s*\d|#\s?\d")
_TWO = re.compile(r"\b(?:neither|both)\b")
_HEADING = re.compile(r"[\W_]*(?:\b(?:the|these|things?|stuff|that|what|loads?|list|we|i|ones|to|items|nice|have|in|an|outage|during|until|night|till|later)\b[\W_]*)*")
_PRONOUN = re.compile(r"\s*(?:it|them|that|those|this)\b")


def mark_wishes(found: Statement) -> None:
    """Mark the wishes that a statement has."""
    for wish, side, pattern in _PATTERNS:
        found.take(pattern, "wish", lambda match, key=wish, side=side: (key, side))
    found.take(_SAME, "same", lambda _: ("", None))


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
    follows = behind and _only_list(found.between(mark.end, behind[0].start)) and not \
        _PRONOUN.match(found.text[mark.end:])
    colon = re.match(r"\s*(?:about\s*)?:", found.text[mark.end:]) is not None \
        or (behind and ":" in found.text[mark.end:behind[0].start])
    if follows and (mark.value == "after" or colon or not ahead):
        return _chain(found, behind, again)
    if colon and behind:
        return _chain(found, behind, again)
    if ahead:
        gap = found.text[ahead[-1].end:mark.start]
        single = _RELATIVE.search(gap) is not None
        many = _PLURAL.search(f"{gap} {found.text[mark.start:mark.end]}") is not None
        if _ALL.search(gap):
            return ahead
        if behind and _ALONG.match(found.text[mark.end:]):
            return [*_chain(found, ahead[::-1], again), *_chain(found, behind, again)]
        if _TWO.search(found.text[mark.start:mark.end]):
            return ahead[-2:]
        if single and not many:
            return [ahead[-1]]
        return _chain(found, ahead[::-1], again)
    if behind:
        return _chain(found, behind, again)
    if _NUMBERED.search(found.text):
        return []
    several = _PLURAL.search(found.text) or any(one.section for one in before)
    return list(before) if several else list(before[-1:])


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
    return mark.key  # type: ignore[return-value]
