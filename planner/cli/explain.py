"""``planner explain``: why this plan, what each wish costs, what to verify on site."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import AbstractContextManager
from textwrap import fill

import click

from planner.cli.pricing import confident, covering, limited, limits_of, priced, read_priced
from planner.cli.searching import ending_code, searching
from planner.cli.state import State, common
from planner.cli.terminal.interrupt import INTERRUPTED
from planner.cli.terminal.output import console, draw, emit, say, show_cautions, show_findings
from planner.cli.terminal.progress import progress
from planner.facts.home import Home, OrderRule
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.plan.plan import Plan
from planner.progress import OnProgress
from planner.report.cautions import price_notice
from planner.report.confidence_words import confidence_sentences
from planner.report.data import single_data
from planner.report.ended_words import search_sentences
from planner.report.explain_data import explanation_data
from planner.report.order_words import order_sentences
from planner.report.plan_words import keeps
from planner.report.smaller_words import smaller_sections
from planner.report.starved import raised_goal_sentence, warning_sentences
from planner.report.tables.points import less_than_usual
from planner.report.tables.smaller import smaller_table
from planner.report.tables.verify import margin_sentences, quiet_sentence, verify_table
from planner.report.tables.wishes import free_sentences, how_it_counts, is_free, wish_table
from planner.report.words import money, rating
from planner.search.limits import INTERRUPTION, Stop, Stopped
from planner.study.explain import explain
from planner.study.recommend import Recommendation
from planner.study.verify import Doubt
from planner.study.why_smaller import SmallerSize
from planner.study.wish_cost import WishCost

MOST_SHOWN = 8
MOST_ANEW = 12  # assumed values for which the home is planned anew; the most telling first
NOT_ALL_TRIED = (
    "Not every plan was tried here. Where it says below what something costs, a way that costs "
    "less may have been missed.")
AS_ASSUMED = (
    "Every plan named below is the cheapest found in the house as it is assumed, unless it says in "
    "how many houses it holds; to see that, plan with the change.")
NOTHING_ASKED = "Nothing was asked about it yet: smaller sizes, wishes, what to verify."
UNBROKEN = "\N{NO-BREAK SPACE}"


@click.command(name="explain",
               short_help="Say why no smaller one, what wishes cost, what to verify.")
@click.argument("home_file", metavar="HOME")
@covering("Least share of what the family wants that the plan keeps; 97 % if not given.",
          USUAL_COVERAGE)
@confident
@limited
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, coverage: float, confidence: float, allow_unserved: bool,
    seconds: float | None, gap: float | None, book: str | None, order: OrderRule | None,
) -> int:
    """Say why no smaller generator is recommended, what each wish costs, what to verify on site.

    The plan explained is the one that `planner plan` recommends; --seconds and --gap are about the
    search for it. Every answer is found by planning the home again with one thing changed.
    Interrupted, it shows the plan if that was found, and leaves with code 130.
    """
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    limits = limits_of(seconds, gap)
    known: list[Recommendation] = []

    def take(found: Recommendation) -> None:
        known.append(found)
        if ending_code(limits, reached=found.reached):
            raise Stopped

    def step(what: str) -> AbstractContextManager[OnProgress]:
        return progress(what) if known else searching(what, home, limits)

    try:
        found = explain(home, offered, coverage, none_starved=not allow_unserved,
                        share=confidence, limits=limits, step=step, on_plan=take)
    except KeyboardInterrupt:
        if not known:
            raise
        _show_alone(state, home, offered, known[0], INTERRUPTION)
        return INTERRUPTED
    except Stopped:
        _show_alone(state, home, offered, known[0], limits.stop)
        return ending_code(limits, reached=known[0].reached)
    if state.as_json:
        emit(explanation_data(home, offered, found, limits.stop))
        return 0
    _show_recommended(home, found.recommended, limits.stop)
    _show_smaller(found.plan, found.smaller, found.coverage)
    _show_section("Why this order", order_sentences(found.plan, found.order, found.coverage,
                                                    found.recommended.cheapest))
    _show_wishes(offered, found.wishes, found.recommended)
    _show_section("Safety margin", margin_sentences(found.margin))
    _show_doubts(offered, found.verify)
    show_cautions()
    return 0


def _show_alone(
    state: State, home: Home, book: PriceBook, found: Recommendation, stop: Stop | None
) -> None:
    """Show the plan of an explanation that was interrupted, or has no plan for the goal."""
    if state.as_json:
        emit(single_data(home, book, found, of_its_size=False, stop=stop))
        return
    _show_recommended(home, found, stop)
    say(NOTHING_ASKED)
    say()
    show_cautions()


def _show_recommended(home: Home, found: Recommendation, stop: Stop | None) -> None:
    plan = found.plan
    supply, currency = plan.supply, plan.menu.book.currency
    say(f"{home.label}: recommended is the {supply.generator.label}, "
        f"{rating(supply.derated_kw)} kW on this site, with {plan.price.transfer.label}.")
    say(f"Installed cost {money(plan.cost_usd, currency)}; {keeps(plan)}.")
    say(f"Less than usual, each on its hardest day: {less_than_usual(plan)}.")
    sure = confidence_sentences(found)
    warned = warning_sentences(plan, found.starving)
    for sentence in (*search_sentences(found, stop), *warned, *sure):
        say(sentence)
    if found.cheapest.proof.kind != "proven":
        say(NOT_ALL_TRIED)
    if found.asked > 0.0 and sure:
        say(AS_ASSUMED)
    if found.starving is not None:
        say(raised_goal_sentence(found.coverage))
    say()


def _show_smaller(plan: Plan, sizes: Sequence[SmallerSize], goal: float) -> None:
    if not sizes:
        _show_section("Why not smaller", ["It is the smallest generator of the price book."])
        return
    draw(smaller_table(sizes, goal))
    for heading, sentences in smaller_sections(sizes, plan, goal):
        _show_section(heading, sentences)


def _show_wishes(book: PriceBook, wishes: Sequence[WishCost], found: Recommendation) -> None:
    if any(not is_free(one) for one in wishes):
        draw(wish_table(wishes), footnote=f"{how_it_counts(found)}\n{price_notice(book)}")
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
