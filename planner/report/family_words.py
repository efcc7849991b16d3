"""For the family, without a word of the trade: what matters, what happens, what it costs."""

from __future__ import annotations

from collections.abc import Sequence

from planner.case.home import Home, Load
from planner.plan.plan import LoadPlan, Plan
from planner.plan.starved import starved
from planner.report.plan_words import always_on, left_off, taking_turns
from planner.report.smaller_words import listed
from planner.report.tables.wishes import SAME_USD, is_free, price_change_usd
from planner.report.words import money, share, span
from planner.study.picks import PickName
from planner.study.wish_cost import WishCost

MATTERS = ("We can do without", "Nice to have", "Matters", "Matters most", "Must always work")
IMPORTANCE = {"We can do without": 0, "Nice to have": 2, "Matters": 4, "Matters most": 5}
MUST = MATTERS[-1]
PICKED: dict[PickName, str] = {
    "least": "The essentials", "goal": "What you asked for",
    "fed": "Everything gets its turn", "knee": "Good value",
    "most": "Everything, taking turns", "nothing shed": "Everything at once",
}
NEARLY_ALL = 0.995
MOST = 0.75
HALF = 0.5


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
    """Say what happens when the power fails, under three headings; a heading may be empty."""
    hungry = {part.id for part in starved(plan)}
    turns = [part for part in taking_turns(plan)
             if part.called_h > 0.0 and part.id not in hungry]
    return {
        "Always on": tuple(part.label for part in always_on(plan)),
        "Taking turns": tuple(turn_words(part) for part in turns),
        "Would not work": tuple(part.label for part in starved(plan)),
        "Off until the power is back": tuple(part.label for part in left_off(plan)),
    }


def turn_words(part: LoadPlan) -> str:
    """Say what taking turns means for one thing, as a family would."""
    wait = (f"waits {span(part.longest_wait_h)} at most" if part.longest_wait_h
            else "without waiting")
    if part.service >= NEARLY_ALL:
        return f"{part.label}: works as always, {wait}"
    if part.service >= MOST:
        return f"{part.label}: works most of the time, {wait}"
    if part.service >= HALF:
        return f"{part.label}: works some of the time, {wait}"
    if part.service > 0.0:
        return f"{part.label}: works little, {wait}"
    return f"{part.label}: does not get a turn on these days"


def keeps_words(plan: Plan) -> str:
    """Say how much of what matters keeps working."""
    return f"Keeps {share(plan.coverage)} of what matters to you"


def price_of_wishes(costs: Sequence[WishCost]) -> tuple[str, ...]:
    """Say what each wish would save or cost, the dearest first."""
    return tuple(_said(cost) for cost in costs if not is_free(cost))


def free_wishes(costs: Sequence[WishCost]) -> str:
    """Name what could always work for the same price; empty if there is nothing."""
    labels = [cost.home.load(cost.wish.load_ids[0]).label for cost in costs
              if is_free(cost) and cost.direction == "add" and cost.wish.kind == "must-run"]
    if not labels:
        return ""
    return f"For the same price any one of these can always work: {listed(labels)}."


def _said(cost: WishCost) -> str:
    change_usd = price_change_usd(cost)
    head = f"If {_change(cost)}"
    if change_usd is None:
        return f"{head} - none of the generators in the price book can do that."
    currency = cost.before.menu.book.currency
    if abs(change_usd) < SAME_USD:
        return f"{head} - the price stays the same."
    return f"{head} - {money(abs(change_usd), currency)} {'more' if change_usd > 0.0 else 'less'}."


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
            return f"{labels[0]} may have its turn ahead of {labels[1]}"
        case ("order", "add"):
            return "what matters more always has its turn first"
        case _:
            return "turns need not follow what matters more"
