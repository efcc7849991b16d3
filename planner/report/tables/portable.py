"""Tables of portable generators that are worked by hand."""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.plan import Plan
from planner.plan.price import PriceLine
from planner.report.comforts.comfort_words import (
    comfort_phrase,
    hardest_day,
    importance_words,
    promise_words,
)
from planner.report.comforts.missed_words import told
from planner.report.portable_words import groups_of, hours_of, night_words
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import money, number, share, span
from planner.service.kept import Kept
from planner.study.portable.option import ByHand

NOTE_OF_OPTIONS = ("Kept: of all comforts by their importance, light included, while somebody "
                   "works it; not the coverage of a plan. Broken: promises that are not kept.")


@dataclass(frozen=True)
class DayRow:
    """What one design day asks of the family."""

    option: ByHand
    day: int


@dataclass(frozen=True)
class KeptRow:
    """A comfort of an option."""

    option: ByHand
    kept: Kept


def options_table(options: tuple[ByHand, ...]) -> Table[ByHand]:
    """All options, cheapest first."""
    return Table("What is on offer", (
        figure("cost_usd", "Cost", lambda one: one.usd, money),
        text("portable", "Generator", lambda one: one.portable.label),
        text("transfer", "Transfer", lambda one: one.transfer.label),
        figure("soft_starters", "Soft starts",
               lambda one: float(sum(map(bool, one.machine.soft_start))), lambda n: f"{n:.0f}"),
        figure("kept", "Kept", lambda one: one.kept, share),
        figure("broken", "Broken", lambda one: float(len(one.broken)), lambda n: f"{n:.0f}"),
        figure("attention_h", "Work a day", lambda one: float(one.attention_h.max()), span),
        figure("gal", "gal a day", lambda one: float(one.gal.max()), number),
    ), options)


def kept_table(option: ByHand) -> Table[KeptRow]:
    """Every comfort on its hardest day, what matters most first."""
    home = option.house.home
    ranked = sorted(option.comforts, key=lambda one: (
        importance_words(home, one.comfort) != "must-have", -one.comfort.importance))
    return Table("What it keeps, worked by hand", KEPT, [KeptRow(option, one) for one in ranked])


KEPT: tuple[Column[KeptRow], ...] = (
    text("comfort", "Comfort", lambda row: row.kept.comfort.label),
    text("hardest", "On its hardest day",
         lambda row: comfort_phrase(row.kept, row.option.house)),
    text("day", "Day", lambda row: row.option.house.home.days[
        hardest_day(row.kept, row.option.house)].label),
    figure("kept", "Kept", lambda row: row.kept.kept, share),
    text("promise", "Promised", lambda row: promise_words(row.kept.comfort)),
)


def beside_table(option: ByHand, plan: Plan) -> Table[tuple[Kept, Kept]]:
    """Every comfort on its hardest day, by the plan and by hand, what matters most first."""
    house = plan.menu.house
    of_plan = {one.comfort.id: one for one in plan.comforts}
    return Table("The recommended plan, and by hand", (
        text("comfort", "Comfort", lambda pair: pair[0].comfort.label),
        text("by_plan", "Recommended plan, by itself", lambda pair: told(pair[0], plan)),
        text("by_hand", "By hand, while somebody works it",
             lambda pair: comfort_phrase(pair[1], house)),
    ), [(of_plan[row.kept.comfort.id], row.kept) for row in kept_table(option).items])


def days_table(option: ByHand) -> Table[DayRow]:
    """What every design day asks of the family."""
    return Table("Attention and fuel", (
        text("day", "Day", lambda row: row.option.house.home.days[row.day].label),
        figure("switchings", "Times switched",
               lambda row: float(row.option.switchings[row.day]), lambda n: f"{n:.0f}"),
        text("refuelled", "Refuelled at", lambda row: hours_of(row.option, row.day)),
        figure("attention_h", "Work", lambda row: float(row.option.attention_h[row.day]), span),
        figure("gal", "gal", lambda row: float(row.option.gal[row.day]), number),
        text("night", "At night", lambda row: night_words(row.option, row.day)),
    ), [DayRow(option, day) for day in range(len(option.house.home.days))])


def groups_table(option: ByHand, day: int) -> Table[tuple[str, str]]:
    """Which breakers are closed on a design day besides, from each hour of a change on."""
    label = option.house.home.days[day].label
    return Table(f"Closed besides on {label}", (
        text("from", "From", lambda row: row[0]), text("closed", "Closed", lambda row: row[1]),
    ), groups_of(option, day))


def lines_table(option: ByHand) -> Table[PriceLine]:
    """Price, line by line."""
    currency = option.book.currency
    return Table("Price", (
        text("what", "What", lambda line: line.text),
        figure("quantity", "Number", lambda line: float(line.quantity), lambda n: f"{n:.0f}"),
        figure("cost_usd", "Cost", lambda line: line.usd, lambda usd: money(usd, currency)),
    ), option.lines)
