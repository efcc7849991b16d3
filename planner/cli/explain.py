"""``planner explain``: why this plan, what each wish costs, what to verify on site."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

import click

from planner.cli.output import console, draw, emit, say, show_cautions, show_findings
from planner.cli.pricing import covering, priced, read_priced
from planner.cli.progress import progress
from planner.cli.state import State, common
from planner.facts.home import Home, OrderRule
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.margin import margin_of
from planner.plan.plan import Plan
from planner.report.cautions import price_notice
from planner.report.explain_data import explanation_data
from planner.report.order_words import order_sentences
from planner.report.smaller_words import smaller_sections
from planner.report.starved import mind_sentences
from planner.report.tables.smaller import smaller_table
from planner.report.tables.verify import margin_sentences, quiet_sentence, verify_table
from planner.report.tables.wishes import HOW_IT_COUNTS, free_sentences, is_free, wish_table
from planner.report.words import money, number, share
from planner.study.order_reasons import order_reasons
from planner.study.recommend import Recommendation, recommend
from planner.study.verify import Doubt, to_verify
from planner.study.why_smaller import SmallerSize, why_not_smaller
from planner.study.wish_cost import WishCost, wish_costs

MOST_SHOWN = 8
MOST_ANEW = 12  # assumed values for which the home is planned anew; the most telling first
NOT_ALL_TRIED = (
    "So many loads can take turns here that not every order was tried. Where it says below that "
    "something cannot be done, or what it costs, a way that does, or costs less, may have been "
    "missed.")
UNBROKEN = "\N{NO-BREAK SPACE}"


@click.command(name="explain",
               short_help="Say why no smaller one, what wishes cost, what to verify.")
@click.argument("home_file", metavar="HOME")
@covering("Least coverage of the plan that is explained; 90 % if not given.", USUAL_COVERAGE)
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, coverage: float, allow_unserved: bool, book: str | None,
    order: OrderRule | None,
) -> None:
    """Say why no smaller generator is recommended, what each wish costs, what to verify on site.

    The plan explained is the one that `planner plan` recommends. Every answer is found by planning
    the home again with one thing changed.
    """
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    with progress("Looking for the plan", measured=False):
        found = recommend(home, offered, coverage, none_starved=not allow_unserved)
    plan, coverage = found.plan, found.coverage
    with progress("Trying smaller sizes") as tick:
        smaller = why_not_smaller(home, offered, plan, coverage, on_progress=tick)
    with progress("Playing other orders", measured=False):
        turns = order_reasons(home, offered, plan, coverage)
    with progress("Pricing wishes") as tick:
        wishes = wish_costs(home, offered, plan, coverage, on_progress=tick)
    with progress("Changing what is assumed") as tick:
        doubts = to_verify(home, offered, plan, coverage, tick, most_anew=MOST_ANEW)
    if state.as_json:
        emit(explanation_data(home, offered, found, smaller=smaller, wishes=wishes,
                              order=turns, doubts=doubts))
        return
    _show_recommended(home, found)
    _show_smaller(plan, smaller, coverage)
    _show_section("Why this order", order_sentences(plan, turns, coverage))
    _show_wishes(offered, wishes, coverage)
    _show_section("How much the plan can bear", margin_sentences(margin_of(plan)))
    _show_doubts(offered, doubts)
    show_cautions()


def _show_recommended(home: Home, found: Recommendation) -> None:
    plan = found.plan
    supply, currency = plan.supply, plan.menu.book.currency
    say(f"{home.label}: recommended is the {supply.generator.label}, "
        f"{number(supply.derated_kw)} kW on this site, with {plan.price.transfer.label}.")
    say(f"Installed cost {money(plan.cost_usd, currency)}, coverage {share(plan.coverage)}.")
    for sentence in mind_sentences(plan, found.starving):
        say(sentence)
    if plan.proof.kind != "proven":
        say(NOT_ALL_TRIED)
    say()


def _show_smaller(plan: Plan, sizes: Sequence[SmallerSize], goal: float) -> None:
    if not sizes:
        _show_section("Why not smaller", ["It is the smallest generator of the price book."])
        return
    draw(smaller_table(sizes, goal))
    for heading, sentences in smaller_sections(sizes, plan, goal):
        _show_section(heading, sentences)


def _show_wishes(book: PriceBook, wishes: Sequence[WishCost], goal: float) -> None:
    if any(not is_free(one) for one in wishes):
        footnote = f"Each for the same coverage of {share(goal)}. {HOW_IT_COUNTS}"
        draw(wish_table(wishes), footnote=f"{footnote}\n{price_notice(book)}")
    else:
        _show_section("What each wish costs", ["No single wish changes the price."])
        say(price_notice(book))
    for sentence in free_sentences(wishes):
        say(sentence)
    say()


def _show_doubts(book: PriceBook, doubts: Sequence[Doubt]) -> None:
    telling = [doubt for doubt in doubts if doubt.effect != "nothing"]
    if telling:
        draw(verify_table(telling[:MOST_SHOWN], book.currency))
    if len(telling) > MOST_SHOWN:
        say(f"{len(telling) - MOST_SHOWN} more have less effect; --json lists them all.")
    if doubts:
        say(quiet_sentence(doubts))
        say()


def _show_section(title: str, sentences: Sequence[str]) -> None:
    out = console()
    out.print(title, style="bold")
    for sentence in sentences:
        whole = sentence.replace(" %", f"{UNBROKEN}%")
        out.print(fill(whole, out.width, initial_indent="- ", subsequent_indent="  ").replace(
            UNBROKEN, " "))
    out.print()
