"""Checks of a home file across its tables, each a function from the draft to findings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence

from planner.case.draft import Draft
from planner.case.fields import did_you_mean
from planner.case.file import LoadEntry
from planner.case.library import kinds
from planner.case.messages import error, place, warning
from planner.case.patterns import NEEDS, TAKES, UseEntry
from planner.errors import Finding
from planner.physics.demand.tables import (
    LEAST_LAUNDRY_CIRCUITS,
    LEAST_SMALL_APPLIANCE_CIRCUITS,
    clause,
)
from planner.physics.draw import LINE_VOLTS
from planner.quoting import harmless, quoted, shortened, some
from planner.units import Quantity, magnitude, written

SEASONS = ("summer", "winter", "mild")
MOST_GUESSES = 100
"""Unknown names of which a check looks for the closest known one, which takes milliseconds."""
MOST_LINES_SAID, LONGEST_LINE = 12, 100
"""Lines of a list in one sentence; the file has all of them: chosen, no source."""
SEVERAL_CIRCUITS = frozenset({"kitchen receptacles"})
"""Kinds that are one load on at least two circuits (NEC 210.11(C)(1), 2017 to 2023)."""

Check = Callable[[Draft], Iterable[Finding]]


def ids_stand_once(draft: Draft) -> Iterator[Finding]:
    """Check that an id names one panel, one day, one load."""
    for what, ids in (("panel", draft.panel_ids), ("day", draft.day_ids), ("load", draft.load_ids),
                      ("comfort", draft.comfort_ids)):
        for name, count in Counter(ids).items():
            if count > 1:
                yield error(place(draft.file, f"{what} {name}"),
                            f"{count} {what}s have this id.", "Give each an id of its own.")


def day_ids_are_no_seasons(draft: Draft) -> Iterator[Finding]:
    """Check that no day is called like a season or "every": a use would be ambiguous."""
    for name in draft.day_ids:
        if name in (*SEASONS, "every"):
            yield error(place(draft.file, f"day {name}", "id"), f'"{name}" has a meaning of its '
                        "own in a load's use.", "Choose another id for the day.")


def panels_exist(draft: Draft) -> Iterator[Finding]:
    """Check that each load hangs on a panel of the file."""
    for load in draft.loads:
        if load.panel is not None and load.panel not in draft.panel_ids:
            yield _unknown(draft.at_load(load.id, "panel"), "panel", load.panel, draft.panel_ids)


def companions_exist(draft: Draft) -> Iterator[Finding]:
    """Check that `requires` and `not_with` name other loads of the file."""
    known, unknown = frozenset(draft.load_ids), 0
    for load in draft.loads:
        for key, names in (("requires", load.requires), ("not_with", load.not_with)):
            where = draft.at_load(load.id, key)
            for name in names:
                if name == load.id:
                    yield error(where, "it names the load itself.", f'Take "{name}" out.')
                elif name not in known:
                    unknown += 1
                    yield _unknown(where, "load", name, draft.load_ids,
                                   guess=unknown <= MOST_GUESSES)


def pairs_exist(draft: Draft) -> Iterator[Finding]:
    """Check that `never_before` pairs two loads of the file."""
    where, known = place(draft.file, "wishes", "never_before"), frozenset(draft.load_ids)
    unknown = 0
    for first, second in draft.wishes.never_before:
        if first == second:
            yield error(where, f"{quoted(first)} is paired with itself.", "Take the pair out.")
        for name in sorted({first, second} - known):
            unknown += 1
            yield _unknown(where, "load", name, draft.load_ids, guess=unknown <= MOST_GUESSES)


def added_loads_exist(draft: Draft) -> Iterator[Finding]:
    """Check that the loads new to the dwelling are loads of the file."""
    for name in draft.code.added if draft.code is not None else ():
        if name not in draft.load_ids:
            yield _unknown(place(draft.file, "code", "added"), "load", name, draft.load_ids)


def code_method_has_its_input(draft: Draft) -> Iterator[Finding]:
    """Check that the method has its input, and say what it does not read."""
    code = draft.code
    if code is None:
        return
    where = place(draft.file, "code", "measured")
    if code.method == "measured" and code.measured is None:
        yield error(where, 'method "measured" needs a measurement.',
                    "Add [code.measured] with peak, days and interval. A file can give them.")
    if code.method != "measured" and code.measured is not None:
        yield warning(where, f'method "{code.method}" does not use the measurement.',
                      'Write method = "measured" to use it.')
    yield from _peak_beyond_the_service(draft)
    if code.method != "existing" and code.added:
        yield warning(place(draft.file, "code", "added"),
                      f'method "{code.method}" does not tell new loads from old.',
                      'Write method = "existing" to use it.')


def _peak_beyond_the_service(draft: Draft) -> Iterator[Finding]:
    """Check that a measured demand is one that the service can carry."""
    measured = draft.code.measured if draft.code is not None else None
    if measured is None or draft.home is None:
        return
    peak_kva = magnitude(measured.peak, "kVA")
    most_kva = magnitude(draft.home.service, "A") * LINE_VOLTS / 1000.0
    if peak_kva > most_kva:
        yield warning(place(draft.file, "code", "measured.peak"),
                      f"{peak_kva:g} kVA is more than the service carries ({most_kva:g} kVA): a "
                      "faulty reading, or another unit than it was read in.",
                      "Look at that reading in the file, and mend or leave it out.")


def circuits_are_enough(draft: Draft) -> Iterator[Finding]:
    """Warn of fewer small-appliance and laundry circuits than the code counts in any dwelling."""
    code = draft.code
    if code is None:
        return
    for key, what, number, least in (
            ("small_appliance_circuits", "small-appliance", "220.52(A)",
             LEAST_SMALL_APPLIANCE_CIRCUITS),
            ("laundry_circuits", "laundry", "220.52(B)", LEAST_LAUNDRY_CIRCUITS)):
        given = getattr(code, key)
        if given < least:
            circuits = "circuit" if least == 1 else "circuits"
            yield warning(place(draft.file, "code", key),
                          f"{given} is below the {least} {what} {circuits} that a dwelling has at "
                          f"least; {least} counted (NEC {clause(code.edition, number)}).",
                          f"Write {key} = {least} or more.")


def temperatures_are_in_order(draft: Draft) -> Iterator[Finding]:
    """Check that winter is colder than summer, and a day's low not above its high."""
    home = draft.home
    if home is not None and home.winter_design >= home.summer_design:
        yield error(place(draft.file, "home", "winter_design"),
                    f"the winter design temperature ({_degf(home.winter_design)}) is not below "
                    f"summer's ({_degf(home.summer_design)}).", "Are the two swapped?")
    if home is not None and home.heating_set_point >= home.cooling_set_point:
        yield error(place(draft.file, "home", "heating_set_point"),
                    f"the heating set point ({_degf(home.heating_set_point)}) is not below the "
                    f"cooling set point ({_degf(home.cooling_set_point)}): a room would be heated "
                    "and cooled in turn.", "Are the two swapped?")
    for day in draft.days:
        if day.low > day.high:
            yield error(place(draft.file, f"day {day.id}", "low"), f"the low ({_degf(day.low)}) is "
                        f"above the high ({_degf(day.high)}).", "Are the two swapped?")


def uses_are_whole(draft: Draft) -> Iterator[Finding]:
    """Check that a use names a day or a season, and has what its kind reads and no more."""
    keys = (*draft.day_ids, *SEASONS, "every")
    for load in draft.loads:
        for key, use in load.use.items():
            where = draft.at_load(load.id, f"use.{key}")
            if key not in keys:
                hint = did_you_mean(key, keys) or f"Keys: {some(keys)}."
                yield error(where, f"{quoted(key)} is no day and no season.", hint)
            for finding in _use_findings(use, where):
                if not draft.is_refused(f"{where}.{NEEDS.get(use.kind, '')}"):
                    yield finding


def transfer_is_possible(draft: Draft) -> Iterator[Finding]:
    """Check that at least one kind of transfer equipment is allowed."""
    if draft.home is not None and not draft.home.transfer:
        yield error(place(draft.file, "home", "transfer"), "no transfer equipment is allowed.",
                    'Write ["whole-house"], ["selected-circuits"], or both.')


def must_runs_have_no_other_wish(draft: Draft) -> Iterator[Finding]:
    """Warn of wishes that a must-run load cannot have: no importance, no waiting."""
    for load in draft.loads:
        if load.must_run and load.importance == 0:
            yield warning(draft.at_load(load.id, "importance"),
                          "importance 0 on a must-run load changes nothing.",
                          "Must-run is a constraint; leave importance out.")
        if load.must_run and load.wait is not None and load.wait.magnitude > 0.0:
            yield warning(draft.at_load(load.id, "wait"), "a must-run load does not wait.",
                          "Leave wait out, or give up must_run.")


def nameplates_are_read(draft: Draft) -> Iterator[Finding]:
    """Warn of nameplate values that another value puts aside, or that say too little."""
    for load in draft.loads:
        starts = [key for key in ("surge", "locked_rotor", "code_letter")
                  if getattr(load, key) is not None]
        for key in starts[1:]:
            yield warning(draft.at_load(load.id, key), f"it is not read, because {starts[0]} is "
                          "given and says more.", "Leave one of the two out.")
        if load.mop is not None and load.mca is None and load.running is None:
            yield warning(draft.at_load(load.id, "mop"), "a breaker size alone does not say what "
                          "a load draws; it is not read.", "Give mca, or running.")


def spaces_of(kind: str, leg: str) -> int | None:
    """Spaces that the circuit of a load takes; None where a load stands for several circuits."""
    found = kinds().get(kind)
    if found is None or found.covers_floor or kind in SEVERAL_CIRCUITS:
        return None
    return 2 if leg == "both" or (not leg and found.legs[0] == "both") else 1


def positions_are_possible(draft: Draft) -> Iterator[Finding]:
    """Check that a load takes as many spaces as its breaker has poles, and no other's.

    Loads at the very same positions are on one circuit, behind one breaker.
    """
    seen: dict[tuple[str | None, str], LoadEntry] = {}
    for load in draft.loads:
        where, needed = draft.at_load(load.id, "positions"), spaces_of(load.kind, load.leg or "")
        if not load.positions or needed is None:
            continue
        if len(load.positions) != needed:
            spaces = "1 space" if needed == 1 else f"{needed} spaces"
            yield error(where, f"{len(load.positions)} named, but its breaker takes {spaces}.",
                        'Write for example "9,11" where it is on both legs, "9" where on one.')
        others = [other for space in load.positions
                  if (other := seen.setdefault((load.panel, space), load)) is not load]
        for other in others[:1]:
            if set(other.positions) != set(load.positions):
                yield warning(where, f"{quoted(other.id)} stands there as well.",
                              "Check the panel.")
            elif None not in (other.breaker, load.breaker) and other.breaker != load.breaker:
                yield warning(where, f"it is on one circuit with {quoted(other.id)}, behind "
                              "another breaker.", "One circuit has one breaker.")


def lines_are_in_the_home(draft: Draft) -> Iterator[Finding]:
    """Warn of lines of the list, or circuits of the schedule, that the home was made without."""
    lines = draft.made_from.not_read
    if lines:
        are = "line of the list is" if len(lines) == 1 else "lines of the list are"
        yield warning(place(draft.file, "list", "not_read"), f"{len(lines)} {are} not in this "
                      f"home: {_lines(lines)}.",
                      "Add what they name as loads, then take them out of not_read.")


CHECKS: tuple[Check, ...] = (
    ids_stand_once,
    day_ids_are_no_seasons,
    panels_exist,
    companions_exist,
    pairs_exist,
    added_loads_exist,
    code_method_has_its_input,
    circuits_are_enough,
    temperatures_are_in_order,
    uses_are_whole,
    transfer_is_possible,
    must_runs_have_no_other_wish,
    nameplates_are_read,
    positions_are_possible,
    lines_are_in_the_home,
)


def _use_findings(use: UseEntry, where: str) -> Iterator[Finding]:
    needed = NEEDS.get(use.kind)
    given = use.given()
    if needed is not None and needed not in given:
        yield error(where, f'kind "{use.kind}" needs {needed}.', f"Add {needed} = ...")
    for key in given:
        if key not in TAKES[use.kind]:
            owners = [kind for kind, keys in TAKES.items() if key in keys]
            yield error(place(where, key), f'kind "{use.kind}" does not read {key}.',
                        f"It belongs to {' or '.join(owners)}.")


def _unknown(
    where: str, what: str, name: str, known: Collection[str], *, guess: bool = True
) -> Finding:
    near = did_you_mean(name, known) if guess else ""
    hint = near or f"The file has: {some(known) or 'none'}."
    return error(where, f"there is no {what} {quoted(name)}.", hint)


def _lines(lines: Sequence[str]) -> str:
    shown = [f'"{harmless(shortened(one, LONGEST_LINE))}"' for one in lines[:MOST_LINES_SAID]]
    rest = len(lines) - len(shown)
    return ", ".join(shown) + (f" and {rest:,} more" if rest else "")


def _degf(temperature: Quantity) -> str:
    return written(magnitude(temperature, "degF"), "degF")
