"""Read a price book: from a path to what can be bought, or every finding at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from planner.case.book.checks import CHECKS, BookDraft
from planner.case.book.derating import derating
from planner.case.book.file import (
    BookSection,
    ControllerEntry,
    GeneratorEntry,
    ModuleEntry,
    RatingEntry,
    SoftStarterEntry,
    TransferEntry,
)
from planner.case.book.portable import ManualTransferEntry, PortableEntry, portable_parts
from planner.case.book.site_parts import (
    GasPartEntry,
    PipeEntry,
    RegulatorEntry,
    SitePricesSection,
    TankEntry,
    WireEntry,
    site_parts,
)
from planner.case.bounds import MOST_PARTS
from planner.case.fields import did_you_mean
from planner.case.messages import Strict, error, place, places_around, validate
from planner.case.names import shared_names, with_own_names
from planner.case.text import parse_toml, read_toml
from planner.errors import CaseError, Finding, Severity
from planner.facts import engine
from planner.facts.price_book import (
    Controller,
    FuelUse,
    Generator,
    Module,
    PriceBook,
    Rating,
    SoftStarter,
    Transfer,
)
from planner.quoting import quoted
from planner.units import Quantity, magnitude

LISTS = {
    "generators": "generator",
    "transfers": "transfer",
    "modules": "module",
    "controllers": "controller",
    "soft_starters": "soft starter",
    "wires": "wire",
    "pipes": "pipe",
    "meters": "meter",
    "regulators": "regulator",
    "tanks": "tank",
    "portables": "portable",
    "manual_transfers": "manual transfer",
}
NAMED = ("generators", "transfers", "modules", "controllers", "soft_starters")

Entry = TypeVar("Entry", bound=Strict)


def read_book(path: Path | str) -> tuple[PriceBook, tuple[Finding, ...]]:
    """Read a price book.

    Parameters
    ----------
    path : Path or str
        A TOML file; its stem becomes the book's id.

    Returns
    -------
    tuple
        The book, and the warnings that stand beside it.

    Raises
    ------
    CaseError
        The file is not a price book; it carries every finding, warnings included.
    """
    path = Path(path)
    return _read(read_toml(path), path.name)


def read_book_text(text: str, name: str) -> tuple[PriceBook, tuple[Finding, ...]]:
    """Read a price book from the text of its file; `name` is the file's name. See `read_book`."""
    return _read(parse_toml(text, name), name)


def _read(raw: Mapping[str, Any], name: str) -> tuple[PriceBook, tuple[Finding, ...]]:
    draft, read = _take_apart(raw, name)
    findings = [*read, *(finding for check in CHECKS for finding in check(draft))]
    findings.sort(key=lambda finding: finding.severity is not Severity.ERROR)
    errors = sum(finding.severity is Severity.ERROR for finding in findings)
    if errors or draft.book is None:
        count = "1 error" if errors == 1 else f"{errors} errors"
        raise CaseError(f"{name} is not a price book yet: {count}.", findings)
    book = _book(Path(name).stem, draft, draft.book)
    for key in NAMED:
        findings.extend(shared_names(getattr(book, key), name, LISTS[key], f"{LISTS[key]}s"))
    return _with_own_names(book), tuple(findings)


def _with_own_names(book: PriceBook) -> PriceBook:
    return replace(
        book, generators=with_own_names(book.generators), transfers=with_own_names(book.transfers),
        modules=with_own_names(book.modules), controllers=with_own_names(book.controllers),
        soft_starters=with_own_names(book.soft_starters))


def _take_apart(raw: Mapping[str, Any], file: str) -> tuple[BookDraft, tuple[Finding, ...]]:
    findings: list[Finding] = []
    tables = ("book", *LISTS, "site", "expected")  # expected: what the tests hold the file to
    for key in raw:
        if key not in tables:
            hint = did_you_mean(key, tables) or f"Tables: {', '.join(tables)}."
            findings.append(error(place(file, key), "there is no such table.", hint))
    book = None
    if "book" in raw:
        book, found = validate(BookSection, raw["book"], place(file, "book"))
        findings.extend(found)
    else:
        findings.append(error(place(file, "book"), "this table is missing.", "Add [book]."))
    site = None
    if "site" in raw:
        site, found = validate(SitePricesSection, raw["site"], place(file, "site"))
        findings.extend(found)
    rows = {key: _rows(raw, key, file, findings) for key in LISTS}
    draft = BookDraft(
        file=file,
        book=book,
        generators=_entries(GeneratorEntry, rows, "generators", file, findings),
        transfers=_entries(TransferEntry, rows, "transfers", file, findings),
        modules=_entries(ModuleEntry, rows, "modules", file, findings),
        controllers=_entries(ControllerEntry, rows, "controllers", file, findings),
        soft_starters=_entries(SoftStarterEntry, rows, "soft_starters", file, findings),
        site=site,
        wires=_entries(WireEntry, rows, "wires", file, findings),
        pipes=_entries(PipeEntry, rows, "pipes", file, findings),
        meters=_entries(GasPartEntry, rows, "meters", file, findings),
        regulators=_entries(RegulatorEntry, rows, "regulators", file, findings),
        tanks=_entries(TankEntry, rows, "tanks", file, findings),
        portables=_entries(PortableEntry, rows, "portables", file, findings),
        manual_transfers=_entries(ManualTransferEntry, rows, "manual_transfers", file, findings),
        ids=tuple((LISTS[key], name) for key in LISTS for name in map(_id, rows[key]) if name),
        counts={key: _offered(raw.get(key, [])) for key in LISTS},
        refused=places_around(findings),
    )
    return draft, tuple(findings)


def _rows(raw: Mapping[str, Any], key: str, file: str, findings: list[Finding]) -> list[object]:
    rows = raw.get(key, [])
    if isinstance(rows, list) and len(rows) <= MOST_PARTS:
        return rows
    if isinstance(rows, list):
        findings.append(error(place(file, key), f"{len(rows):,} {key} are too many.",
                              f"At most {MOST_PARTS:,}."))
        return []
    findings.append(error(place(file, key), f"{quoted(rows)} stands where a list of tables is "
                          "expected.", f"Write [[{key}]], with two brackets."))
    return []


def _offered(rows: object) -> int:
    """Parts that a list has, those that were refused among them; one where there is no list."""
    return len(rows) if isinstance(rows, list) else 1


def _id(row: object) -> str:
    name = row.get("id") if isinstance(row, dict) else None
    return name if isinstance(name, str) else ""


def _entries(
    model: type[Entry], rows: Mapping[str, list[object]], key: str, file: str,
    findings: list[Finding],
) -> tuple[Entry, ...]:
    entries: list[Entry] = []
    for number, row in enumerate(rows[key], start=1):
        title = f"{LISTS[key]} {_id(row) or f'number {number}'}"
        entry, found = validate(model, row, place(file, title))
        findings.extend(found)
        if entry is not None:
            entries.append(entry)
    return tuple(entries)


def _book(book_id: str, draft: BookDraft, book: BookSection) -> PriceBook:
    return PriceBook(
        id=book_id, label=book.label, notice=book.notice, currency=book.currency,
        generators=tuple(_generator(entry) for entry in draft.generators),
        transfers=tuple(
            Transfer(e.id, e.label, e.kind, magnitude(e.rating, "A"), e.positions, *_usd(e),
                     e.service_rated, e.switches_neutral, _amperes(e.short_circuit))
            for e in draft.transfers
        ),
        modules=tuple(_module(entry) for entry in draft.modules),
        controllers=tuple(
            Controller(e.id, e.label, e.modules, *_usd(e), setpoint_a=_amperes(e.setpoint))
            for e in draft.controllers
        ),
        soft_starters=tuple(
            SoftStarter(e.id, e.label, magnitude(e.factor, "1"), magnitude(e.current, "A"),
                        *_usd(e), None if e.start is None else magnitude(e.start, "s"),
                        frozenset(e.suits), _amperes(e.short_circuit))
            for e in draft.soft_starters
        ),
        relocation=magnitude(book.relocation, "USD"),
        permits=magnitude(book.permits, "USD"),
        maintenance_per_year=magnitude(book.maintenance_per_year, "USD"),
        natural_gas_per_therm=magnitude(book.natural_gas, "USD/therm"),
        propane_per_gal=magnitude(book.propane, "USD/gal"),
        site=site_parts(draft.site, draft.wires, draft.pipes, draft.meters, draft.regulators,
                        draft.tanks),
        by_hand=portable_parts(draft.portables, draft.manual_transfers, book.gasoline),
    )


def _usd(
    entry: GeneratorEntry | TransferEntry | ModuleEntry | ControllerEntry | SoftStarterEntry,
) -> tuple[float, float]:
    return magnitude(entry.price, "USD"), magnitude(entry.installation, "USD")


OF_THE_ENGINE = ("inertia", "governor_lag", "droop", "under_frequency", "under_frequency_after",
                 "under_voltage", "under_voltage_after")
"""Keys for which the usual value stands where the maker states none (`planner.facts.engine`)."""


def _generator(entry: GeneratorEntry) -> Generator:
    price, installation = _usd(entry)
    return Generator(
        id=entry.id, label=entry.label, cooling=entry.cooling,
        ratings={fuel: _rating(rating) for fuel, rating in entry.ratings.items()},
        reactance=entry.reactance, short_time=magnitude(entry.short_time, "1"),
        derating=derating(entry.derating), price=price, installation=installation,
        inertia_s=_or_usual(entry.inertia, "s", engine.INERTIA_S),
        performance_class=entry.performance_class,
        droop=_or_usual(entry.droop, "1", engine.DROOP),
        governor_s=_or_usual(entry.governor_lag, "s", engine.GOVERNOR_S),
        low_frequency_hz=_or_usual(entry.under_frequency, "Hz", engine.LOW_HZ),
        low_frequency_s=_or_usual(entry.under_frequency_after, "s", engine.LOW_HZ_S),
        low_voltage=_or_usual(entry.under_voltage, "1", engine.LOW_VOLTAGE),
        low_voltage_s=_or_usual(entry.under_voltage_after, "s", engine.LOW_VOLTAGE_S),
        breaker_a=_amperes(entry.breaker),
        permitted_average=(None if entry.permitted_average is None
                           else magnitude(entry.permitted_average, "1")),
        subtransient=entry.subtransient, noise_db=_stated(entry.noise, "dB"),
        length_in=_stated(entry.length, "in"), width_in=_stated(entry.width, "in"),
        unstated=tuple(key for key in OF_THE_ENGINE if getattr(entry, key) is None),
    )


def _or_usual(stated: Quantity | None, unit: str, usual: engine.Usual) -> float:
    """What the maker states, else what is usual."""
    return usual.value if stated is None else magnitude(stated, unit)


def _rating(entry: RatingEntry) -> Rating:
    return Rating(
        kw=magnitude(entry.power, "kW"), kva=magnitude(entry.apparent, "kVA"),
        amperes=magnitude(entry.current, "A"),
        fuel=FuelUse(*(magnitude(heat, "Btu/h")
                       for heat in (entry.no_load, entry.half_load, entry.full_load))),
        inlet_in_wc=_stated(entry.inlet_pressure, "inWC"),
    )


def _module(entry: ModuleEntry) -> Module:
    price, installation = _usd(entry)
    return Module(
        entry.id, entry.label, entry.action, poles=entry.poles or 0,
        amperes=_amperes(entry.current) or 0.0,
        motor_hp=magnitude(entry.motor, "hp") if entry.motor is not None else 0.0,
        price=price, installation=installation,
        senses=entry.senses or ("call" if entry.action == "thermostat" else "current"),
        largest_breaker_a=_amperes(entry.largest_breaker), full_load_a=_amperes(entry.full_load),
        locked_rotor_a=_amperes(entry.locked_rotor), short_circuit_a=_amperes(entry.short_circuit),
    )


def _amperes(current: Quantity | None) -> float | None:
    return _stated(current, "A")


def _stated(quantity: Quantity | None, unit: str) -> float | None:
    return None if quantity is None else magnitude(quantity, unit)
