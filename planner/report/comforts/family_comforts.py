"""For the family, comfort by comfort: what matters to them, and what an outage would be like."""

from __future__ import annotations

from collections.abc import Sequence

from planner.facts.comfort import Comfort
from planner.facts.home import Home
from planner.plan.plan import Plan
from planner.report.comforts.comfort_words import NO_USE, comfort_phrase, hardest_day
from planner.report.comforts.missed_words import seasons
from planner.report.comforts.promise_words import NOTHING_LOST
from planner.report.comforts.waits import wait_words, waiting
from planner.report.smaller_words import listed
from planner.report.words import count
from planner.service.kept import Kept

MATTERS = ("We can do without", "Nice to have", "Matters", "Matters most", "Must always work")
IMPORTANCE = {"We can do without": 0, "Nice to have": 2, "Matters": 4, "Matters most": 5}
MUST = MATTERS[-1]
MUCH, HALF = 4, 0.5  # what matters so much and is kept less than so on a day is not "nearly"
MOST_NAMED = 3  # in a line, of what is less than usual
AS_USUAL = 0.995  # kept on every day, to be called as usual; a choice of words, no source

LIKE, ALWAYS = "What it would be like on the hardest day", "Works as always"
TURNS, WAITS = "Take turns, in this order", "What waits"
TOLD = frozenset({"room", "hot water", "meals", "car"})  # in figures, though as usual
SOMEBODY = ("When the power fails somebody switches these off at the panel, and leaves them off "
            "until it is back. It costs nothing.")
BY_HAND, OFF = "You switch it off yourself", "Off until the power is back"


def matters(home: Home, comfort: Comfort) -> str:
    """Say in the family's words how much a comfort matters."""
    if comfort.must_run or all(home.load(one).must_run for one in comfort.loads):
        return MUST
    return MATTERS[(comfort.importance + 1) // 2] if comfort.importance < 5 else MATTERS[3]


def can_be_chosen(home: Home) -> tuple[Comfort, ...]:
    """The comforts that a family has a choice about: those that some plan could leave wanting."""
    return tuple(one for one in home.comforts if matters(home, one) == MUST or any(
        home.load(load_id).allowed - {"direct"} for load_id in one.loads))


def said_sentences(home: Home) -> tuple[str, ...]:
    """Repeat what the family said, what matters most first."""
    chosen = {word: [one.label for one in can_be_chosen(home) if matters(home, one) == word]
              for word in reversed(MATTERS)}
    return tuple(f"{word}: {listed(labels)}" for word, labels in chosen.items() if labels)


def in_short(plan: Plan) -> str:
    """Say in a line how far life in an outage is from usual."""
    less = [one for one in plan.comforts if not is_as_usual(one, plan)]
    lost = any(one.comfort.importance >= MUCH and float(one.by_day.min()) < HALF for one in less)
    late = waiting(plan)
    tail = f"; {count(len(late), 'thing waits', 'things wait')}" if late else ""
    gone = given_up(plan)
    tail += f"; given up: {_named(gone)}" if gone else ""
    if not less:
        return f"Everything {'else ' if gone else ''}as usual{tail}."
    head = "Less than usual" if lost else "Nearly everything as usual; less than usual"
    return f"{head}: {_named(less)}{tail}."


def _named(kept: Sequence[Kept]) -> str:
    return (listed([one.comfort.label for one in kept]) if len(kept) <= MOST_NAMED
            else count(len(kept), "thing"))


def given_up(plan: Plan) -> tuple[Kept, ...]:
    """The comforts that the family can do without, of which something is missing."""
    return tuple(one for one in plan.comforts if one.comfort.importance == 0
                 and not _nothing_is_missing(one, plan))


def differs_sentences(plan: Plan) -> tuple[str, ...]:
    """Say of each comfort that is not as usual what it is like on the hardest day."""
    return tuple(like_sentence(one, plan) for one in plan.comforts if not is_as_usual(one, plan))


def is_as_usual(kept: Kept, plan: Plan) -> bool:
    """Whether a comfort is as with the utility on every day, or nobody would notice or mind."""
    return kept.comfort.importance == 0 or _nothing_is_missing(kept, plan)


def _nothing_is_missing(kept: Kept, plan: Plan) -> bool:
    if float(kept.by_day.min()) >= AS_USUAL:
        return True
    return comfort_phrase(kept, plan.menu.house) in {NO_USE, *NOTHING_LOST.values()}


def happens_sentences(plan: Plan) -> dict[str, tuple[str, ...]]:
    """Say what happens when the power fails, under headings; a heading may be empty."""
    mind = [one for one in plan.comforts if one.comfort.importance > 0 or one.comfort.must_run]
    told = [one for one in mind if one.comfort.kind in TOLD or not is_as_usual(one, plan)]
    gone = [one for one in given_up(plan) if one not in mind]
    return {
        LIKE: tuple(like_sentence(one, plan) for one in (*told, *gone)),
        ALWAYS: tuple(one.comfort.label for one in mind if one not in told),
        TURNS: tuple(plan.loads[i].label for i in plan.choice.order),
        WAITS: tuple(f"{part.label}: done {wait_words(plan, part.id)} later"
                     for part in waiting(plan)),
        BY_HAND: tuple(part.label for part in plan.loads if part.connection == "by hand"),
        OFF: tuple(part.label for part in plan.loads if part.connection == "off"),
    }


def like_sentence(kept: Kept, plan: Plan) -> str:
    """Say what a comfort is like on its hardest day; of a room in the heat and in the cold.

    Where something is missed, the day is named.
    """
    house = plan.menu.house
    day = ("" if kept.comfort.kind == "room" or is_as_usual(kept, plan) or len(house.weights) < 2
           else f" on {house.home.days[hardest_day(kept, house)].label}")
    return f"{kept.comfort.label}: {seasons(kept, plan)}{day}"
