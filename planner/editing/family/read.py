"""A family's list, made rows of loads, facts of the house, a budget, and what is left over."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.case.library import not_planned
from planner.case.messages import error, note, place, warning
from planner.editing.family.left import left_over, share_of_english
from planner.editing.family.mentions import SEVERAL, Mention
from planner.editing.family.names import vague
from planner.editing.family.rows import rows_of
from planner.editing.family.understand import Understood, understood
from planner.editing.house_words import is_decoration
from planner.editing.items import as_assumed
from planner.editing.lines import feeds_a_panel
from planner.editing.values import Value
from planner.errors import Finding
from planner.quoting import quoted, shortened

HEAT = {"kind": "gas furnace", "label": "Furnace"}
MOST_SAID = 12
"""Things that are not understood, each of which gets a finding; more are one finding (a choice)."""
FEW = 4  # of as many lines or sentences one names a thing at least (a choice)
LEAST_ENGLISH = 0.6  # of the longer words, slips mended; with less it is no list that can be read
UNREADABLE = 'Write one appliance to a line in English, for example "central air, 3 ton".'


@dataclass
class FamilyList:
    """What a family's list says."""

    rows: list[tuple[int, dict[str, Value]]] = field(default_factory=list)
    house: dict[tuple[str, str], Value] = field(default_factory=dict)
    budget_usd: float | None = None
    findings: list[Finding] = field(default_factory=list)
    not_read: list[str] = field(default_factory=list)


def read_family_list(text: str, name: str) -> FamilyList:
    """Read a family's list."""
    told, made = understood(text), FamilyList()
    if FEW * len(told.mentions) < len(told.statements) and share_of_english(told) < LEAST_ENGLISH:
        made.findings.append(error(name, "next to nothing of it is understood: it is in another "
                                   "language, or no list.", UNREADABLE))
        made.not_read.append(f"line 1: {shortened(' '.join(text.split()))}")
        return made
    for one in told.mentions:
        if one.is_load:
            made.rows += [(one.place.line, row) for row in rows_of(one)]
    _house(told, made, name)
    _heat(told, made, name)
    for one in told.mentions:
        if one.kind == SEVERAL and not one.gone:
            made.findings.append(_several(one, name))
            made.not_read.append(f"line {one.place.line}: {one.words}")
    left = left_over(told)
    made.not_read += [f"line {line}: {phrase}" for line, phrase in left]
    made.findings += _left(left, name)
    made.findings += [note(place(name, f"line {one.place.line}"),
                           f"{quoted(one.words)}: {_why(one)}")
                      for one in told.mentions if not one.is_load and one.kind != SEVERAL]
    return made


def _house(told: Understood, made: FamilyList, name: str) -> None:
    said = []
    for key, (line, value) in told.facts.items():
        if key == "budget":
            made.budget_usd = float(value)
            said.append((line, f"the budget is {made.budget_usd:,.0f} USD"))
        else:
            told_so = key != "fuel" or told.fuel_is_told
            made.house["home", key] = value if told_so else as_assumed(str(value))
            said.append((line, f"{key.replace('_', ' ')} {value}{'' if told_so else ' (assumed)'}"))
    if said:
        made.findings.append(note(place(name, f"line {min(line for line, _ in said)}"),
                                  f"read of the house: {'; '.join(text for _, text in said)}."))


def _heat(told: Understood, made: FamilyList, name: str) -> None:
    """Gas heat needs a furnace's blower, or a boiler's pump: a furnace unless something heats."""
    heats = {"gas furnace", "gas boiler", "furnace blower", "boiler circulator"}
    if told.heated_by and not any(row["kind"] in heats for _, row in made.rows):
        made.rows.append((told.heated_line, dict(HEAT)))
        made.findings.append(note(place(name, f"line {told.heated_line}"),
                                  "gas heat: a furnace is assumed, whose blower draws power.",
                                  "If it is a boiler, choose that kind."))


def _several(one: Mention, name: str) -> Finding:
    instead = next((vague()[form] for form in (one.words, one.words.removesuffix("s"),
                                               one.words.replace("-", " ")) if form in vague()), ())
    return warning(place(name, f"line {one.place.line}"),
                   f"{quoted(one.words)} may be several things.",
                   f"Write {' or '.join(quoted(kind) for kind in instead)}.")


def _why(one: Mention) -> str:
    if one.gone:
        return "not there, or not in use: no load."
    if is_decoration(one.words):
        return "of the lights of the house, no load by itself."
    planned = not_planned(one.words)
    return "draws nothing worth planning." if planned is None else f"{planned[0]} {planned[1]}"


def _left(left: list[tuple[int, str]], name: str) -> list[Finding]:
    remedy = "Write it in other words, or leave it out."
    if len(left) > MOST_SAID:
        first = "; ".join(phrase for _, phrase in left[:3])
        return [warning(place(name, f"line {left[0][0]}"),
                        f"{len(left)} things are not understood: {first}; and more.", remedy)]
    found = []
    for line, phrase in left:
        feeds = feeds_a_panel(phrase)
        found.append(warning(
            place(name, f"line {line}"),
            f"{quoted(phrase)}{': it feeds another panel.' if feeds else ' is not understood.'}",
            "Write what is in that panel, one load to a line." if feeds else remedy))
    return found
