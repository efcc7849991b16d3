"""For the family, without a word of the trade: what matters, what happens, what it costs."""

from __future__ import annotations

from collections.abc import Sequence

from planner.facts.home import Home, Load
from planner.plan.plan import LoadPlan, Plan
from planner.plan.standstill import longest_standstill_h
from planner.plan.starved import starved
from planner.report.plan_words import always_on, left_off, taking_turns
from planner.report.smaller_words import listed
from planner.report.tables.wishes import is_free, price_change_usd
from planner.report.words import money, share, span
from planner.study.picks import PickName
from planner.study.wish_cost import WishCost
from planner.tolerances import reaches

MATTERS = ("We can do without", "Nice to have", "Matters", "Matters most", "Must always work")
IMPORTANCE = {"We can do without": 0, "Nice to have": 2, "Matters": 4, "Matters most": 5}
MUST = MATTERS[-1]
PICKED: dict[PickName, str] = {
    "least": "The lowest price", "goal": "Recommended", "knee": "Good value",
    "most": "The most comfort", "nothing shed": "Everything at once",
}
NEARLY_ALL = 0.995  # this and the shares below: a choice of words, no source
OFTEN = ((NEARLY_ALL, "nearly always"), (0.75, "most of the time"), (0.5, "some of the time"),
         (0.0, "little"))


def matters(load: Load) -> str:
    """Say in the family's words how much a load matters."""
    if load.must_run:
        return MUST
    return MATTERS[(load.importance + 1) // 2] if load.importance < 5 else MATTERS[3]


def can_be_chosen(home: Home) -> tuple[Load, ...]:
    """The loads that a family has a choice about: those that need not always be connected."""
    return tuple(load for load in home.loads
                 if load.must_run or load.allowed & {"module", "off"})


def said_sentences(home: Home) -> tuple[str, ...]:
    """Repeat what the family said, what matters most first."""
    chosen = {word: [load.label for load in can_be_chosen(home) if matters(load) == word]
              for word in reversed(MATTERS)}
    return tuple(f"{word}: {listed(labels)}" for word, labels in chosen.items() if labels)


def happens_sentences(plan: Plan) -> dict[str, tuple[str, ...]]:
    """Say what happens when the power fails, under headings; a heading may be empty.

    What takes turns and never has to wait works as always, too.
    """
    unserved = {part.id for part in starved(plan)}
    turns = [part for part in taking_turns(plan) if part.id not in unserved]
    as_always = [part for part in turns if is_as_always(part)]
    return {
        "Works as always": tuple(part.label for part in (*always_on(plan), *as_always)),
        "Taking turns": tuple(turn_words(plan, part) for part in turns if part not in as_always),
        "Would not work": tuple(part.label for part in starved(plan)),
        "Off until the power is back": tuple(part.label for part in left_off(plan)),
    }


def is_as_always(part: LoadPlan) -> bool:
    """Whether a load gets all it asks for without waiting."""
    return reaches(part.service, 1.0) and part.longest_wait_h == 0.0


def turn_words(plan: Plan, part: LoadPlan) -> str:
    """Say what taking turns means for one thing, as a family would."""
    if part.service >= NEARLY_ALL and part.longest_wait_h:
        return f"{part.label}: works, but at times later: {span(part.longest_wait_h)} at most"
    if part.service == 0.0:
        return f"{part.label}: never runs"
    often = next(words for least, words in OFTEN if part.service >= least)
    still = span(longest_standstill_h(plan, part.id))
    return f"{part.label}: works {often}; at worst it has no power for {still} when it is wanted"


def keeps_words(plan: Plan) -> str:
    """Say how much of what matters keeps working."""
    return f"Serves {share(plan.coverage)} of what you asked for, by how much it matters to you"


HOW_WISHES_ARE_PRICED = (
    "Each price leaves everything else working as well as in the plan above. A choice that you "
    "click may cost less than its price here, where other things then wait longer.")


def price_of_wishes(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Say what each wish would save or cost, the most expensive first."""
    return tuple(_said(cost) for cost in costs if not is_free(cost))


def free_wishes(costs: Sequence[WishCost]) -> str:
    """Name what takes turns and could always work for the same price; empty if there is nothing."""
    labels = [cost.home.load(cost.wish.load_ids[0]).label for cost in costs
              if is_free(cost) and cost.direction == "add" and cost.wish.kind == "must-run"
              and cost.before.load(cost.wish.load_ids[0]).connection == "module"]
    if not labels:
        return ""
    return f"For the same price any one of these could always work: {listed(labels)}."


def not_in_the_price(home: Home) -> str:
    """Say what an installed price leaves out, by the fuel of the home."""
    site = ("a propane tank and longer gas pipe" if home.fuel == "propane"
            else "longer gas pipe, and a larger gas meter if one is needed")
    return f"Not in the price: {site}."


def _said(cost: WishCost) -> str:
    change_usd = price_change_usd(cost)
    if change_usd is None:
        return f"None of the generators can do it if {_change(cost)}."
    currency = cost.before.menu.book.currency
    more = "more" if change_usd > 0.0 else "less"
    return f"{money(abs(change_usd), currency)} {more} if {_change(cost)}."


def _change(cost: WishCost) -> str:
    """Say one change as a clause after "if"."""
    labels = [cost.home.load(load_id).label for load_id in cost.wish.load_ids]
    match (cost.wish.kind, cost.direction):
        case ("must-run", "give up"):
            return f"this need not always work: {labels[0]}"
        case ("must-run", "add"):
            return f"this must always work: {labels[0]}"
        case ("comfort", _):
            return f"you do without this: {labels[0]}"
        case ("never-before", _):
            return f"{labels[0]} may go ahead of {labels[1]}"
        case ("order", "add"):
            return "what matters more always goes first"
        case _:
            return "the order need not follow what matters more"
