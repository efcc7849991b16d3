"""Plans whose drawings are looked at: known and unknown sites, small and large homes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

from planner.case.book.read import read_book
from planner.case.read import read_home
from planner.search.problem import problems_of
from planner.service.choice import DIRECT, MODULE, Choice
from tests.homes import cheapest
from tests.site.places import KNOWN, PICKED, plan_at

CASES = Path(__file__).parents[2] / "cases"
ROOM_ENOUGH = 3.0
MODULES = 10


def _planned(name):
    """Plan a home of the cases, not asking in how many houses it holds."""
    home, _ = read_home(CASES / f"{name}.toml")
    book, _ = read_book(home.price_book)
    return cheapest(home, book, 0.9)


def _estate():
    """All 45 loads of the largest home, ten behind modules, with a generator that is no limit."""
    home, _ = read_home(CASES / "large_estate.toml")
    book, _ = read_book(home.price_book)
    largest = book.generators[-1]
    machine = replace(largest, ratings={
        fuel: replace(one, kw=ROOM_ENOUGH * one.kw, kva=ROOM_ENOUGH * one.kva,
                      amperes=ROOM_ENOUGH * one.amperes)
        for fuel, one in largest.ratings.items()})
    transfers = tuple(replace(one, rating_a=800.0) for one in book.transfers)
    book = replace(book, generators=(machine,), transfers=transfers)
    problem = problems_of(replace(home, never_before=()), book)[0]
    turns = tuple(i for i, _ in enumerate(home.loads) if problem.menu.allowed[i, MODULE])[:MODULES]
    connection = tuple(MODULE if i in turns else DIRECT for i, _ in enumerate(home.loads))
    return problem.plan(Choice(connection, (0,) * len(home.loads), turns))


MADE = {
    "known": lambda: plan_at(KNOWN), "unknown": lambda: plan_at(None, fault_current_a=None),
    "picked": lambda: plan_at(KNOWN, transfer=PICKED), "estate": _estate,
    "town": lambda: _planned("town_house_selected"),
    "farm": lambda: _planned("rural_propane_well")}


@cache
def plan_called(name):
    """Give one of the plans, made once."""
    return MADE[name]()
