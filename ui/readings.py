"""The visitor's files read: home and price book, or every finding that stands in the way."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Generic, TypeVar

from planner.case.book.read import read_book_text
from planner.case.read import read_home_text
from planner.errors import CaseError, Finding
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from ui.session import Session

Fact = TypeVar("Fact", Home, PriceBook)


@dataclass(frozen=True)
class Reading(Generic[Fact]):
    """What a file says: the facts, or None and the reason in `message`; findings either way."""

    facts: Fact | None
    findings: tuple[Finding, ...]
    message: str = ""


def home_of(session: Session) -> Reading[Home]:
    """Read the home on the table."""
    reading = _read(session, "home", session.home_text, session.home_name, read_home_text)
    session.readable = reading.facts or session.readable
    return reading


def book_of(session: Session) -> Reading[PriceBook]:
    """Read the price book on the table."""
    return _read(session, "book", session.book_text, session.book_name, read_book_text)


def _read(
    session: Session, what: str, text: str, name: str,
    read: Callable[[str, str], tuple[Fact, tuple[Finding, ...]]],
) -> Reading[Fact]:
    def make() -> Reading[Fact]:
        try:
            facts, findings = read(text, name)
        except CaseError as problem:
            return Reading(None, problem.findings, problem.message)
        return Reading(facts, findings)

    return session.remembered(what, (name, text), make)
