"""Tables of portable generators that are worked by hand."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import SLOT_H
from planner.plan.plan import Plan
from planner.plan.price import PriceLine
from planner.report.comforts.comfort_words import (
    comfort_phrase,
    day_phrase,
    hardest_day,
    importance_words,
    promise_words,
    shown_days,
)
from planner.report.comforts.missed_words import told
from planner.report.portable.breaks import broken_in_short
from planner.report.portable.groups import groups_of, hours_of, night_words
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import count, money, number, share, span
from planner.service.kept import Kept
from planner.study.portable.option import DAILY_H, SWITCHING_H, ByHand
from planner.study.portable.periods import GAP_SLOTS

NOTE_OF_OPTIONS = ("Breaks: promises that are not kept while somebody works it. Kept: of all "
                   "comforts by their importance, light included; not the coverage of a plan, and "
                   "a flood counts in it as one comfort among the others. Work a day: on the "
                   "hardest day.")
NOTE_OF_WORK = (f"Work: {span(SWITCHING_H)} each time it is switched, {span(GAP_SLOTS * SLOT_H)} "
                f"each refuelling, {span(DAILY_H)} a day to bring it out, start it and check it "
                "(common practice, no source).")


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
        text("portable", "Generator and transfer", _name),
        figure("cost_usd", "Cost", lambda one: one.usd, money),
        text("broken", "Breaks", broken_in_short),
        figure("kept", "Kept", lambda one: one.kept, share),
        figure("attention_h", "Work a day", lambda one: float(one.attention_h.max()), span),
    ), options)


def _name(option: ByHand) -> str:
    """Tell an option from the others in few words."""
    starters = sum(map(bool, option.machine.soft_start))
    parts = [option.portable.label, "interlock" if option.transfer.kind == "interlock"
             else f"switch with {option.transfer.positions} positions"]
    return ", ".join([*parts, count(starters, "soft starter")] if starters else parts)


def kept_table(option: ByHand) -> Table[KeptRow]:
    """Every comfort on its hardest day, what matters most first."""
    home = option.house.home
    ranked = sorted(option.comforts, key=lambda one: (
        importance_words(home, one.comfort) != "must-have", -one.comfort.importance))
    return Table("What it keeps, worked by hand", KEPT, [KeptRow(option, one) for one in ranked])


def _promised(row: KeptRow) -> str:
    said = promise_words(row.kept.comfort)
    broken = any(one.comfort == row.kept.comfort.id for one in row.option.broken)
    return f"broken: {said}" if broken else said


KEPT: tuple[Column[KeptRow], ...] = (
    text("comfort", "Comfort", lambda row: row.kept.comfort.label),
    text("hardest", "On its hardest day",
         lambda row: comfort_phrase(row.kept, row.option.house)),
    text("day", "Day", lambda row: row.option.house.home.days[
        hardest_day(row.kept, row.option.house)].label),
    figure("kept", "Kept", lambda row: row.kept.kept, share),
    text("promise", "Promised", _promised),
)


def beside_table(option: ByHand, plan: Plan) -> Table[tuple[Kept, Kept]]:
    """Every comfort on its hardest day, by the plan and by hand, what matters most first."""
    house = plan.menu.house
    of_plan = {one.comfort.id: one for one in plan.comforts}
    return Table("The recommended plan, and by hand", (
        text("comfort", "Comfort", lambda pair: pair[0].comfort.label),
        text("by_plan", "Recommended plan, by itself", lambda pair: ", ".join(
            told(pair[0], plan, day) for day in sorted(shown_days(pair[0], house)))),
        text("by_hand", "By hand, while somebody works it",
             lambda pair: ", ".join(
                 day_phrase(pair[1], house, day) for day in sorted(shown_days(pair[1], house)))),
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


def groups_table(option: ByHand, day: int) -> Table[tuple[str, str, str]]:
    """What is on and what is off on a design day besides, from each hour of a change on."""
    label = option.house.home.days[day].label
    return Table(f"Besides on {label}, from hour to hour", (
        text("from", "From", lambda row: row[0]), text("on", "On", lambda row: row[1]),
        text("off", "OFF", lambda row: row[2]),
    ), groups_of(option, day))


def lines_table(option: ByHand) -> Table[PriceLine]:
    """Price, line by line."""
    currency = option.book.currency
    return Table("Price", (
        text("what", "What", lambda line: line.text),
        figure("quantity", "Number", lambda line: float(line.quantity), lambda n: f"{n:.0f}"),
        figure("cost_usd", "Cost", lambda line: line.usd, lambda usd: money(usd, currency)),
    ), option.lines)
