"""Rows about grounding and bonding."""

from __future__ import annotations

from planner.physics.wire.grounding import (
    ROD_SIZE,
    equipment_grounding_size,
    grounding_electrode_size,
    supply_side_jumper_size,
)
from planner.plan.code import WHOLE
from planner.plan.plan import Plan
from planner.plan.site.feeder import named
from planner.site.sheet.rows import Row, missing, to_do
from planner.site.wire import FeederRun, site_of

SEPARATE = "250.30, 250.35(A) (from memory)"
NOT_SEPARATE = "250.35(B), 250.102(C) (from memory)"


def grounding_rows(plan: Plan, run: FeederRun | str) -> tuple[Row, ...]:
    """List the grounding and bonding that a plan needs."""
    rows = [_neutral(plan)]
    if not isinstance(run, str):
        rows.append(_equipment(run))
        if plan.price.transfer.switches_neutral is not False:
            rows += _separate(run, known=plan.price.transfer.switches_neutral is True)
    return (*rows, *_service(plan))


def _neutral(plan: Plan) -> Row:
    transfer = plan.price.transfer
    what = "Neutral in the transfer equipment"
    if transfer.switches_neutral is None:
        return missing("neutral-bond", what, f"whether {transfer.label} switches the neutral "
                       "(switches_neutral of the transfer equipment in the price book): if it "
                       "does, bond the neutral at the generator and ground it there; if not, at "
                       "the service only", clause=f"{SEPARATE}; {NOT_SEPARATE}")
    if transfer.switches_neutral:
        return to_do("neutral-bond", what, "switched: the generator is a separately derived system",
                     "Bond neutral and equipment ground at the generator, at one point, and bring "
                     "its electrode conductor there.", SEPARATE)
    return to_do("neutral-bond", what, "not switched: the generator is not separately derived",
                 "Take out any bond between neutral and frame at the generator; the only one is at "
                 "the service.", NOT_SEPARATE)


def _equipment(run: FeederRun) -> Row:
    found = run.by_code
    size = equipment_grounding_size(found.breaker_a, found.material, needed_size=found.size,
                                    laid_size=run.laid)
    grown = size != equipment_grounding_size(found.breaker_a, found.material)
    return Row("equipment-ground", "Equipment grounding conductor of the feeder", "ok",
               f"{named(size, found.material)}"
               + (f", grown with the lines to {named(run.laid)}" if grown else ""),
               limit=f"behind {found.breaker_a:g} A",
               clause="Table 250.122" + (", 250.122(B)" if grown else ""))


def _separate(run: FeederRun, *, known: bool) -> list[Row]:
    found, when = run.by_code, "" if known else "only if the neutral is switched: "
    electrode = grounding_electrode_size(run.laid, found.material)
    jumper = supply_side_jumper_size(run.laid, found.material, found.material)
    rod = "" if electrode == "8" else f", {ROD_SIZE} AWG to a rod"
    return [
        to_do("electrode", "Electrode conductor of the generator",
              f"{when}{named(electrode, 'copper')}{rod}",
              "Use the electrodes of the building; a rod beside them if there are none near.",
              "250.30(A)(5), Table 250.66"),
        to_do("bonding-jumper", "Supply-side bonding jumper of the generator",
              f"{when}{named(jumper, found.material)}",
              "Needed where neutral and ground are bonded beyond the generator's enclosure.",
              "250.30(A)(2), 250.102(C)"),
    ]


def _service(plan: Plan) -> list[Row]:
    """What follows where the service equipment moves into the transfer equipment."""
    if plan.menu.kind != WHOLE or plan.price.transfer.service_rated is not True:
        return []
    service = site_of(plan).service
    what = "Electrode conductor and main bonding jumper in the transfer equipment"
    number = "250.24, 250.28, Tables 250.66 and 250.102(C)(1)"
    if service.conductor is None:
        return [missing("service-bond", what, "the size of the service conductors "
                        "(site.service.conductor)", clause=number)]
    size = grounding_electrode_size(service.conductor, service.material)
    return [to_do("service-bond", what, f"{named(size, 'copper')} or larger",
                  "Bond neutral and ground in the transfer equipment, the new service "
                  "disconnect; separate them in the panel behind it.", number)]
