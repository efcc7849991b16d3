"""A panel's legend that was typed off by hand: circuits, poles and ratings in front of names."""

from __future__ import annotations

import re

_CIRCUIT = re.compile(
    r"^\s*(?P<spaces>\d{1,2}(?:\s*[-/,&]\s*\d{1,2})*)?[.):\s-]*\s*"
    r"(?:[12]\s?p\s?-?\s?(?P<of_poles>\d{2,3})(?:\s?a(?:mps?)?(?![/\w]))?"
    r"|(?P<rating>\d{2,3})\s?a(?:mps?)?(?![/\w]))[\s:-]*+(?P<name>(?!main|service|panel).*)$")
_BEHIND = re.compile(
    r"^\s*(?P<spaces>\d{1,2}(?:\s*[-/,&]\s*\d{1,2})*)[.):\s-]+(?P<name>[a-z].*?)[\s:,-]+"
    r"(?:[12]\s?p\s?-?\s?(?P<of_poles>\d{2,3})\s?a?|(?P<rating>\d{2,3})(?:\s?a(?:mps?)?\b|/[123]\b))(?P<more>.*)$")
_NUMBERED = re.compile(r"^\s*\d{1,2}(?:\s*[-/,&]\s*\d{1,2})*[.):\s-]+(?=[a-z])")
_SECOND = re.compile(r"\s{2,}(?=\d{1,2}(?:\s*[-/,]\s*\d{1,2})*\s+(?:\d{2,3}\s?a\b|[a-z]))")
_DOTS = re.compile(r"\.{3,}")
LEAST = 4
"""Circuits from which on a list is a panel's (a choice)."""
_PLACES = frozenset(("kitchen",))


def without_circuits(text: str) -> str:
    """Write every circuit as its name and its breaker, where a text is a panel's legend."""
    text = _DOTS.sub("  ", text)
    lines = [part for line in text.splitlines() for part in _columns(line)]
    if sum(_circuit(line) is not None for line in lines) < LEAST:
        return text
    return "\n".join(part for line in text.splitlines()
                     for part in ("; ".join(_named(one) for one in _columns(line)),))


def _columns(line: str) -> list[str]:
    return _SECOND.split(line)


def _circuit(line: str) -> re.Match[str] | None:
    return _CIRCUIT.match(line) or _BEHIND.match(line)


def _named(line: str) -> str:
    found = _circuit(line)
    if found is None:
        return _NUMBERED.sub("", line)
    name = found["name"].strip()
    if name in _PLACES:
        name = f"{name} outlets"
    more = found.groupdict().get("more") or ""
    return f"{name} {more.strip()}, {found['of_poles'] or found['rating']} amp breaker"
