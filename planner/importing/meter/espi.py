"""Green Button files: readings of a meter as XML of the Energy Services Provider Interface.

An Atom feed whose entries are a UsagePoint, its MeterReadings, a ReadingType for each of these and
IntervalBlocks, joined by links. Files differ: with and without prefixes, several meters and gas
besides, links that are missing; then a block belongs to the ReadingType before it.

References
----------
NAESB REQ.21, Energy Services Provider Interface (ESPI), the Atom namespace of RFC 4287. Codes from
memory, but for units 72 and 38 and flow directions 1 and 19, which were seen in files.
"""

from __future__ import annotations

import re
from array import array
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from xml.etree.ElementTree import Element, ParseError

import numpy as np
from defusedxml import DefusedXmlException
from defusedxml.ElementTree import iterparse

from planner.importing.content import opened, refusal
from planner.importing.meter.links import Entry, Links
from planner.importing.meter.record import MOST_BYTES, MOST_READINGS, Record

ELECTRICITY, GAS = 0, 1  # kinds of ServiceCategory
WATT_HOURS, WATTS = 72, 38  # units of a ReadingType
NO_DIRECTION, DELIVERED, NET, REVERSE = 0, 1, 4, 19  # directions of flow
TAKEN = frozenset({NO_DIRECTION, DELIVERED, NET})
REGISTERS = frozenset({1, 3, 9})  # bulk quantity, cumulative, summation: levels, not amounts
FURTHEST_S = 14 * 3600
"""No time zone is further from UTC than 14 h."""
_OFFSET = re.compile(r"([+-])(\d\d):?(\d\d)\s*$")


@dataclass
class ReadingType:
    """What the values of a block mean; what a file leaves out is Wh taken from the utility."""

    unit: int = WATT_HOURS
    power_of_ten: int = 0
    direction: int = DELIVERED
    behaviour: int = 4
    interval_s: int = 0
    gas: bool = False


@dataclass
class Block:
    """Readings of one IntervalBlock."""

    starts: array[int] = field(default_factory=lambda: array("q"))
    lengths: array[int] = field(default_factory=lambda: array("q"))
    values: array[int] = field(default_factory=lambda: array("q"))


def read_espi(path: Path) -> Record:
    """Read a Green Button file.

    Parameters
    ----------
    path : Path
        XML of at most `MOST_BYTES`; it is read piece by piece, so memory stays small.

    Raises
    ------
    CaseError
        It cannot be read, is not such XML, declares entities, or holds several meters.
    """
    with opened(path, MOST_BYTES) as stream:
        feed = _Feed(path.name)
        try:
            depth, root = 0, None
            for event, element in iterparse(stream, events=("start", "end"), forbid_dtd=True):
                if event == "start":
                    root = element if root is None else root
                    depth += 1
                    continue
                depth -= 1
                feed.take(element)
                if depth == 1 and root is not None:
                    root.clear()  # an entry that was read is done with
        except DefusedXmlException:
            raise refusal(path.name, "it declares a document type or entities, which no meter data "
                          "needs and which can hide an attack.", "Export it anew.") from None
        except ParseError as problem:
            raise refusal(path.name, f"this is not whole XML: {problem}.",
                          "Download it again.") from None
        except (ValueError, OverflowError, LookupError) as problem:
            raise refusal(path.name, f"a figure in it cannot be read: {problem}.",
                          "Export it anew.") from None
    return feed.record()


class _Feed:
    """What of a feed has been read so far."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.links = Links()
        self.types: dict[str, ReadingType] = {}
        self.kinds: dict[str, int] = {}
        self.last: ReadingType | None = None
        self.block = Block()
        self.found: list[tuple[Entry, Block, ReadingType | None]] = []
        self.in_entry: list[tuple[str, object]] = []
        self.readings = 0
        self.offset_s: int | None = None
        self.updated_s: int | None = None
        self.anything = False

    def take(self, element: Element) -> None:
        """Take what an element says when it ends."""
        tag = str(element.tag).rpartition("}")[2]
        if tag == "IntervalReading":
            self._reading(element)
            element.clear()
        elif tag == "IntervalBlock":
            self.in_entry.append(("block", self.block))
            self.block = Block()
            self.anything = True
        elif tag == "ReadingType":
            self.in_entry.append(("type", _type_of(element)))
            self.anything = True
        elif tag == "ServiceCategory":
            self.in_entry.append(("kind", _whole(element, "kind", ELECTRICITY)))
        elif tag == "tzOffset" and element.text:
            self.offset_s = _offset(int(element.text))
        elif tag == "updated" and element.text:
            found = _OFFSET.search(element.text)
            if found is not None and self.updated_s is None:
                seconds = 3600 * int(found[2]) + 60 * int(found[3])
                self.updated_s = _offset(-seconds if found[1] == "-" else seconds)
        elif tag == "entry":
            self._entry(element)

    def _reading(self, element: Element) -> None:
        start = value = None
        seconds = 0
        for child in element.iter():
            tag = str(child.tag).rpartition("}")[2]
            text = (child.text or "").strip()
            if tag == "start":
                start = int(text)
            elif tag == "duration":
                seconds = int(text)
            elif tag == "value":
                value = int(text)
        if start is None or value is None:
            return
        self.readings += 1
        if self.readings > MOST_READINGS:
            raise refusal(self.name, f"it holds more than {MOST_READINGS:,} readings.",
                          "Export a year of quarters of an hour.")
        self.block.starts.append(start)
        self.block.lengths.append(seconds)
        self.block.values.append(value)

    def _entry(self, element: Element) -> None:
        here = self.links.entry(element)
        for what, said in self.in_entry:
            if isinstance(said, ReadingType):
                self.types[here.itself] = self.last = said
            elif isinstance(said, Block):
                self.found.append((here, said, self.last))
            elif what == "kind" and isinstance(said, int):
                self.kinds[here.itself] = said
        self.in_entry = []

    def record(self) -> Record:
        """Put together what was read."""
        if not self.anything:
            raise refusal(self.name, "there is no reading type and no block of readings in it.",
                          "Give the Green Button file (XML) that the utility offers.")
        series = [(self.links.usage_point(entry), self._type_for(entry, before), block)
                  for entry, block, before in self.found]
        loose = [("", self.last, block) for what, block in self.in_entry
                 if isinstance(block, Block)]  # without an entry around it
        return _joined(self.name, [*series, *loose], self.kinds,
                       self.updated_s if self.offset_s is None else self.offset_s)

    def _type_for(self, entry: Entry, before: ReadingType | None) -> ReadingType | None:
        linked = self.links.reading_type(entry, self.types)
        return before if linked is None else self.types[linked]


def _joined(
    name: str, series: list[tuple[str, ReadingType | None, Block]], kinds: dict[str, int],
    offset_s: int | None,
) -> Record:
    """Join the blocks of the one electric meter that a file may hold."""
    notes: dict[str, None] = {}
    starts: list[Any] = []
    lengths: list[Any] = []
    kwh: list[Any] = []
    points: set[str] = set()
    gives_back = False
    for point, said, block in series:
        kind = said or ReadingType()
        why = _why_not(kind, kinds.get(point, ELECTRICITY))
        if said is None:
            notes["no reading type: values are taken as Wh from the utility"] = None
        if kind.direction == REVERSE and not why:
            gives_back = gives_back or any(value > 0 for value in block.values)
            continue
        if why:
            notes[why] = None
            continue
        points.add(point)
        seconds = np.array(block.lengths, dtype=np.int64)
        seconds = np.where(seconds > 0, seconds, kind.interval_s)
        values = np.array(block.values, dtype=np.float64) * 10.0 ** kind.power_of_ten
        hours = 1.0 if kind.unit == WATT_HOURS else seconds / 3600.0
        starts.append(np.array(block.starts, dtype=np.int64))
        lengths.append(seconds)
        kwh.append(values * hours / 1000.0)
    if len(points) > 1:
        raise refusal(name, f"it holds {len(points)} electric meters.",
                      "Export them one by one, and give the one that feeds the dwelling.")
    if not starts or not sum(map(len, starts)):
        left_out = f" Left out: {'; '.join(notes)}." if notes else ""
        raise refusal(name, f"there is no reading of electricity taken from the utility in it."
                      f"{left_out}", "Export the usage of the electric meter.")
    return Record(np.concatenate(starts), np.concatenate(lengths), np.concatenate(kwh), offset_s,
                  gives_back, tuple(notes))


def _why_not(kind: ReadingType, service: int) -> str:
    """Say why a block is left out; empty if it counts."""
    if service != ELECTRICITY or kind.gas:
        return "gas, or another service than electricity"
    if kind.unit not in (WATT_HOURS, WATTS):
        return f"unit {kind.unit}, which is neither Wh (72) nor W (38)"
    if kind.behaviour in REGISTERS:
        return "levels of a register"
    if kind.direction not in TAKEN | {REVERSE}:
        return f"flow direction {kind.direction}"
    return ""


def _type_of(element: Element) -> ReadingType:
    power = _whole(element, "powerOfTenMultiplier", 0)
    if not -12 <= power <= 12:
        msg = f"powerOfTenMultiplier {power}"
        raise ValueError(msg)
    return ReadingType(
        unit=_whole(element, "uom", WATT_HOURS), power_of_ten=power,
        direction=_whole(element, "flowDirection", DELIVERED),
        behaviour=_whole(element, "accumulationBehaviour", 4),
        interval_s=_whole(element, "intervalLength", 0),
        gas=_whole(element, "commodity", 1) not in (0, 1, 2))  # none said, metered, primary


def _whole(element: Element, wanted: str, default: int) -> int:
    for child in element.iter():
        if str(child.tag).rpartition("}")[2] == wanted and child.text and child.text.strip():
            return int(child.text)
    return default


def _offset(seconds: int) -> int | None:
    return seconds if abs(seconds) <= FURTHEST_S else None
