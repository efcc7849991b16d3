"""Rows about gas up to the generator: meter, pressure, pipe."""

from __future__ import annotations

from planner.facts.site import GasService
from planner.physics.pipe_tables import GUARDED_PSI, IN_WC_PER_PSI, INDOORS_PSI
from planner.plan.plan import Plan
from planner.plan.site.fuel import unknown_burners
from planner.plan.site.gas import GasWork
from planner.plan.site.regulators import Regulators, arriving_in_wc
from planner.site.sheet.rows import Row, missing, passed, to_do
from planner.site.wire import site_of
from planner.tolerances import ceiled, floored, meets

METER = "connected load, NFPA 54 (edition not noted)"
PIPE = "NFPA 54 and IFGC 402.4 (2018), longest-length method"
REGULATED = "NFPA 54 ch. 5 (from memory)"


def gas_rows(plan: Plan, work: GasWork) -> list[Row]:
    """List what meter, pressure and pipe are held against."""
    home, gas = plan.menu.house.home, site_of(plan).gas or GasService()
    unknown = tuple(load.label for load in unknown_burners(home))
    rows = [_meter(work, gas, unknown)] if home.fuel == "natural gas" else []
    return [*rows, _pressure(plan, work, gas), *_pipe(work, gas, unknown)]


def connection_row() -> Row:
    """What stands at the generator, and what is measured there."""
    return to_do("gas-connection", "Gas connection of the generator",
                 "shut-off valve, sediment trap and connector at the generator",
                 "Put them in, test the new pipe for leaks under pressure before it is used, and "
                 "measure the gas pressure at the generator under full load.",
                 "NFPA 54 9.6 and 8.1 (from memory)")


def _meter(work: GasWork, gas: GasService, unknown: tuple[str, ...]) -> Row:
    key, what = "meter-capacity", "Gas meter, everything on"
    needs = work.generator_ft3_h + work.others_ft3_h
    lacking = [] if gas.meter_ft3_h is not None else [
        f"what the gas meter passes, on its plate (site.gas.meter); needed "
        f"{'at least ' if unknown else ''}{ceiled(needs, 1.0):,.0f} ft³/h"]
    lacking += _unknown_inputs(unknown)
    larger = "" if work.meter is None else (
        f"Ask the gas utility for one of {work.meter.ft3_h:,.0f} ft³/h: "
        f"{work.meter.installed_usd:,.0f} USD, in the price.")
    if gas.meter_ft3_h is None:
        return missing(key, what, "; ".join(lacking), clause=METER)
    text = (f"{ceiled(work.generator_ft3_h, 1.0):,.0f} ft³/h for the generator and "
            f"{ceiled(work.others_ft3_h, 1.0):,.0f} for the appliances")
    limit = f"passes {gas.meter_ft3_h:,.0f} ft³/h"
    if unknown:
        return Row(key, what, "missing", f"{text} that are known", needs, "ft³/h", limit, METER,
                   f"missing: {lacking[0]}. {larger}".strip())
    return Row(key, what, "ok" if work.meter is None else "to do", text, needs, "ft³/h", limit,
               METER, larger)


def _unknown_inputs(labels: tuple[str, ...]) -> list[str]:
    if not labels:
        return []
    verb = "burns" if len(labels) == 1 else "burn"
    return [f"how much gas {_listed(labels)} {verb}, on the plate (input and load in "
            "[[site.gas.appliances]])"]


def _pressure(plan: Plan, work: GasWork, gas: GasService) -> Row:
    key, what = "gas-pressure", "Gas pressure"
    if gas.pressure_psi is None:
        return missing(key, what, "the pressure at the start of the pipe (site.gas.pressure); low "
                       "pressure is taken", clause=PIPE)
    arriving = arriving_in_wc(gas)
    if arriving is None:
        return to_do(key, what, f"{gas.pressure_psi:.3g} psi",
                     _regulated(gas.pressure_psi, work.regulators), REGULATED)
    home = plan.menu.house.home
    least = plan.supply.generator.ratings[home.fuel].inlet_in_wc
    text = (f"{floored(arriving, 0.1):.1f} inWC at the generator at full load: "
            f"{gas.pressure_psi * IN_WC_PER_PSI:.3g} less {gas.drop_in_wc:.3g} that the pipe may "
            "lose")
    if least is None:
        return Row(key, what, "missing", text, arriving, "inWC", clause=PIPE,
                   todo="missing: the least that the generator needs at its inlet "
                   f'(inlet_pressure in [generators.ratings."{home.fuel}"] of the price book)')
    ok = meets(least, arriving)
    return Row(key, what, passed(ok=ok), text, arriving, "inWC",
               f"the generator needs {least:.3g} inWC", "price book; the loss is chosen",
               "" if ok else "More pressure, or a pipe that loses less.")


def _regulated(psi: float, regulators: Regulators | None) -> str:
    others = () if regulators is None else tuple(where for where, _ in regulators.others)
    at_each = (f"So does one at {_listed(others)}, if it is not there today." if others else
               "So must whatever else this pressure reaches, each outlet or the house as a whole.")
    inside = "" if psi <= INDOORS_PSI else (
        f" Above {INDOORS_PSI:g} psi the pipe stays out of the building, but for exceptions.")
    guarded = "" if psi <= GUARDED_PSI else (
        f" Above {GUARDED_PSI:g} psi each has overpressure protection and a vent that ends "
        "outdoors (NFPA 54 5.8 and 5.9, from memory).")
    return ("A regulator at the generator brings it down to what its nameplate says. "
            f"{at_each}{guarded}{inside}")


def _pipe(work: GasWork, gas: GasService, unknown: tuple[str, ...]) -> list[Row]:
    if work.longest_ft is None:
        return [missing("gas-pipe", "Gas pipe to the generator", "how long it is from meter or "
                        "tank, fittings counted (site.gas.pipe)", clause=PIPE)]
    rows = []
    for piece in work.pieces:
        text = (f"{piece.size} in steel, {piece.length_ft:g} ft, "
                f"{ceiled(piece.flow_ft3_h, 1.0):,.0f} ft³/h")
        rows.append(Row(
            f"gas-pipe-{piece.id.replace(' ', '-')}", f"Gas pipe, {piece.id.replace('-', ' ')}",
            "to do" if piece.laid else "ok", text, piece.flow_ft3_h, "ft³/h",
            f"carries {floored(piece.carries_ft3_h, 1.0):,.0f} ft³/h at {work.longest_ft:g} ft",
            PIPE, "Lay it new." if piece.laid else ""))
    if unknown and any(run.appliances for run in gas.runs):
        rows.append(missing("gas-pipe-appliances", "Gas pipe, all that it feeds",
                            _unknown_inputs(unknown)[0], clause=PIPE))
    rows.append(to_do(
        "gas-pipe-kind", "Kind of pipe", "the sizes are of Schedule 40 steel",
        "Take other sizes for corrugated tubing or polyethylene: each has tables of its own. Steel "
        "in the ground is coated against rust.", "NFPA 54 ch. 6 and 7 (from memory)"))
    return rows


def _listed(words: tuple[str, ...]) -> str:
    """Names one after another; where one holds a comma, a semicolon stands between them."""
    between = "; " if any("," in word for word in words) else ", "
    return " and ".join((between.join(words[:-1]), words[-1])) if len(words) > 1 else words[0]
