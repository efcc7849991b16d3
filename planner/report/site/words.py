"""Sentences and data about the site of a plan."""

from __future__ import annotations

from planner.facts.home import Home
from planner.physics.noise import distance_for_db_ft, level_db
from planner.plan.plan import Plan
from planner.plan.site.findings import site_findings
from planner.plan.site.place_findings import place_findings
from planner.report.findings import finding_data
from planner.report.words import money
from planner.site.sheet.rows import Group, Row, SiteSheet, Status
from planner.tolerances import ceiled

COUNTED: tuple[tuple[Status, str], ...] = (
    ("not ok", "not ok"), ("missing", "missing to know"), ("to do", "to do or verify"),
    ("ok", "ok"))


def site_sentence(sheet: SiteSheet) -> str:
    """Say how much of a sheet is open."""
    counts = [f"{len(sheet.of(status))} {words}" for status, words in COUNTED if sheet.of(status)]
    return f"{', '.join(counts)}." if counts else "Nothing is asked."


def works_sentence(plan: Plan) -> str:
    """Say what the site adds to the price, line by line."""
    works, currency = plan.menu.works, plan.menu.book.currency
    lines = [f"{line.text} {'without a price' if line.usd is None else money(line.usd, currency)}"
             for line in works.lines]
    if not lines:
        return "No work on the site is in the price."
    return (f"In the price of {money(plan.cost_usd, currency)} for the site: "
            f"{money(works.usd, currency)} ({'; '.join(lines)}).")


def todo_sentences(group: Group) -> list[str]:
    """Say what is to do, or missing, of each row of a group; equal ones once."""
    said: dict[str, list[str]] = {}
    for row in group.rows:
        if row.todo:
            said.setdefault(_todo(row), []).append(row.what)
    return [f"{'; '.join(whats)}: {todo}" for todo, whats in said.items()]


def _todo(row: Row) -> str:
    return row.todo if row.todo.endswith((".", "?")) else f"{row.todo}."


def site_data(plan: Plan, sheet: SiteSheet) -> dict[str, object]:
    """Give a sheet as plain data, with what the site adds to the price."""
    works = plan.menu.works
    return {
        "generator": plan.supply.generator.id, "transfer": plan.price.transfer.id,
        "cost": round(plan.cost_usd, 2), "site": works.id,
        "lines": [{"text": line.text, "cost": None if line.usd is None else round(line.usd, 2)}
                  for line in works.lines],
        "findings": finding_data(site_findings(plan)),
        "open": {status.replace(" ", "_"): len(sheet.of(status)) for status, _ in COUNTED},
        "groups": {group.key: {"title": group.title, "rows": [
            {"key": row.key, "what": row.what, "status": row.status, "text": row.text,
             "value": None if row.value is None else round(row.value, 4), "unit": row.unit,
             "limit": row.limit, "clause": row.clause, "todo": row.todo} for row in group.rows]}
            for group in sheet.groups},
    }


def place_sentences(home: Home) -> tuple[str, ...]:
    """Say what is wrong with the place of the generator, and what to do."""
    return tuple(f"{one.sentence[0].upper()}{one.sentence[1:]} {one.remedy}"
                 for one in place_findings(home))


def noise_sentences(plan: Plan) -> tuple[str, ...]:
    """Say how loud it is where the neighbour is; empty if nobody says how far or how loud."""
    site, generator = plan.menu.house.home.site, plan.supply.generator
    far_ft = None if site is None else site.place.neighbour_ft
    if site is None or far_ft is None or generator.noise_db is None:
        return ()
    level, limit = ceiled(level_db(generator.noise_db, far_ft), 1.0), site.place.neighbour_limit_db
    allowed = "" if limit is None or level <= limit else (
        f" Allowed are {limit:g} dB: place it "
        f"{ceiled(distance_for_db_ft(generator.noise_db, limit), 1.0):g} ft away or farther, or "
        "take a quieter one.")
    return (f"Noise: up to {level:.0f} dB at the neighbour's, {far_ft:g} ft away, day and night "
            f"while it runs.{allowed}",)
