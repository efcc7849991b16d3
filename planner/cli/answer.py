"""How plans are shown: one plan in full, many side by side."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill

from planner.cli.terminal.output import console, draw, say, show_cautions, show_findings
from planner.facts.home import Home
from planner.facts.price_book import PriceBook
from planner.plan.findings import findings_of_plan
from planner.report.cautions import price_notice
from planner.report.comforts.comfort_words import beyond_promise_sentences
from planner.report.confidence_words import confidence_sentences
from planner.report.ended_words import (
    SAME_FILE,
    ended_sentences,
    ended_words,
    open_sentence,
    unsure_sentences,
)
from planner.report.plan_words import (
    bearing_sentences,
    by_hand,
    by_hand_sentence,
    calculated_sentence,
    capacity_sentence,
    price_sentence,
)
from planner.report.site.fuel import fuel_sentences
from planner.report.site.words import noise_sentences
from planner.report.smaller_words import listed
from planner.report.starved import warning_sentences
from planner.report.step_words import step_sentence
from planner.report.tables.comforts import comfort_table, how_kept
from planner.report.tables.comparison import (
    alike,
    comparison_table,
    named_confidence,
    named_plans,
)
from planner.report.tables.plan import WAITS_OF_A_PLAN, load_table, price_table
from planner.report.tables.points import point_sentence, point_table
from planner.report.words import count, money, share
from planner.search.frontier import Frontier
from planner.search.limits import Stop
from planner.study.compare import Comparison
from planner.study.recommend import Recommendation

NOT_SIMULATED = ("Not yet simulated: before you quote it, play it with planner simulate HOME "
                 "--seeds 200 and see that the generator neither stalls nor trips.")


def show_plan(
    home: Home, found: Recommendation, goal: float | None, *, of_its_size: bool = False,
    notes: Sequence[str] = (),
) -> None:
    """Write one plan in full: what it is, what becomes of each comfort and load, what it costs.

    Its margin is that of the `goal` (0-1), if there is one. A plan found among those of its size
    only is proven against those only: `of_its_size`. The `notes` say how the search ended.
    """
    plan = found.plan
    book, supply = plan.menu.book, plan.supply
    say(f"{home.label}: {supply.generator.label}, {plan.price.transfer.label}.")
    say(price_sentence(plan, of_its_size=of_its_size))
    for sentence in (*notes, capacity_sentence(plan), calculated_sentence(plan),
                     *bearing_sentences(plan, goal), *warning_sentences(plan, found.starving),
                     *confidence_sentences(found),
                     *beyond_promise_sentences(plan.menu.house),
                     *fuel_sentences(plan), *noise_sentences(plan), NOT_SIMULATED):
        say(sentence)
    say()
    draw(comfort_table(plan), footnote=how_kept(plan))
    if by_hand(plan):
        say(by_hand_sentence(plan))
        say()
    draw(load_table(plan), footnote=WAITS_OF_A_PLAN)
    draw(price_table(plan), total=["Installed cost", "", money(plan.cost_usd, book.currency)],
         footnote=price_notice(book))
    show_cautions()
    show_findings(findings_of_plan(plan))


def show_comparison(
    home: Home, book: PriceBook, found: Comparison, coverage: float, stop: Stop | None = None
) -> None:
    """Write the plans of several sizes side by side, and the reference that sheds nothing."""
    plans = named_plans(found)
    chosen = found.plans.get(found.recommended or "")
    among = "" if chosen is None else (
        f"recommended is the {chosen.supply.generator.label} at "
        f"{money(chosen.cost_usd, book.currency)}; of each other size ")
    say(f"{home.label}: {among or 'of each size '}the cheapest plan that keeps {share(coverage)} "
        "in the house as it is assumed, else the one that keeps most.")
    for sentence in (*ended_sentences(stop), *unsure_sentences(found, coverage)):
        say(sentence)
    say()
    draw(comparison_table(plans, named_confidence(found)), footnote=price_notice(book))
    for step in found.steps():
        say(step_sentence(found.plans[step.smaller], found.plans[step.larger]))
    same = alike(plans)
    if same and len(plans) > 1:
        say(f"The same in all: {listed(same)}.")
    if found.reference is None and found.reference_known:
        say("No load shedding: no generator of the price book carries the whole house.")
    if found.missing:
        say(f"No plan at all with {', '.join(found.missing)}.")
    say()
    show_cautions()


def show_points(home: Home, book: PriceBook, found: Frontier, stop: Stop | None) -> None:
    """Write the plans of a frontier side by side, cheapest first."""
    number, ended = count(len(found.points), "plan"), ended_words(stop)
    say(f"{home.label}: {ended} with {number} found; others may beat them." if ended else
        f"{home.label}: {number} that no other plan beats on both cost and coverage."
        if not open_sentence(found) else f"{home.label}: {number} found.")
    if open_sentence(found):
        say(open_sentence(found))
    if stop is not None and stop.ended == "clock":
        say(SAME_FILE)
    say()
    draw(point_table(found.points), footnote=price_notice(book))
    console().print("Less than usual, each on its hardest day", style="bold")
    for plan in found.points:
        console().print(fill(point_sentence(plan), console().width, initial_indent="- ",
                             subsequent_indent="  "))
    say()
    show_cautions()
