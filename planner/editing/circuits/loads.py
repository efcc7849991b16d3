"""Circuits made rows of a list: what each carries, its leg, its panel, its breaker."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from planner.case.filling.sizes import takes_size
from planner.case.library import Kind, kinds
from planner.case.messages import note, place, warning
from planner.editing.circuits.devices import AT_120_V, AT_240_V, by_breaker, checked, volts_of
from planner.editing.circuits.not_loads import SAID, what_else
from planner.editing.circuits.panels import Panels
from planner.editing.circuits.plate import with_power, with_stages
from planner.editing.circuits.spaces import at_positions
from planner.editing.circuits.words import (
    GENERAL,
    KITCHEN,
    Part,
    on_both_legs,
    parts_of,
    written_out,
)
from planner.editing.everyday import asked_of, burns_fuel, in_stages, kind_named, load_in_words
from planner.editing.house_words import is_idle
from planner.editing.lists import Listed, unknown_kind
from planner.editing.values import Value
from planner.errors import Finding
from planner.importing.panel.cells import breaker_in
from planner.importing.panel.read import read_schedule
from planner.importing.panel.record import Circuit
from planner.quoting import quoted, some

WASHER = "clothes washer"
LARGEST_GENERAL_A = 20.0
"""NEC 210.23(A), from memory: a branch circuit of 15 or 20 A supplies lights and receptacles."""
LONGEST_LABEL = 80
_FROM_NOTES = ("size", "locked_rotor", "mca", "running", "mop", "year", "eer", "motor")


@dataclass
class Found:
    """What was made of the circuits so far."""

    name: str
    rows: list[dict[str, Value]] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    general: list[Circuit] = field(default_factory=list)
    kitchen: list[Circuit] = field(default_factory=list)
    not_read: list[str] = field(default_factory=list)

    def leave_out(self, circuit: Circuit, words: str) -> None:
        """Keep what a circuit is said to carry, because no load is made of it."""
        line = f"{self._rows(circuit)}: {words or 'no words'} ({_device(circuit)})"
        if line not in self.not_read:
            self.not_read.append(line)

    def where(self, circuit: Circuit) -> str:
        """Rows of a circuit, for findings."""
        return place(self.name, self._rows(circuit))

    def _rows(self, circuit: Circuit) -> str:
        rows = " and ".join(map(str, circuit.lines))
        return f"line{'s' if len(circuit.lines) > 1 else ''} {rows}"


def listed_of(text: str, name: str) -> Listed:
    """Read a panel schedule as a list of loads, with all that is odd about it.

    Raises
    ------
    CaseError
        No line names its columns, or it is far too long.
    """
    schedule = read_schedule(text, name, on_both_legs=on_both_legs)
    found, panels = Found(name), Panels(schedule.circuits, name)
    for circuit in schedule.circuits:
        _take(circuit, found, panels)
    panels.settle(found.rows)
    found.rows = with_stages(found.rows)
    house = _joined(found)
    if schedule.spares:
        spaces = "1 space is" if schedule.spares == 1 else f"{schedule.spares} spaces are"
        found.findings.append(note(name, f"{spaces} spare, blank or for later: no load."))
    if any(circuit.leg in ("L1", "L2") and circuit.positions for circuit in schedule.circuits):
        found.findings.append(note(
            name, "legs follow positions where none is stated: 1 and 2 on L1, 3 and 4 on L2, and "
            "so on (common practice, no source).", "Verify them on site."))
    return Listed(tuple(found.rows), (*schedule.findings, *found.findings, *panels.findings),
                  tuple(panels.rows), (*panels.house, *house), of_panel=True,
                  not_read=(*schedule.not_read, *found.not_read))


def _take(circuit: Circuit, found: Found, panels: Panels) -> None:
    if circuit.poles == 3:
        found.findings.append(_left_out(circuit, found, "it has three poles"))
        return
    if circuit.kind in kinds():
        parts: tuple[Part, ...] = (Part(circuit.kind, ""),)
    else:
        if _is_no_load(circuit, found, panels):
            return
        parts = parts_of(circuit.words)
    if not parts:
        found.findings.append(_left_out(circuit, found, "it has no words"))
    for part in parts:
        _take_part(circuit, part, found, panels, alone=len(parts) == 1)


def _is_no_load(circuit: Circuit, found: Found, panels: Panels) -> bool:
    """Take what is no load at all: a main breaker, a feeder, a source, protection."""
    what = what_else(written_out(circuit.words))
    if is_idle(circuit.words):
        found.findings.append(note(found.where(circuit), f"{quoted(circuit.words)} is not in use: "
                                   "no load.", "Its breaker should be off and marked so."))
        return True
    if what is None:
        return False
    if what in ("main", "feeder"):
        if not panels.take(circuit, found.where(circuit), is_main=what == "main"):
            found.leave_out(circuit, circuit.words)
        return True
    sentence, remedy = SAID[what]
    about = warning if what in ("source", "future") else note
    found.findings.append(about(found.where(circuit), f"{quoted(circuit.words)}: {sentence}",
                                remedy))
    return True


def _take_part(circuit: Circuit, part: Part, found: Found, panels: Panels, *, alone: bool) -> None:
    if part.kind == GENERAL and not (circuit.kind and circuit.va):
        if _too_large(circuit) and not circuit.kind:
            found.findings.append(_left_out(
                circuit, found, "it is too large for lights and receptacles (NEC 210.23)"))
        else:
            found.general.append(circuit)
    elif part.kind == KITCHEN and not circuit.kind:
        found.kitchen.append(circuit)
    elif part.kind:
        _load(circuit, part, found, panels, alone=alone)
    else:
        _unknown(circuit, part, found, panels, alone=alone)


def _unknown(circuit: Circuit, part: Part, found: Found, panels: Panels, *, alone: bool) -> None:
    """Say that no kind is called so; of words that mean several, two poles may leave only one."""
    meant = [kind for words in asked_of(part.words) if (kind := kind_named(words))]
    two = [kind for kind in dict.fromkeys(meant) if kinds()[kind].legs == ["both"]]
    if circuit.poles == 2 and len(two) == 1 and len(set(meant)) > 1 \
            and all("both" not in kinds()[kind].legs for kind in meant if kind != two[0]):
        found.findings.append(note(found.where(circuit), f"{quoted(circuit.words)} is on 2 poles: "
                                   f"read as {two[0]}."))
        _load(circuit, Part(two[0], two[0]), found, panels, alone=alone)
        return
    where = f"{found.where(circuit)} ({_device(circuit)})"
    found.findings.append(unknown_kind(where, part.words))
    found.leave_out(circuit, circuit.words)


def _too_large(circuit: Circuit) -> bool:
    """Whether it is beyond a circuit of lights; two poles may be two such circuits, to 20 A."""
    breaker_a = circuit.breaker_a or breaker_in(circuit.words)[0] or 0.0
    return breaker_a > LARGEST_GENERAL_A


def _left_out(circuit: Circuit, found: Found, why: str) -> Finding:
    found.leave_out(circuit, circuit.words)
    return warning(found.where(circuit), f"{quoted(circuit.words)} ({_device(circuit)}): {why}.",
                   "Not taken as a load; write what it carries.")


def _device(circuit: Circuit) -> str:
    said = [f"position {' and '.join(map(str, circuit.positions))}" if circuit.positions else "",
            "" if circuit.breaker_a is None else f"{circuit.breaker_a:g} A",
            f"{circuit.poles} pole{'s' if circuit.poles > 1 else ''}" if circuit.poles else ""]
    return ", ".join(one for one in said if one) or "no breaker said"


def _load(circuit: Circuit, part: Part, found: Found, panels: Panels, *, alone: bool) -> None:
    where = found.where(circuit)
    breaker_a, poles = breaker_in(circuit.words) if part.words else (None, 0)
    if part.kind == "vehicle charger" or (breaker_a or 0.0) < 15.0:
        breaker_a = None
    breaker_a, poles = circuit.breaker_a or breaker_a, circuit.poles or poles
    kind = kinds()[_by_poles(part.kind, circuit, poles, where, found, alone=alone)]
    row = load_in_words(part.words) if part.words else {}
    row |= {"kind": kind.name, "label": _label(circuit, part, alone=alone) or kind.name}
    for key, value in load_in_words(f"{part.kind}, {circuit.notes}").items():
        if circuit.notes and key in _FROM_NOTES and key not in row and (
                key != "size" or takes_size(kind, str(value))):
            row[key] = value
    leg = _leg(circuit, kind, poles)
    if leg is not None:
        row["leg"] = leg
    panel = panels.id_of(circuit)
    if panel is not None:
        row["panel"] = panel
    row = _powered(row, circuit, kind, found, breaker_a=breaker_a, poles=poles, alone=alone)
    if breaker_a is not None and not circuit.va \
            and not row.keys() & {"size", "nameplate", "mca", "running"} \
            and (size := by_breaker(kind, breaker_a, volts_of(poles))):
        row["size"] = size
        found.findings.append(warning(where, f"{size} is the most that its {breaker_a:g} A breaker "
                                      "carries (NEC 424.4(B)): taken as its size.",
                                      "Write what the nameplate says."))
    rows = [row] if circuit.kind else in_stages(row)
    if len(rows) > 1:  # each has its share, which its size says
        rows = [{key: one[key] for key in one if key != "nameplate"} for one in rows]
    for one in rows:
        kept, odd = checked(one, kind, where, breaker_a, shared=len(rows) > 1 or not alone)
        found.rows.append(at_positions(kept, kind, circuit))
        found.findings += [each for each in odd if each not in found.findings]


def _powered(
    row: dict[str, Value], circuit: Circuit, kind: Kind, found: Found, *,
    breaker_a: float | None, poles: int, alone: bool,
) -> dict[str, Value]:
    """Read the power of a circuit; of a whole floor it says how large that is."""
    if not circuit.va or not alone:
        return row
    lit = kind.sizes[0].nameplate_va if kind.covers_floor else None
    if lit is not None:
        first_ft2, first_va = lit.points[0]
        return {**row, "size": f"{circuit.va * first_ft2 / first_va:.0f} {kind.sizes[0].unit}"}
    volts = round(volts_of(poles or (2 if kind.legs[0] == "both" else 1)))
    kept, odd = with_power(row, kind, circuit.va, found.where(circuit), volts=volts,
                           breaker_a=breaker_a)
    found.findings += odd
    return kept


def _label(circuit: Circuit, part: Part, *, alone: bool) -> str:
    words = " ".join((circuit.words if alone else part.words).split()).strip(" -:;,")
    if len(words) <= 3:
        return words.upper()
    return (words[:1].upper() + words[1:])[:LONGEST_LABEL].strip()


def _by_poles(
    kind: str, circuit: Circuit, poles: int, where: str, found: Found, *, alone: bool
) -> str:
    """The kind that stands on so many poles; a finding where that is not the one of its words."""
    legs = kinds()[kind].legs
    if poles == 1 and legs == ["both"]:
        other = None if "elec" in circuit.words.casefold() or circuit.kind else AT_120_V.get(kind)
        found.findings.append(warning(
            where, f"{quoted(circuit.words)} is on 1 pole, 120 V; as {kind} it needs 2.",
            f"Read as a {other}: write what it is." if other else "Check the panel."))
        return other or kind
    if poles == 2 and "both" not in legs and alone:
        other = None if burns_fuel(circuit.words) or circuit.kind else AT_240_V.get(kind)
        found.findings.append(warning(
            where, f"{quoted(circuit.words)} is on 2 poles; as {kind} it is usually on 1, 120 V.",
            f"Read as an {other}: write what it is." if other else
            "Check the panel; its leg is left open."))
        return other or kind
    return kind


def _leg(circuit: Circuit, kind: Kind, poles: int) -> str | None:
    if poles == 2 or circuit.leg == "both":
        return "both" if "both" in kind.legs else None
    open_ = poles == 0 and kind.legs[0] == "both"
    return circuit.leg if "one" in kind.legs and not open_ else None


def _joined(found: Found) -> tuple[tuple[tuple[str, str], Value], ...]:
    """Join lights and receptacles to one load, those of the kitchen to another; say so."""
    washers = [row for row in found.rows if row["kind"] == WASHER]
    extra = [row for row in washers if "laundry" in str(row["label"]).casefold()
             and len(washers) > 1]
    for row in extra[:len(washers) - 1]:
        found.rows.remove(row)
        found.findings.append(note(found.name, f"{quoted(row['label'])} and the clothes washer are "
                                   "taken as one washer."))
    house: tuple[tuple[tuple[str, str], Value], ...] = ()
    if found.kitchen:
        found.rows.insert(0, at_positions(
            {"kind": KITCHEN, "label": "Kitchen receptacles"}, kinds()[KITCHEN], *found.kitchen))
        found.findings.append(_one_load(found.kitchen, "kitchen receptacles", "", found.name))
        if len(found.kitchen) > 2:
            house = ((("code", "small_appliance_circuits"), len(found.kitchen)),)
    if found.general:
        found.rows.insert(0, at_positions(
            {"kind": GENERAL, "label": "Lighting and receptacles"}, kinds()[GENERAL],
            *found.general))
        found.findings.append(_one_load(found.general, "lights and receptacles",
                                        " over the whole floor", found.name))
    return house


def _one_load(circuits: Sequence[Circuit], what: str, over: str, name: str) -> Finding:
    lines = some([str(line) for line in sorted({x for one in circuits for x in one.lines})], 40)
    many = len({one.lines for one in circuits})
    word = "lines" if " " in lines else "line"
    power = " Their power is not read." if any(one.va for one in circuits) else ""
    return note(name, f"{many} circuit{'s' if many > 1 else ''} of {what} ({word} {lines}) "
                f"{'are' if many > 1 else 'is'} one load{over}.{power}")
