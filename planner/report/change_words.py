"""What changes from one plan to another, in sentences for a kitchen table."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.plan.plan import LoadPlan, Plan
from planner.report.smaller_words import listed
from planner.report.words import money, span

SAME_USD = 0.5
SAME_H = 1e-9
ABOVE_ALL = 6  # importance of what must run: above every wish

INSTEAD = {
    "direct": "instead of being always on",
    "module": "instead of taking turns",
    "off": "instead of not being on standby power",
}


@dataclass(frozen=True, slots=True)
class Phrase:
    """What is said of one load, and of each of several."""

    one: str
    many: str


@dataclass(frozen=True, slots=True)
class Change:
    """One load in the one plan and in the other."""

    before: LoadPlan
    after: LoadPlan

    @property
    def rank(self) -> tuple[int, float]:
        """Sorts what matters most to the front: importance, then hours won or lost."""
        load = self.after
        return (-(ABOVE_ALL if load.must_run else load.importance), -abs(self.more_h))

    @property
    def more_h(self) -> float:
        """Hours a day that it gets more [h]; negative if less."""
        return self.after.served_h - self.before.served_h

    @property
    def phrases(self) -> tuple[Phrase, ...]:
        """What is said of it; empty if nothing changes."""
        if self.after.connection == "off":
            left = Phrase("is no longer on standby power", "are no longer on standby power")
            return () if self.before.connection == "off" else (left,)
        return (*_connection(self), *_soft_start(self), *_hours(self), *_wait(self))


def change_sentences(plan: Plan, other: Plan) -> tuple[str, ...]:
    """Say what changes from a plan to another: price, equipment, then load by load.

    Loads whose hours, waits and connection stay as they are go unmentioned; those that change alike
    share a sentence; what matters most to the family comes first.

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
    changes = [Change(part, other.load(part.id)) for part in plan.loads]
    lines = [*_equipment(plan, other), *_load_sentences(changes), *_order(changes)]
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


def _connection(change: Change) -> list[Phrase]:
    before, after = change.before.connection, change.after.connection
    if before == after:
        return []
    if after == "direct":
        return [Phrase(f"is always on {INSTEAD[before]}", f"are always on {INSTEAD[before]}")]
    return [Phrase(f"takes turns {INSTEAD[before]}", f"take turns {INSTEAD[before]}")]


def _soft_start(change: Change) -> list[Phrase]:
    before, after = change.before.soft_starter, change.after.soft_starter
    if before == after:
        return []
    how = "without a soft starter" if after is None else (
        "through another soft starter" if before else "through a soft starter")
    return [Phrase(f"starts {how}", f"each start {how}")]


def _hours(change: Change) -> list[Phrase]:
    """Say the hours won or lost, and if a connected load gets nothing."""
    before, after = change.before, change.after
    nothing = after.called_h > SAME_H and after.served_h <= SAME_H
    if abs(change.more_h) <= SAME_H:
        if nothing and before.connection == "off":
            return [Phrase("finds no room to run", "find no room to run")]
        return []
    length = span(abs(change.more_h)).replace("none", "less than a minute")
    more = "more" if change.more_h > 0.0 else "less"
    rest = f"{length} a day {more}{', which leaves none' if nothing else ''}"
    return [Phrase(f"gets {rest}", f"each get {rest}")]


def _wait(change: Change) -> list[Phrase]:
    """Say a longest wait that changes; it is known for the turns that a load gets."""
    before_h, after_h = change.before.longest_wait_h, change.after.longest_wait_h
    after = change.after
    if before_h == after_h or after.connection != "module" or after.served_h <= SAME_H:
        return []
    one, many = (("", "") if after.service >= 1.0 - SAME_H else
                 (" where it is served", " where they are served"))
    if not after_h:
        return [Phrase(f"no longer waits{one}", f"no longer wait{many}")]
    most = f"{span(after_h)} at most{f' instead of {span(before_h)}' if before_h else ''}"
    return [Phrase(f"waits {most}{one}", f"each wait {most}{many}")]


def _order(changes: Sequence[Change]) -> list[str]:
    """Say that loads which take turns in both plans do so in another order."""
    both = [one for one in changes if one.before.priority and one.after.priority]
    orders = [[one.after.id for one in sorted(both, key=key)]
              for key in (lambda one: one.before.priority, lambda one: one.after.priority)]
    return [] if orders[0] == orders[1] else ["The order in which loads take turns changes."]


__all__ = ["Change", "Phrase", "change_sentences"]
