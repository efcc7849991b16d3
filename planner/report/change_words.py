"""What changes from one plan to another, in sentences for a kitchen table: comforts, then loads."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.plan.plan import LoadPlan, Plan
from planner.report.comforts.comfort_changes import change_sentences_of
from planner.report.comforts.waits import longest_wait_h
from planner.report.smaller_words import listed
from planner.report.words import money, span
from planner.study.comfort_changes import comfort_changes

SAME_USD = 0.5
ABOVE_ALL = 6  # importance of what must run: above every wish

INSTEAD = {
    "direct": "instead of being always on",
    "module": "instead of taking turns",
    "by hand": "instead of being switched off by hand",
    "off": "instead of not being on standby power",
}


@dataclass(frozen=True, slots=True)
class Phrase:
    """What is said of one load, and of each of several."""

    one: str
    many: str


@dataclass(frozen=True, slots=True)
class Change:
    """One load in the one plan and in the other, and how late its work is done at most."""

    before: LoadPlan
    after: LoadPlan
    late_before_h: float = 0.0
    late_after_h: float = 0.0

    @property
    def rank(self) -> int:
        """Sorts what matters most to the front."""
        return -(ABOVE_ALL if self.after.must_run else self.after.importance)

    @property
    def phrases(self) -> tuple[Phrase, ...]:
        """What is said of it; empty if nothing changes."""
        if self.after.connection == "off":
            left = Phrase("is no longer on standby power", "are no longer on standby power")
            return _off(self) if self.before.connection == "off" else (left,)
        return (*_connection(self), *_soft_start(self), *_wait(self))


def change_sentences(plan: Plan, other: Plan) -> tuple[str, ...]:
    """Say what changes from a plan to another: price, equipment, comfort by comfort, then loads.

    Comforts that read alike and loads whose connection and wait stay as they are go unmentioned;
    loads that change alike share a sentence; what matters most to the family comes first.

    Parameters
    ----------
    plan, other : Plan
        Of one home and one price book.

    Returns
    -------
    tuple of str
        ``("Nothing changes.",)`` if nothing does.

    Raises
    ------
    KeyError
        If the plans are not of the same loads.
    """
    changes = [Change(part, other.load(part.id), longest_wait_h(plan, part.id),
                      longest_wait_h(other, part.id)) for part in plan.loads]
    comforts = change_sentences_of(comfort_changes(plan, other), plan.menu.house)
    lines = [*_equipment(plan, other), *(f"{one}." for one in comforts),
             *_load_sentences(changes), *_order(changes)]
    cost = _price(plan, other)
    if not lines and not cost:
        return ("Nothing changes.",)
    return (cost or "It costs the same.", *lines)


def _price(plan: Plan, other: Plan) -> str:
    currency = plan.menu.book.currency
    more_usd = other.cost_usd - plan.cost_usd
    if abs(more_usd) < SAME_USD:
        return ""
    return (f"It costs {money(abs(more_usd), currency)} {'more' if more_usd > 0.0 else 'less'}, "
            f"{money(other.cost_usd, currency)} in all.")


def _equipment(plan: Plan, other: Plan) -> list[str]:
    lines = []
    before, after = plan.supply.generator, other.supply.generator
    if before.id != after.id:
        names = [f"{one.label} ({one.id})" if before.label == after.label else one.label
                 for one in (after, before)]
        lines.append(f"The generator is the {names[0]} instead of the {names[1]}.")
    if plan.menu.kind != other.menu.kind:
        lines.append("The whole house is transferred instead of selected circuits."
                     if other.menu.kind == "whole-house" else
                     "Selected circuits are transferred instead of the whole house.")
    return lines


def _load_sentences(changes: Sequence[Change]) -> list[str]:
    groups: dict[tuple[Phrase, ...], list[str]] = {}
    for change in sorted(changes, key=lambda one: one.rank):
        if change.phrases:
            groups.setdefault(change.phrases, []).append(change.after.label)
    return [_sentence(labels, phrases) for phrases, labels in groups.items()]


def _sentence(labels: Sequence[str], phrases: Sequence[Phrase]) -> str:
    said = [phrase.one if len(labels) == 1 else phrase.many for phrase in phrases]
    tail = f", and {said.pop()}" if len(said) > 1 else ""
    return f"{listed(labels)} {', '.join(said)}{tail}."


def _off(change: Change) -> tuple[Phrase, ...]:
    """Say that what is off in both plans is so in another way."""
    if change.before.stays_open == change.after.stays_open:
        return ()
    if change.after.stays_open:
        return (Phrase("is off by a module that stays open", "are off by modules that stay open"),)
    return (Phrase("is off without a module", "are off without modules"),)


def _connection(change: Change) -> list[Phrase]:
    before, after = change.before.connection, change.after.connection
    if before == after:
        return []
    if after == "direct":
        return [Phrase(f"is always on {INSTEAD[before]}", f"are always on {INSTEAD[before]}")]
    if after == "by hand":
        rest = f"switched off by hand {INSTEAD[before]}"
        return [Phrase(f"is {rest}", f"are {rest}")]
    return [Phrase(f"takes turns {INSTEAD[before]}", f"take turns {INSTEAD[before]}")]


def _soft_start(change: Change) -> list[Phrase]:
    before, after = change.before.soft_starter, change.after.soft_starter
    if before == after:
        return []
    how = "without a soft starter" if after is None else (
        "through another soft starter" if before else "through a soft starter")
    return [Phrase(f"starts {how}", f"each start {how}")]


def _wait(change: Change) -> list[Phrase]:
    """Say a longest wait that changes, of what does a piece of work."""
    before_h, after_h = change.late_before_h, change.late_after_h
    if before_h == after_h or change.after.connection != "module":
        return []
    if not after_h:
        return [Phrase("no longer waits", "no longer wait")]
    most = f"up to {span(after_h)}{f' instead of {span(before_h)}' if before_h else ''}"
    return [Phrase(f"waits {most}", f"each wait {most}")]


def _order(changes: Sequence[Change]) -> list[str]:
    """Say that loads which take turns in both plans do so in another order."""
    both = [one for one in changes if one.before.priority and one.after.priority]
    orders = [[one.after.id for one in sorted(both, key=key)]
              for key in (lambda one: one.before.priority, lambda one: one.after.priority)]
    return [] if orders[0] == orders[1] else ["The order in which loads take turns changes."]


__all__ = ["Change", "Phrase", "change_sentences"]
