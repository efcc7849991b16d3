"""What every command that prices takes and reads: a home, a price book, a rule for the order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar, get_args

import click

from planner.case.bounds import BUDGET, COVERAGE
from planner.case.text import read_text
from planner.cli.given import read_given_with_book
from planner.cli.quantity import NumberOption, QuantityOption
from planner.cli.terminal.interrupt import hearing
from planner.errors import Finding
from planner.facts.home import Home, OrderRule
from planner.facts.price_book import PriceBook
from planner.plan.plan import Plan
from planner.plan.saved import plan_data, saved_plan
from planner.report.words import from_percent
from planner.search.limits import GAP_POINTS, SECONDS, SearchLimits, Stop, limits_for
from planner.service.module_fit import module_findings
from planner.study.confidence import TO_QUOTE

Command = TypeVar("Command", bound=Callable[..., Any])


def covering(explained: str, default: float | None = None) -> Callable[[Command], Command]:
    """Give a command the options for the goal; `explained` is the help for the least coverage."""
    coverage = click.option("--coverage", metavar='"90 %"', default=default, help=explained,
                            type=QuantityOption(COVERAGE, "1"))
    unserved = click.option("--allow-unserved", is_flag=True,
                            help="Also recommend a plan in which something that matters never "
                                 "runs, if it is the cheapest that reaches the coverage.")

    def both(command: Command) -> Command:
        return coverage(unserved(command))

    return both


def affordable(command: Command) -> Command:
    """Give a command the option for the largest installed cost."""
    return click.option(
        "--budget", metavar='"9000 USD"', type=QuantityOption(BUDGET, "USD"),
        help="Largest installed cost; the plan keeps as much as it can buy.")(command)


def confident(command: Command) -> Command:
    """Give a command the option for the share of houses in which a plan has to hold."""
    return click.option(
        "--confidence", metavar='"75 %"', default=TO_QUOTE, type=QuantityOption(COVERAGE, "1"),
        help="Share of the houses that fit the file in which the cheapest plan has to hold; 75 % "
             "if not given (to order, after the site visit: 90 %), 0 % asks for none. A budget or "
             "the smallest size is taken whatever it holds in.")(command)


def limited(command: Command) -> Command:
    """Give a command the options that say how long and how closely it searches."""
    seconds = click.option(
        "--seconds", metavar="S", type=NumberOption(*SECONDS),
        help="Search for so many seconds at most and show the best that was found, with what might "
             "still be won. The same file may then give another plan.")
    gap = click.option(
        "--gap", metavar="POINTS", type=NumberOption(*GAP_POINTS),
        help="Search until no plan can keep so many points more for its price: 0.5 is sooner done, "
             "0 takes as long as it takes. If neither is given the search counts its steps.")
    return seconds(gap(command))


def limits_of(seconds: float | None, gap: float | None) -> SearchLimits:
    """Give the limits of a search that these options and Ctrl-C end; the clock starts now."""
    return limits_for(None if gap is None else from_percent(gap), seconds,
                      Stop(seconds, asked=hearing.heard))


def priced(command: Command) -> Command:
    """Give a command the options that all commands with prices take."""
    book = click.option("--book", metavar="FILE",
                        help="Price book instead of the one the home names.")
    order = click.option("--order", type=click.Choice(get_args(OrderRule)),
                         help="How priorities may be chosen, instead of the file's wish.")
    return book(order(command))


def read_priced(
    home_file: str, book_file: str | None, order: OrderRule | None
) -> tuple[Home, PriceBook, tuple[Finding, ...]]:
    """Read a home and a price book: the one given, else the one that the home names.

    `order` replaces the home's own rule for the priority order.

    Raises
    ------
    CaseError
        Either file cannot be read, or there is no price book.
    """
    home, book, findings = read_given_with_book(home_file, book_file)
    home = replace(home, order_rule=order or home.order_rule)
    return home, book, (*findings, *module_findings(home, book))


def read_plan(home: Home, book: PriceBook, plan_file: str) -> Plan:
    """Read a plan as ``plan --json`` wrote it, and replay it.

    Raises
    ------
    CaseError
        The file cannot be read, or holds no plan for this home and price book.
    """
    path = Path(plan_file)
    return saved_plan(plan_data(read_text(path), path.name), home, book, path.name)
