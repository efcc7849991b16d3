"""``planner portable``: the cheapest way, worked by hand; apart from the plans."""

from __future__ import annotations

import click

from planner.cli.pricing import read_priced
from planner.cli.state import State, common
from planner.cli.terminal.output import draw, emit, say, show_cautions, show_findings
from planner.cli.terminal.progress import progress
from planner.facts.home import Home
from planner.report.cautions import CAUTIONS, price_notice
from planner.report.portable.breaks import broken_sentences, missed_sentence
from planner.report.portable.data import by_hand_data
from planner.report.portable.groups import always_sentence, change_sentences, never_sentence
from planner.report.portable.steps import (
    DANGERS,
    KEEPING,
    SOURCE_OF_STEPS,
    keeper_sentence,
    numbered,
    sections_of_steps,
)
from planner.report.portable.words import (
    alone_sentences,
    basis_sentence,
    code_sentences,
    cooling_sentences,
    fuel_sentence,
    machine_sentence,
    noise_sentence,
    not_planned_sentence,
    option_sentence,
    verdict_sentence,
)
from planner.report.tables.portable import (
    NOTE_OF_OPTIONS,
    NOTE_OF_WORK,
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
    for sentence in DANGERS:
        say(f"- {sentence}")
    mine = [one for one in found.options if one.portable.id == machine]
    shown = max(mine, key=lambda one: one.kept) if mine else found.shown
    say()
    if shown is None:
        say(not_planned_sentence())
        return
    _show_option(shown)
    draw(options_table(found.options), footnote=NOTE_OF_OPTIONS)


def _show_option(option: ByHand) -> None:
    for sentence in (
            *broken_sentences(option), missed_sentence(option), option_sentence(option),
            noise_sentence(option), machine_sentence(option), *cooling_sentences(option),
            *alone_sentences(option), fuel_sentence(option), KEEPING, basis_sentence(option)):
        if sentence:
            say(sentence)
    say()
    for heading, steps in sections_of_steps(option):
        say(heading)
        for step in numbered(steps):
            say(step)
        say()
    say(keeper_sentence(option))
    say(SOURCE_OF_STEPS)
    say()
    for day in range(len(option.house.home.days)):
        _show_day(option, day)
    draw(days_table(option), footnote=NOTE_OF_WORK)
    draw(kept_table(option))
    draw(lines_table(option), total=["Cost", "", money(option.usd, option.book.currency)])
    for sentence in code_sentences(option):
        say(f"- {sentence}")
    say()


def _show_day(option: ByHand, day: int) -> None:
    for sentence in (always_sentence(option, day), never_sentence(option, day),
                     *change_sentences(option, day)):
        if sentence:
            say(sentence)
    if groups_table(option, day).items:
        draw(groups_table(option, day))
    else:
        say()
