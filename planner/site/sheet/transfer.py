"""Rows about transfer equipment: rating, positions, what it is listed for, what it withstands."""

from __future__ import annotations

from planner.physics.wire.feeder import generator_breaker_a
from planner.plan.code import WHOLE
from planner.plan.plan import Plan
from planner.plan.site.feeder import named, nameplate_a
from planner.service.choice import OFF
from planner.site.sheet.panel_wire import supply_breaker_a
from planner.site.sheet.rows import Row, missing, passed, to_do
from planner.site.wire import site_of
from planner.tolerances import meets

IN_SIGHT_FT = 50.0
"""NEC Article 100 (2017 to 2023), from memory: within sight is visible and not farther [ft]."""
NO_STANDARD = "702.5; UL 1008 (from memory)"


def transfer_rows(plan: Plan) -> tuple[Row, ...]:
    """List what the transfer equipment of a plan must be."""
    generator, transfer = plan.supply.generator, plan.price.transfer
    breaker_a = generator_breaker_a(nameplate_a(generator), generator.breaker_a)
    fits = meets(breaker_a, transfer.rating_a)
    rows = [
        to_do("transfer", "Transfer equipment", transfer.label,
              "Verify that it is listed as transfer equipment: it keeps the generator from feeding "
              "the utility's lines.", NO_STANDARD),
        Row("transfer-feeder", "Its rating against the generator's breaker", passed(ok=fits),
            f"{transfer.rating_a:g} A", transfer.rating_a, "A", f"at least {breaker_a:g} A",
            "240.4, 702.5", "" if fits else "Take larger transfer equipment."),
    ]
    return (*rows, *(_whole(plan) if plan.menu.kind == WHOLE else _selected(plan)), _sight(plan))


def _whole(plan: Plan) -> list[Row]:
    transfer, service_a = plan.price.transfer, plan.menu.house.home.service_a
    fits = meets(service_a, transfer.rating_a)
    carries = Row("transfer-service", "Its rating against the service", passed(ok=fits),
                  f"{transfer.rating_a:g} A", transfer.rating_a, "A", f"at least {service_a:g} A",
                  "230.79, 702.5", "" if fits else "Take larger transfer equipment.")
    what, number = "Listed as service equipment", "230.66, 230.70"
    if transfer.service_rated is None:
        rated = missing("service-rated", what, f"whether {transfer.label} is listed as service "
                        "equipment (service_rated of the transfer equipment in the price book)",
                        clause=number)
    elif transfer.service_rated:
        rated = to_do("service-rated", what, "yes: it becomes the service disconnect",
                      "Bond neutral and ground in it, and no longer in the panel behind it; see "
                      "that a grounding conductor runs on to the panel.",
                      f"{number}, 250.24, 250.142(B)")
    else:
        rated = to_do("service-rated", what, "no", "Put a service disconnect with its overcurrent "
                      "device ahead of it.", number)
    return [carries, rated, *_main(plan)]


def _main(plan: Plan) -> list[Row]:
    """Where it is larger than the service, its overcurrent device must not be."""
    transfer, service_a = plan.price.transfer, plan.menu.house.home.service_a
    if transfer.service_rated is False or meets(transfer.rating_a, service_a):
        return []
    service = site_of(plan).service
    first = "As service disconnect" if transfer.service_rated else "If it is the service disconnect"
    keeps = ("the service conductors" if service.conductor is None else
             f"the service conductors of {named(service.conductor, service.material)}")
    return [to_do("service-overcurrent", "Overcurrent device in the transfer equipment",
                  f"{service_a:g} A at most, in equipment for {transfer.rating_a:g} A",
                  f"{first} it protects {keeps}: order it with a breaker of "
                  f"{service_a:g} A, or put one ahead of it.", "230.90, 230.91")]


def _selected(plan: Plan) -> list[Row]:
    most_a = supply_breaker_a(plan)
    return [
        _positions(plan),
        to_do("transfer-supply", "Breaker in the panel that feeds the transfer equipment",
              f"two poles, {most_a:g} A at most", "See that the panel has the two places for it.",
              "240.4, 408.36"),
        to_do("moved-circuits", "Circuits that move into the transfer equipment",
              "each with its neutral", "Keep the lines of a shared neutral together, on one "
              "two-pole breaker.", "300.3(B), 210.4(B)"),
    ]


def _positions(plan: Plan) -> Row:
    transfer = plan.price.transfer
    poles = sum(load.poles for i, load in enumerate(plan.menu.house.home.loads)
                if plan.choice.connection[i] != OFF)
    fits = poles <= transfer.positions
    return Row("positions", "Positions for the selected circuits", passed(ok=fits),
               f"{poles} of {transfer.positions}", float(poles), "poles",
               f"{transfer.positions} at most", "selected circuits",
               "" if fits else "Take transfer equipment with more positions.")


def _sight(plan: Plan) -> Row:
    """Within sight is visible and not farther than 50 ft (NEC Article 100, from memory)."""
    what, number = "Disconnect at the generator", "702.12, 445.18(A), Article 100 (from memory)"
    length_ft = site_of(plan).wire_ft
    if length_ft is not None and length_ft > IN_SIGHT_FT:
        return to_do("in-sight", what, f"{length_ft:g} ft of wire away: not within sight of the "
                     f"building unless seen from it within {IN_SIGHT_FT:g} ft",
                     "Put a disconnect at the building, readily accessible, unless the authority "
                     "having jurisdiction lets the one at the generator do, which can be locked "
                     "open; its own breaker does where it is within sight.", number)
    return to_do("in-sight", what, "its own breaker serves, where it is within sight of the "
                 f"building: seen from it, and not farther than {IN_SIGHT_FT:g} ft",
                 "Place it so and readily accessible, and such that it can be locked open; else a "
                 "second disconnect at the building.", number)
