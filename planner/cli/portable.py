"""``planner portable``: the cheapest way, worked by hand; apart from the plans."""

from __future__ import annotations

import click

from planner.cli.output import draw, emit, say, show_cautions, show_findings
from planner.cli.pricing import read_priced
from planner.cli.progress import progress
from planner.cli.state import State, common
from planner.facts.home import Home
from planner.report.cautions import CAUTIONS, price_notice
from planner.report.portable_data import by_hand_data
from planner.report.portable_words import (
    OF_PORTABLES,
    alone_sentences,
    always_sentence,
    basis_sentence,
    broken_sentence,
    code_sentences,
    cooling_sentences,
    fuel_sentence,
    machine_sentence,
    missed_sentence,
    not_planned_sentence,
    option_sentence,
    verdict_sentence,
)
from planner.report.tables.portable import (
    NOTE_OF_OPTIONS,
    days_table,
    groups_table,
    kept_table,
    lines_table,
    options_table,
)
from planner.report.words import money
from planner.study.portable.option import ByHand
from planner.study.portable.options import ByHandAnswer, by_hand


@click.command(name="portable", short_help="Show the cheapest way: a generator worked by hand.")
@click.argument("home_file", metavar="HOME")
@click.option("--machine", metavar="ID", help="Show this portable generator in full, by its id in "
              "the price book.")
@click.option("--book", metavar="FILE", help="Price book instead of the one the home names.")
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, machine: str | None, book: str | None
) -> None:
    """Show what a portable generator with manual transfer equipment keeps, asks and costs.

    The family closes breakers by hand. It is never among the plans of `planner frontier`, and where
    something must go on while nobody is there it is not recommended.
    """
    home, offered, findings = read_priced(home_file, book, None)
    show_findings(findings)
    known = [one.id for one in offered.by_hand.portables]
    if machine is not None and machine not in known:
        raise click.UsageError(f"The price book has no portable generator {machine!r}. "
                               f"It has: {', '.join(known) or 'none'}.")
    with progress("Looking for groups of loads") as tick:
        found = by_hand(home, offered, on_progress=tick)
    if state.as_json:
        emit({"case": home.id, **by_hand_data(found), "notice": price_notice(offered),
              "cautions": list(CAUTIONS)})
        return
    _show(home, found, machine)
    say(price_notice(offered))
    show_cautions()


def _show(home: Home, found: ByHandAnswer, machine: str | None) -> None:
    say(f"{home.label}, by hand. {verdict_sentence(found)}")
    mine = [one for one in found.options if one.portable.id == machine]
    shown = max(mine, key=lambda one: one.kept) if mine else found.shown
    if shown is None:
        say(not_planned_sentence())
        return
    say()
    draw(options_table(found.options), footnote=NOTE_OF_OPTIONS)
    _show_option(shown)
    for sentence in OF_PORTABLES:
        say(f"- {sentence}")
    say()


def _show_option(option: ByHand) -> None:
    for sentence in (
            option_sentence(option), machine_sentence(option), *cooling_sentences(option),
            broken_sentence(option), missed_sentence(option), *alone_sentences(option),
            fuel_sentence(option), basis_sentence(option)):
        if sentence:
            say(sentence)
    say()
    draw(kept_table(option))
    draw(days_table(option))
    for day in range(len(option.house.home.days)):
        if said := always_sentence(option, day):
            say(said)
        if groups_table(option, day).items:
            draw(groups_table(option, day))
    draw(lines_table(option), total=["Cost", "", money(option.usd, option.book.currency)])
    for sentence in code_sentences(option):
        say(f"- {sentence}")
