"""Files beside a home that it names: a meter's readings, in place of values written by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from planner.case.bounds import MEASURED_DAYS
from planner.case.messages import error, note, place
from planner.errors import CaseError, Finding
from planner.importing.meter.measured import Measured
from planner.importing.meter.read import read_meter

BY_HAND = ("peak", "days", "interval")
_STANDS_IN = {"peak": "1 kVA", "days": 365.0, "interval": "15 min"}  # beside an error: never used
KIND = "measured"
"""Kind of use that follows the usual day of the meter."""


def with_meter(
    raw: Mapping[str, Any], name: str, folder: Path | None
) -> tuple[dict[str, Any], tuple[Finding, ...]]:
    """Put what a meter's file says where a home names it: the peak, and uses of kind `KIND`.

    Parameters
    ----------
    raw : mapping
        The home's file as the TOML parser gave it; left as it is.
    name : str
        Its name, for findings.
    folder : Path or None
        Where it lies; None if only its text is known, and then no file can be opened beside it.

    Returns
    -------
    tuple
        The file with peak, days and interval, and with uses of 24 shares; the findings. Where the
        meter's file cannot be read values stand in, and the error keeps them from being used.
    """
    code = raw.get("code")
    section = code.get("measured") if isinstance(code, Mapping) else None
    findings: list[Finding] = []
    found: Measured | None = None
    given = isinstance(section, Mapping) and "file" in section
    made = dict(raw)
    if given and isinstance(section, Mapping) and isinstance(code, Mapping):
        found = _read(section, name, folder, findings)
        values = _STANDS_IN if found is None else _values(found, section)
        made["code"] = {**code, "measured": {**values, **section}}
    loads = raw.get("loads")
    if isinstance(loads, list):
        hours = None if found is None else found.hours
        made["loads"] = [_with_day(load, hours, name, findings, said=given) for load in loads]
    return made, tuple(findings)


def beside(folder: Path | None, file: object, where: str, findings: list[Finding]) -> Path | None:
    """Find a file that a home names; None, with a finding, where only the home's text is known."""
    if not isinstance(file, str) or not file.strip():
        return None  # refused where the table is read
    if folder is None:
        findings.append(error(where, "only the text of the home is at hand, and no file beside it.",
                              "Read the home from its folder, or write the values by hand."))
        return None
    return folder / file.strip()


def moved(problem: CaseError, where: str, file: Path) -> list[Finding]:
    """Say the findings of a file where the home names it."""
    return [replace(one, where=where, sentence=f"{file.name}: {one.sentence}")
            for one in problem.findings]


def _read(
    section: Mapping[str, Any], name: str, folder: Path | None, findings: list[Finding]
) -> Measured | None:
    where = place(name, "code", "measured.file")
    twice = [key for key in BY_HAND if key in section]
    if twice:
        findings.append(error(where, f"the file is there for what is written beside it: "
                              f"{', '.join(twice)}.", "Take out the file, or what it says."))
        return None
    path = beside(folder, section["file"], where, findings)
    if path is None:
        return None
    try:
        found = read_meter(path)
    except CaseError as problem:
        findings.extend(moved(problem, where, path))
        return None
    findings.append(note(where, _said(found, path.name)))
    return found


def _values(found: Measured, section: Mapping[str, Any]) -> dict[str, Any]:
    values = {"peak": f"{found.peak_kw:.6g} kVA", "interval": f"{found.interval_min:.6g} min",
              "days": min(max(found.days, MEASURED_DAYS[0]), MEASURED_DAYS[1])}
    if found.gives_back and "with_generation" not in section:
        values["with_generation"] = True
    return values


def _said(found: Measured, file: str) -> str:
    parts = [
        f"{file} gives {found.readings:,} readings, {found.days:.1f} days, {found.kwh:,.0f} kWh, "
        f"and the highest demand of {found.peak_kw:.3g} kW over {found.interval_min:g} min at "
        f"{found.peak_at} (standard time)", f"{found.missing:,} intervals have no reading",
        f"{found.repeated:,} readings came twice",
    ]
    if found.contradicting:
        parts.append(f"{found.contradicting:,} of these disagree, and the largest counts")
    if found.gives_back:
        parts.append("energy flows back to the utility: generation behind the meter")
    return f"{'; '.join([*parts, *found.notes])}."


def _with_day(
    load: object, hours: tuple[float, ...] | None, name: str, findings: list[Finding], *, said: bool
) -> object:
    """Turn uses of the kind `KIND` into shares of the meter's usual day."""
    uses = load.get("use") if isinstance(load, Mapping) else None
    if not isinstance(load, Mapping) or not isinstance(uses, Mapping):
        return load
    made = dict(uses)
    for key, use in uses.items():
        if not isinstance(use, Mapping) or use.get("kind") != KIND:
            continue
        if hours is not None:
            made[key] = {**use, "kind": "duty", "hours": list(hours)}
            continue
        made[key] = {"kind": "always"}
        if not said:
            findings.append(error(place(name, f"load {load.get('id', '')}", f"use.{key}.kind"),
                                  'kind "measured" needs a file of the meter.',
                                  "Add file to [code.measured], or use another kind."))
    return {**load, "use": made}
