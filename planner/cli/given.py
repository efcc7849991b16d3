"""What a command is given as HOME: the file of a home, or a project file that holds one."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from planner.case.book.read import read_book, read_book_text
from planner.case.messages import note
from planner.case.read import read_home_text
from planner.case.text import parse_toml, read_text
from planner.errors import CaseError, Finding
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.jobs.content import Job
from planner.jobs.project import is_project, project_of
from planner.report.words import money, share

USD = "USD"


def read_given(home_file: str) -> tuple[Home, tuple[Finding, ...]]:
    """Read the home that a command is given.

    Raises
    ------
    CaseError
        It is neither a home nor a project.
    """
    home, findings, _ = _given(home_file)
    return home, findings


def read_given_with_book(
    home_file: str, book_file: str | None
) -> tuple[Home, PriceBook, tuple[Finding, ...]]:
    """Read a home and a price book: the one given, else that of the project, or of the home.

    Raises
    ------
    CaseError
        A file cannot be read, or there is no price book.
    """
    home, of_home, job = _given(home_file)
    if book_file is None and job is not None:
        book, of_book = read_book_text(job.content.book.text, job.content.book.name)
        return home, book, (*of_home, *of_book)
    path = Path(book_file) if book_file else home.price_book
    if path is None:
        message = (f"{Path(home_file).name} names no price book. Add price_book to [home], or give "
                   "one with --book.")
        raise CaseError(message)
    book, of_book = read_book(path)
    return home, book, (*of_home, *of_book)


def refuse_unreadable(home_file: str) -> None:
    """Refuse what is neither a project nor a file in which a home could be corrected.

    Raises
    ------
    CaseError
        It cannot be read as either.
    """
    path = Path(home_file)
    text = read_text(path)
    if _project(home_file, text) is None:
        parse_toml(text, path.name)


def goal_of(
    home_file: str, *, smallest: bool
) -> tuple[float | None, float | None, tuple[Finding, ...]]:
    """The coverage (0-1) or budget [USD] that a project asks for, and a note that says so.

    A home has none, nor has what can be read only once, such as a pipe; the smallest generator is
    not asked for by a budget.
    """
    path = Path(home_file)
    job = _project(home_file, read_text(path)) if path.is_file() else None
    if job is None:
        return None, None, ()
    goal = job.content.choices.goal
    by_budget = goal.by == "budget" and not smallest
    said = (f"a budget of {money(goal.budget_usd, USD)}" if by_budget
            else f"{share(goal.coverage)} coverage")
    found = note(Path(home_file).name, f"the goal of this job is {said}.",
                 "Give another with --coverage or --budget.")
    return (None, goal.budget_usd, (found,)) if by_budget else (goal.coverage, None, (found,))


def _given(home_file: str) -> tuple[Home, tuple[Finding, ...], Job | None]:
    path = Path(home_file)
    text = read_text(path)
    job = _project(home_file, text)
    if job is None:
        return *read_home_text(text, path.name, path.parent), None
    held = job.content.home
    home, findings = read_home_text(held.text, held.name, path.parent)
    return replace(home, price_book=None), findings, job


def _project(home_file: str, text: str) -> Job | None:
    return project_of(text, Path(home_file).name) if is_project(text) else None
