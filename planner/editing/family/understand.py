"""A text understood, statement by statement: what is there, how many, what is wished of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.editing.family.absent import miss
from planner.editing.family.again import spoken_of
from planner.editing.family.burning import burn, fuel_of, heat_in
from planner.editing.family.circuits import without_circuits
from planner.editing.family.counting import count, floors_of
from planner.editing.family.marks import Statement
from planner.editing.family.mentions import Mention, Wish
from planner.editing.family.naming import named_in
from planner.editing.family.places import section_of, standing_in
from planner.editing.family.sizing import size
from planner.editing.family.text import plain, statements
from planner.editing.family.wishes import attach, heading_of, last_of


@dataclass
class Understood:
    """What a text says.

    Attributes
    ----------
    mentions : list of Mention
        Loads, and what is no load; what is spoken of again is not there again.
    facts : dict
        Of the house, with their lines; `fuel` among them.
    fuel_is_told : bool
        Whether the fuel is named; a gas that nobody calls by its name is taken for natural gas.
    heated_by : str
        The fuel that heats the house; empty if nothing is said. `heated_line` says where.
    statements : list of Statement
    """

    mentions: list[Mention] = field(default_factory=list)
    facts: dict[str, tuple[int, str | float]] = field(default_factory=dict)
    fuel_is_told: bool = False
    heated_by: str = ""
    heated_line: int = 0
    statements: list[Statement] = field(default_factory=list)
    fuels: list[tuple[int, str]] = field(default_factory=list)


@dataclass
class _Context:
    """What the statements before leave behind: a heading, a wish, a place, the last things."""

    heading: Wish | None = None
    said: Wish | None = None
    section: str = ""
    before: list[Mention] = field(default_factory=list)


def understood(text: str) -> Understood:
    """Understand a text."""
    found, context = Understood(), _Context()
    told = plain(text)
    floors = floors_of(told)
    for line, words in statements(without_circuits(told)):
        if words:
            _understand(Statement(line, words), found, context, floors)
        else:
            context.heading, context.section = None, ""
    said = [fuel for _, fuel in found.fuels]
    fuel = fuel_of(said)
    found.fuel_is_told = fuel in said
    if fuel:
        found.facts.setdefault("fuel", (found.fuels[0][0], fuel))
    found.mentions = [one for one in found.mentions if not _describes(one, found.mentions)]
    return found


def _understand(here: Statement, found: Understood, context: _Context, floors: int) -> None:
    made = named_in(here)
    found.statements.append(here)
    heading = heading_of(here)
    if heading is not None:
        context.heading = context.said = heading
        context.before = []
        return
    count(here, made, floors)
    found.fuels += [(here.line, fuel) for fuel in burn(here, made)]
    size(here, made, context.before)
    miss(here, made)
    again = spoken_of(here, made, found.mentions)
    section = section_of(here, made)
    if section and not made:
        context.section = section
    for one in made:
        one.section = section or context.section
    _wish(here, made, found, context, again)
    found.mentions += [one for one in made if id(one) not in again]
    _facts(here, found)
    about = [other for one in made for other in again.get(id(one), [one])]
    context.before = about or context.before


def _wish(
    here: Statement, made: Sequence[Mention], found: Understood, context: _Context,
    again: dict[int, list[Mention]],
) -> None:
    attach(here, made, standing_in(here, made, found.mentions) or context.before, again.keys())
    if context.heading is not None and not here.of("wish"):
        for one in made:
            one.wish = context.heading
    if here.of("same") and context.said is not None:
        for one in made:
            one.wish = one.wish or context.said
    for one in made:  # what is wished of one spoken of again is wished of all that are meant
        for other in again.get(id(one), []):
            other.wish = one.wish or other.wish
    context.said = last_of(here) or context.said


def _facts(here: Statement, found: Understood) -> None:
    for mark in here.of("fact"):
        if isinstance(mark.value, (str, float)):
            found.facts.setdefault(mark.key, (here.line, mark.value))
    fuel = heat_in(here)
    if fuel:
        found.heated_by, found.heated_line = fuel, here.line


def _describes(one: Mention, mentions: Sequence[Mention]) -> bool:
    """Whether it only describes a house whose list names the thing itself elsewhere."""
    described = any(mark.key == "floor_area" for mark in one.place.marks)
    return described and not one.counted and not one.sizes and any(
        other.kind == one.kind and other.place is not one.place for other in mentions)
