"""Rows about shedding modules, the branch circuits behind them and what hangs beside them."""

from __future__ import annotations

from planner.physics.wire.branch_wire import FREE_CABLES, is_motor_circuit
from planner.plan.compliance import management_clause
from planner.plan.module_lines import ModuleLine, module_lines
from planner.plan.plan import Plan
from planner.site.branch_wire import branch_wire
from planner.site.sheet.rows import Row, Status, missing, to_do
from planner.site.wire import site_of
from planner.tolerances import meets

CABLES = ("how many cables with two current-carrying wires run together without a space "
          "(site.service.bundled_cables)")


def module_rows(plan: Plan) -> tuple[Row, ...]:
    """List the modules of a plan, each with its breaker, its wire and where it hangs."""
    rows = [row for line in module_lines(plan) for row in _module(plan, line)]
    if rows:
        rows.append(_control())
    wires = any(row.key.startswith("wire-") for row in rows)
    rows += [_bundle(plan, wires=wires), _charger(plan)]
    return tuple(rows)


def _module(plan: Plan, line: ModuleLine) -> list[Row]:
    """Give the rows of one module, and what is to be set where it stays open."""
    rows = _circuit(plan, line) if line.in_circuit else _thermostat(plan, line)
    if line.stays_open:
        rows.append(to_do(
            f"stays-open-{line.load.id}", f"{line.load.label}: off in an outage",
            "its module stays open as long as the generator feeds the house",
            "Set the controller to hold it open, without a priority, and see in a test run that it "
            "opens and does not close. Write so beside its breaker.", management_clause(
                plan.menu.house.home.code.edition)))
    return rows


def _circuit(plan: Plan, line: ModuleLine) -> list[Row]:
    load, module, branch = line.load, line.module, line.branch
    most_a = module.largest_breaker_a or module.amperes
    ok = meets(branch.breaker_a, most_a)
    by = "" if branch.given else "Taken by rule: read the breaker off the panel (breaker). "
    status: Status = "not ok" if not ok else "ok" if branch.given else "to do"
    return [
        Row(f"module-{load.id}", f"Module of {load.label}", status,
            f"{module.label}, behind {branch.breaker_a:g} A", branch.breaker_a, "A",
            f"behind {most_a:g} A at most", f"110.3(B); {branch.clause}",
            f"{by}It hangs beside panel {load.panel}, between the breaker and the load, with free "
            "working space."),
        _wire(plan, line),
    ]


def _wire(plan: Plan, line: ModuleLine) -> Row:
    load = line.load
    known = site_of(plan).service.bundled_cables is not None
    free = "" if known else ", where no more than two cables run together"
    key, what = f"wire-{load.id}", f"Wire of {load.label}"
    rule = "430.22, 440.32" if is_motor_circuit(load) else "240.4"
    number = f"{rule}, 334.80, Table 310.16"
    try:
        least = branch_wire(plan, line)
    except ValueError as problem:
        return to_do(key, what, "no single cable", f"{problem} Ask an electrical engineer.", number)
    text = f"{least}, behind {line.branch.breaker_a:g} A{free}"
    return to_do(key, what, text, "Look at the wire that is there; an attic is hotter than the "
                 "air outside.", number)


def _thermostat(plan: Plan, line: ModuleLine) -> list[Row]:
    load = line.load
    if load.code.category == "supplemental-heat":
        return [to_do(f"module-{load.id}", f"Module of {load.label}",
                      f"{line.module.label}, in the thermostat wire",
                      "Open the wire that calls this stage of heat, at the air handler; its branch "
                      "circuit stays as it is.", "Article 725")]
    needs = [plan.menu.house.home.load(one).label for one in load.requires]
    where = f"at {', '.join(needs)} or outdoors" if needs else "indoors or at the unit"
    return [to_do(f"module-{load.id}", f"Module of {load.label}",
                  f"{line.module.label}, in the thermostat wire",
                  f"Open the wire that calls the compressor, {where}; its branch circuit stays as "
                  "it is.", "Article 725")]


def _control() -> Row:
    return to_do("control-wiring", "Control wires of the modules",
                 "power-limited circuits, apart from the power wires",
                 "Run them in a raceway or cable of their own; a Class 2 source feeds them.",
                 "Article 725, 725.136 (from memory)")


def _bundle(plan: Plan, *, wires: bool) -> Row:
    what, number = "Cables that run together", "334.80, Table 310.15(C)(1)"
    count = site_of(plan).service.bundled_cables
    if count is None:
        return missing("bundled-cables", what, CABLES, limit=f"{FREE_CABLES} without derating",
                       clause=number)
    free = count <= FREE_CABLES
    derated = ("The wires above are sized with the derating." if wires else
               "A wire that is laid new beside them is sized with the derating.")
    return Row("bundled-cables", what, "ok", f"{count}, {'not ' if free else ''}derated",
               float(count), "cables", f"derated above {FREE_CABLES}", number,
               "" if free else derated)


def _charger(plan: Plan) -> Row:
    cold = plan.menu.house.home.winter_degf < COLD_DEGF
    heater = " and its cold-weather heater" if cold else ""
    return to_do("battery-charger", f"Circuit for the battery charger{heater} of the generator",
                 "120 V, alive while the utility is there; its price is part of the installation",
                 "Run one to the generator, from a breaker that is on with either source; count "
                 "it among the circuits.", "common practice, no source")


COLD_DEGF = 32.0
"""Where winters are below freezing a heater is asked for (a choice, no source) [degF]."""

