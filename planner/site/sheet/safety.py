"""Rows about what the code asks around a standby source: stop, signs, surge, disconnect, space."""

from __future__ import annotations

from planner.facts.home import CodeEdition
from planner.physics.clearances import WORKING_DEPTH_IN, WORKING_HEIGHT_IN, WORKING_WIDTH_IN
from planner.plan.code import WHOLE
from planner.plan.plan import Plan
from planner.site.sheet.rows import Row, missing, passed, to_do
from planner.site.wire import site_of

SHUTDOWN: dict[CodeEdition, str] = {
    "2017": "445.18 (2017) asks for none; 445.18(D) since 2020", "2020": "445.18(D)",
    "2023": "445.19(C)", "2026": "445.19(C) in the numbering of 2023"}
"""Emergency shutdown of generators at one- and two-family dwellings, by edition of the NEC."""
SINCE_2023 = " in the numbering of 2023"
FREE = f"depth {WORKING_DEPTH_IN:g} in, width {WORKING_WIDTH_IN:g} in or that of the equipment"


def safety_rows(plan: Plan) -> tuple[Row, ...]:
    """List what else the code asks at the service and at the generator."""
    edition = plan.menu.house.home.code.edition
    return (
        to_do("shutdown", "Emergency shutdown of the generator",
              "a stop outside, readily accessible" if edition != "2017" else
              "not asked by this edition, and good practice", "Place it where it is seen from "
              "outside and cannot be locked away.", SHUTDOWN[edition]),
        to_do("signs", "Sign at the service", "type and place of each standby source",
              "Put it at the service equipment.", "702.7" + _number(edition)),
        *_service_rows(plan, edition),
        Row("other-articles", "Emergency and legally required standby systems", "ok",
            "Articles 700 and 701 do not apply: an optional standby system of a dwelling",
            clause="702.1, 702.2"),
        *_space(plan),
    )


def _number(edition: CodeEdition) -> str:
    return SINCE_2023 if edition == "2026" else ""


def _service_rows(plan: Plan, edition: CodeEdition) -> list[Row]:
    """Surge protection and emergency disconnect, asked since 2020 of service equipment that is new.

    Service-rated transfer equipment may count as such.
    """
    service = site_of(plan).service
    becomes = plan.menu.kind == WHOLE and plan.price.transfer.service_rated is not False
    rows = []
    for key, what, there, fact, number, put in (
            ("surge", "Surge protection of the service", service.surge_protected,
             "whether the service has surge protection (site.service.surge_protected)", "230.67",
             "Put a listed surge protector, type 1 or 2, in or next to the service equipment."),
            ("outside-disconnect", "Emergency disconnect of the service",
             service.disconnect_outside, "whether an emergency disconnect stands outside, readily "
             "accessible (site.service.disconnect_outside)", "230.85",
             "Put a marked emergency disconnect outside, readily accessible.")):
        clause = number + _number(edition)
        if edition == "2017":
            rows.append(Row(key, what, "ok", "not asked by this edition",
                            clause=f"{number} since 2020"))
        elif there:
            rows.append(Row(key, what, "ok", "there", clause=clause))
        elif not service.replaced and not becomes:
            rows.append(Row(key, what, "ok", "not asked: the service equipment stays",
                            clause=clause))
        elif there is None:
            rows.append(missing(key, what, fact, clause=clause,
                                limit="" if service.replaced else f"asked if {_MAYBE}"))
        elif service.replaced:
            rows.append(Row(key, what, "not ok", "none, and the service equipment is replaced",
                            clause=clause, todo=put))
        else:
            rows.append(to_do(key, what, "none", f"Ask whether {_MAYBE}. {put}", clause))
    return rows


_MAYBE = "the new service disconnect counts as replaced service equipment"


def _space(plan: Plan) -> list[Row]:
    service = site_of(plan).service
    rows = []
    for key, what, found, fact, least in (
            ("space-depth", "Free depth in front of the panel", service.panel_working_depth_in,
             "the free depth in front of the panel (site.service.working_depth)",
             WORKING_DEPTH_IN),
            ("space-width", "Free width in front of the panel", service.panel_working_width_in,
             "the free width in front of the panel (site.service.working_width)",
             WORKING_WIDTH_IN)):
        limit = f"at least {least:g} in"
        if found is None:
            rows.append(missing(key, what, fact, limit=limit, clause="110.26(A)"))
        else:
            rows.append(Row(key, what, passed(ok=found >= least - 1e-9), f"{found:g} in", found,
                            "in", limit, "110.26(A)", "" if found >= least - 1e-9 else
                            "Clear the space, or place the new equipment elsewhere."))
    rows.append(to_do("space-new", "Free space in front of transfer equipment and modules",
                      f"{FREE}, height {WORKING_HEIGHT_IN:g} in",
                      "Choose their place so, at the generator too.", "110.26(A)"))
    return rows
