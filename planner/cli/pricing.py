"""Find the price book of a home and read both."""

from __future__ import annotations

from pathlib import Path

from planner.case.book import PriceBook
from planner.case.home import Home
from planner.case.read import price_book_path
from planner.case.read_book import read_book
from planner.cli.reading import read
from planner.errors import CaseError, Finding


def read_priced(
    home_file: str, book_file: str | None
) -> tuple[Home, PriceBook, tuple[Finding, ...]]:
    """Read a home and a price book: the one given, else the one that the home names.

    Raises
    ------
    CaseError
        Either file cannot be read, or there is no price book.
    """
    home, of_home = read(home_file)
    path = Path(book_file) if book_file else price_book_path(home_file)
    if path is None:
        message = (f"{Path(home_file).name} names no price book. Add price_book to [home], or give "
                   "one with --book.")
        raise CaseError(message)
    book, of_book = read_book(path)
    return home, book, (*of_home, *of_book)
