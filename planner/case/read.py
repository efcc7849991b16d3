"""Read a home: from a path to a validated home, or every finding at once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from planner.case.attendance import attendance_of
from planner.case.checks import CHECKS
from planner.case.comforts.settle import with_comforts_of_file
from planner.case.draft import Draft, take_apart
from planner.case.file import CodeSection, DayEntry, HomeSection
from planner.case.filling.fill import Filled, HouseDefaults, fill
from planner.case.filling.house import filled_house
from planner.case.filling.ledger import Ledger
from planner.case.filling.legs import balance
from planner.case.marks import marked
from planner.case.messages import note, place, warning
from planner.case.names import label_of, shared_names, with_own_names
from planner.case.records import with_meter
from planner.case.site.checks import SITE_CHECKS
from planner.case.site.read import with_site
from planner.case.text import parse_toml, read_text
from planner.case.weather import with_weather
from planner.errors import CaseError, Finding, Severity
from planner.facts.assumption import Assumption
from planner.facts.comfort import SPELL_DAYS
from planner.facts.home import CodeBasis, DesignDay, Home, Limits, Load, Panel
from planner.units import magnitude
from planner.wiring import check_wiring


def read_home(path: Path | str) -> tuple[Home, tuple[Finding, ...]]:
    """Read a home file.

    Parameters
    ----------
    path : Path or str
        A TOML file; its stem becomes the home's id.

    Returns
    -------
    tuple
        The home, and the warnings and notes that stand beside it.

    Raises
    ------
    CaseError
        The file is not a home, or its wiring contradicts itself; it carries every finding, warnings
        included.
    """
    path = Path(path)
    return _read(read_text(path), path.name, path.parent)


def read_home_text(
    text: str, name: str, folder: Path | None = None
) -> tuple[Home, tuple[Finding, ...]]:
    """Read a home from the text of its file; `name` is the file's name. See `read_home`.

    Without the folder in which the file is to lie, no file is opened that the home names.
    """
    return _read(text, name, folder)


def _read(text: str, name: str, folder: Path | None) -> tuple[Home, tuple[Finding, ...]]:
    raw, of_meter = with_meter(parse_toml(text, name), name, folder)
    place_of = with_weather(raw, text, name, folder)
    filled_raw, assumed = filled_house(place_of.raw)
    draft, read = take_apart(filled_raw, name)
    findings = [*of_meter, *place_of.findings, *read]
    for check in (*CHECKS, *SITE_CHECKS):
        findings.extend(check(draft))
    filled = _fill_all(draft, findings, recorded=place_of.weather is not None)
    home = _with_comforts(name, draft, filled, findings)
    errors = [finding for finding in findings if finding.severity is Severity.ERROR]
    if errors or home is None:
        count = "1 error" if len(errors) == 1 else f"{len(errors)} errors"
        raise CaseError(f"{name} is not a home yet: {count}.", _worst_first(findings))
    book = draft.home.price_book if draft.home is not None else None
    assumed += tuple(filter(place_of.still_holds, marked(text)))
    home = replace(with_site(home, draft), assumed=assumed + place_of.assumed,
                   weather=place_of.weather,
                   price_book=None if book is None else (folder or Path()) / book)
    findings.extend(_assumptions(assumed, name))
    findings.extend(_notes(home, draft.file))
    findings.extend(replace(one, where=f"{name}: {one.where}") for one in check_wiring(home))
    _refuse_contradictions(name, findings)
    found = _worst_first(findings)
    return replace(home, findings=found), found


def _with_comforts(
    name: str, draft: Draft, filled: list[Filled], findings: list[Finding]
) -> Home | None:
    """Put the home together; None if its tables cannot be read."""
    if draft.home is None or draft.code is None:
        return None
    loads, days = balance(filled), _days(draft.days)
    home = _home(Path(name).stem, draft, draft.home, draft.code, with_own_names(loads),
                 with_own_names(days))
    if any(len(set(ids)) < len(ids) for ids in (draft.load_ids, draft.day_ids)):
        return home  # nobody can say which is meant
    findings.extend((*shared_names(loads, name, "load", "loads"),
                     *shared_names(days, name, "day", "design days")))
    home, found = with_comforts_of_file(home, draft)
    findings.extend(found)
    return home


def _refuse_contradictions(name: str, findings: list[Finding]) -> None:
    errors = sum(one.severity is Severity.ERROR for one in findings)
    if errors:
        count = "1 error" if errors == 1 else f"{errors} errors"
        raise CaseError(f"{name} contradicts itself: {count}.", _worst_first(findings))


def _fill_all(draft: Draft, findings: list[Finding], *, recorded: bool) -> list[Filled]:
    home = draft.home
    house = HouseDefaults(
        first_panel=draft.panel_ids[0] if draft.panel_ids else "",
        summer_degf=magnitude(home.summer_design, "degF") if home is not None else 95.0,
        winter_degf=magnitude(home.winter_design, "degF") if home is not None else 10.0,
        floor_area_ft2=magnitude(home.floor_area, "ft^2") if home is not None else 2000.0,
        off_is_free=home is not None and "selected-circuits" in home.transfer,
        days=_days(draft.days),
        recorded=recorded,
    )
    filled = []
    for entry in draft.loads:
        keys = (key for key in type(entry).model_fields
                if draft.is_refused(draft.at_load(entry.id, key)))
        ledger = Ledger(draft.at_load(entry.id), frozenset(keys))
        item = fill(entry, house, ledger)
        findings.extend(ledger.findings)
        if item is not None:
            filled.append(item)
    return filled


def _home(
    home_id: str, draft: Draft, home: HomeSection, code: CodeSection, loads: tuple[Load, ...],
    days: tuple[DesignDay, ...],
) -> Home:
    limits = draft.limits
    default = Limits()
    return Home(
        id=home_id, label=home.label, service_a=magnitude(home.service, "A"),
        floor_area_ft2=magnitude(home.floor_area, "ft^2"),
        altitude_ft=magnitude(home.altitude, "ft"),
        summer_degf=magnitude(home.summer_design, "degF"),
        winter_degf=magnitude(home.winter_design, "degF"),
        heating_set_degf=magnitude(home.heating_set_point, "degF"),
        cooling_set_degf=magnitude(home.cooling_set_point, "degF"),
        fuel=home.fuel, code=_code(code),
        fault_current_a=(None if home.fault_current is None
                         else magnitude(home.fault_current, "A")),
        panels=tuple(Panel(p.id, magnitude(p.feeder, "A"), p.fed_from) for p in draft.panels),
        loads=loads, days=days,
        limits=Limits(
            default.allowed_dip if limits.allowed_dip is None
            else magnitude(limits.allowed_dip, "1"),
            default.largest_share if limits.largest_share is None
            else magnitude(limits.largest_share, "1"),
        ),
        order_rule=draft.wishes.order, never_before=tuple(draft.wishes.never_before),
        transfer_kinds=frozenset(home.transfer), expected=draft.expected,
        spell_days=SPELL_DAYS if home.spell is None else home.spell,
        attendance=attendance_of(draft.attendance),
    )


def _code(code: CodeSection) -> CodeBasis:
    measured = code.measured
    return CodeBasis(
        edition=code.edition, method=code.method,
        small_appliance_circuits=code.small_appliance_circuits,
        laundry_circuits=code.laundry_circuits, added=tuple(code.added),
        measured_peak_kva=magnitude(measured.peak, "kVA") if measured else None,
        measured_days=measured.days if measured else None,
        measured_interval_min=magnitude(measured.interval, "min") if measured else None,
        measured_with_generation=measured.with_generation if measured else False,
    )


def _days(days: tuple[DayEntry, ...]) -> tuple[DesignDay, ...]:
    whole = sum(day.weight for day in days)
    return tuple(
        DesignDay(
            id=day.id, label=day.label or label_of(day.id), season=day.season,
            weight=day.weight / whole, low_degf=magnitude(day.low, "degF"),
            high_degf=magnitude(day.high, "degF"),
        )
        for day in days
    )


def _assumptions(assumed: tuple[Assumption, ...], file: str) -> list[Finding]:
    if not assumed:
        return []
    said = "; ".join(f"{one.said_key} {one.text}" for one in assumed)
    return [note(place(file, "home"), f"assumed: {said}.", "Write what is known.")]


def _notes(home: Home, file: str) -> list[Finding]:
    found: list[Finding] = []
    keys = {*(day.id for day in home.days), *(day.season for day in home.days), "every"}
    for load in home.loads:
        kinds = {use.kind for key, use in load.use.items() if key in keys}
        if kinds <= {"never"}:
            found.append(warning(place(file, f"load {load.id}", "use"),
                                 "it calls on none of the design days.",
                                 "Give it a use, or a design day of its season."))
    for load in home.loads:
        if load.is_medical:
            found.append(warning(place(file, f"load {load.id}"), "medical equipment must not "
                                 "depend on a generator alone.", "It needs a backup of its own."))
    assumed = [load.id for load in home.loads if any(a.key == "leg" for a in load.assumed)]
    if assumed:
        found.append(note(place(file, "loads", "leg"), f"legs are assumed, balanced over L1 and "
                          f"L2: {', '.join(sorted(assumed))}.", "Read them off the panel on site."))
    return found


def _worst_first(findings: list[Finding]) -> tuple[Finding, ...]:
    order = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}
    once = dict.fromkeys(findings)
    return tuple(sorted(once, key=lambda finding: order[finding.severity]))
