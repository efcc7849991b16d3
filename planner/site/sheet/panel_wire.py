"""Rows about the wire between the transfer equipment and the panel, on either side of it."""

from __future__ import annotations

from planner.physics.wire.conductor import dwelling_conductor
from planner.physics.wire.conductor_tables import CIRCULAR_MILS
from planner.physics.wire.feeder import carrying_conductor, generator_breaker_a, terminal_degc
from planner.physics.wire.grounding import equipment_grounding_size
from planner.plan.code import WHOLE
from planner.plan.plan import Plan
from planner.plan.site.feeder import ambient_degc, named, nameplate_a
from planner.site.sheet.rows import Row, to_do
from planner.site.wire import site_of

APART = "neutral and ground apart in"


def panel_rows(plan: Plan) -> tuple[Row, ...]:
    """Size the wire on to the panel, or that from the panel to the equipment of a few circuits."""
    if plan.menu.kind == WHOLE:
        return (_to_the_panel(plan),)
    return (_from_the_panel(plan),)


def supply_breaker_a(plan: Plan) -> float:
    """Give the largest breaker in the panel that may feed equipment for selected circuits [A]."""
    return min(plan.price.transfer.rating_a, plan.menu.house.home.service_a)


def _to_the_panel(plan: Plan) -> Row:
    """A feeder, as the service disconnect stands ahead of it, in or before the equipment.

    What is off by a module that stays open hangs behind it while the utility feeds the house.

    On the generator only its own breaker stands ahead of it, which may be the larger one.
    """
    home, service, generator = plan.menu.house.home, site_of(plan).service, plan.supply.generator
    ahead_a = max(home.service_a, generator_breaker_a(nameplate_a(generator), generator.breaker_a))
    entire = not plan.choice.left_out
    what, air_degc = "Wire from transfer equipment to panel, each line", ambient_degc(home)
    try:
        size = (dwelling_conductor(ahead_a, service.material, air_degc) if entire
                else carrying_conductor(ahead_a, terminal_degc(ahead_a, 75),
                                        material=service.material, ambient_degc=air_degc))
    except ValueError as problem:
        return to_do("panel-feeder", what, f"for {ahead_a:g} A",
                     f"{problem} Ask an electrical engineer.", "310.12, Table 310.16")
    number = "310.12" if entire else "Table 310.16, 75 degC (310.12 asks for the entire dwelling)"
    number += ", 250.122, 250.142(B)"
    ground = named(equipment_grounding_size(ahead_a, service.material), service.material)
    beside = (f"It is a feeder: see that a ground of {ground} or larger runs with it, as a service "
              f"cable of three wires has none. Keep {APART} the panel.")
    text = f"{named(size, service.material)} or larger for {ahead_a:g} A"
    if service.conductor is None:
        return to_do("panel-feeder", what, f"{text}, ground {ground}", "Match it to what is there, "
                     f"or lay it new (site.service.conductor). {beside}", number)
    there = f"{named(service.conductor, service.material)} is there; beside it ground {ground}"
    ok = CIRCULAR_MILS[service.conductor] >= CIRCULAR_MILS[size]
    return Row("panel-feeder", what, "to do" if ok else "not ok", there, limit=text, clause=number,
               todo=beside if ok else
               f"Lay {named(size)} or larger, or a smaller main breaker ahead of it. {beside}")


def _from_the_panel(plan: Plan) -> Row:
    """Size what lies behind the breaker that feeds equipment for selected circuits; copper."""
    most_a, what = supply_breaker_a(plan), "Wire from the panel to the transfer equipment"
    number = "Table 310.16, 110.14(C), 250.122, 250.142(B)"
    try:
        size = carrying_conductor(most_a, terminal_degc(most_a),
                                  ambient_degc=ambient_degc(plan.menu.house.home))
    except ValueError as problem:
        return to_do("transfer-wire", what, f"for {most_a:g} A",
                     f"{problem} Ask an electrical engineer.", number)
    ground = named(equipment_grounding_size(most_a), "copper")
    return to_do("transfer-wire", what,
                 f"{named(size, 'copper')}, ground {ground}, or larger",
                 f"For a breaker of {most_a:g} A, terminals of {terminal_degc(most_a)} degC, the "
                 "neutral as large as the lines; all may be smaller behind a smaller breaker. Keep "
                 f"{APART} the transfer equipment.",
                 number)
