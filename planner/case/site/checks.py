"""Checks of the table ``site`` of a home file across its keys."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.case.draft import Draft
from planner.case.fields import did_you_mean
from planner.case.messages import error, place, warning
from planner.case.names import label_of
from planner.case.site.file import GasSection, RunEntry
from planner.case.site.read import burner_loads, burnt_btu_h
from planner.errors import Finding
from planner.physics.propane_pressure import propane_psi
from planner.quoting import quoted
from planner.tolerances import floored, meets
from planner.units import magnitude

TERMINALS_DEGC = (60, 75, 90)


def site_fits_the_fuel(draft: Draft) -> Iterator[Finding]:
    """Check that a tank stands at a home on propane, and a meter at one on natural gas."""
    if draft.site is None or draft.home is None:
        return
    fuel, gas = draft.home.fuel, draft.site.gas
    if fuel == "natural gas" and draft.site.tank is not None:
        yield error(place(draft.file, "site", "tank"), "the home burns natural gas.",
                    'Leave the tank out, or write fuel = "propane" in [home].')
    if fuel == "natural gas" and draft.site.fuel_promise is not None:
        yield error(place(draft.file, "site", "fuel_promise"), "natural gas comes by pipe, and "
                    "nothing here says how long.", "Leave it out.")
    if fuel == "propane" and gas is not None and gas.meter is not None:
        yield error(place(draft.file, "site", "gas.meter"), "propane has no utility meter.",
                    'Leave it out, or write fuel = "natural gas" in [home].')
    if fuel == "propane" and gas is not None and gas.heating_value is not None:
        yield error(place(draft.file, "site", "gas.heating_value"), "that of propane is known; "
                    "this is what a utility's natural gas holds.",
                    'Leave it out, or write fuel = "natural gas" in [home].')
    if draft.site.fuel_promise is not None and draft.site.tank is None and fuel == "propane":
        yield error(place(draft.file, "site", "fuel_promise"), "nothing says how large the tank "
                    "is.", 'Add [site.tank] with size = "500 gal".')


def terminals_are_marked(draft: Draft) -> Iterator[Finding]:
    """Check that terminals are marked for a temperature that the code knows."""
    if draft.site is None or draft.site.terminals is None:
        return
    degc = round((magnitude(draft.site.terminals, "degF") - 32.0) / 1.8)
    if degc not in TERMINALS_DEGC:
        yield error(place(draft.file, "site", "terminals"), f"{degc} degC is no marking of NEC "
                    "110.14(C).", "Write 140 degF (60 degC), 167 degF (75 degC) or 194 degF "
                    "(90 degC).")


def appliances_are_known(draft: Draft) -> Iterator[Finding]:
    """Check that gas appliances have ids of their own and belong to loads of the file."""
    gas = _gas(draft)
    if gas is None:
        return
    for name, count in Counter(one.id for one in gas.appliances).items():
        if count > 1:
            yield error(_at(draft, "appliances"), f"{count} appliances have the id {quoted(name)}.",
                        "Give each an id of its own.")
    for one in gas.appliances:
        where = _at(draft, f"appliance {one.id}")
        if one.load is not None and one.load not in draft.load_ids:
            hint = did_you_mean(one.load, draft.load_ids) or "Name a load of the file."
            yield error(where, f"there is no load {quoted(one.load)}.", hint)
        if one.load is not None and one.burns is not None:
            yield warning(where, "its load says when it burns, so burns is not read.",
                          "Leave one of the two out.")
        if one.load is None and one.burns is None and draft.site and draft.site.tank:
            yield warning(where, "nothing says how much of a cold day it burns; none is counted "
                          "for the tank.", 'Write burns = "20 %", or the load that it belongs to.')


def burners_are_counted(draft: Draft) -> Iterator[Finding]:
    """Say which loads burn gas that the meter, the pipe and the tank are not asked for."""
    if draft.site is None or (draft.site.gas is None and draft.site.tank is None):
        return
    runs = draft.site.gas.runs if draft.site.gas is not None else []
    on_runs = {name for run in runs for name in run.appliances}  # said there
    for load in burner_loads(draft):
        if burnt_btu_h(load) is None and load.id not in on_runs:
            yield warning(draft.at_load(load.id), "it burns gas, and nothing says how much: meter, "
                          "pipe and tank are counted without it.",
                          "Add [[site.gas.appliances]] with its input and load = "
                          f'"{load.id}".')


def pressure_is_left(draft: Draft) -> Iterator[Finding]:
    """Check that the pipe may not lose all of the pressure at its start."""
    gas = _gas(draft)
    if gas is None or gas.pressure is None or gas.drop is None or gas.drop < gas.pressure:
        return
    yield error(_at(draft, "drop"), f"{magnitude(gas.drop, 'inWC'):.3g} inWC would be lost of "
                f"{magnitude(gas.pressure, 'inWC'):.3g} inWC: no gas would arrive.",
                'Write what the pipe may lose, such as drop = "0.5 inWC", which is used where '
                "nothing is said.")


def tank_gives_the_pressure(draft: Draft) -> Iterator[Finding]:
    """Check that on the coldest design day the tank has the pressure with which the pipe starts."""
    gas = _gas(draft)
    if (gas is None or gas.pressure is None or not draft.days or draft.home is None
            or draft.home.fuel != "propane"):
        return
    coldest = min(draft.days, key=lambda day: magnitude(day.low, "degF"))
    degf, asked = magnitude(coldest.low, "degF"), magnitude(gas.pressure, "psi")
    gives = propane_psi(degf)
    if meets(asked, gives):
        return
    label = (coldest.label or label_of(coldest.id)).lower()
    least = floored(gives, 1.0)
    first_stage = "" if least < 1.0 else (
        f'a first stage of {least:.0f} psi or less, written as pressure = "{least:.0f} psi", so '
        "that the pipe is sized for it; or for ")
    yield warning(
        _at(draft, "pressure"), f"at {degf:g} degF on the {label} propane has "
        f"{floored(max(gives, 0.0), 0.1):.1f} psi in the tank, less while it makes vapour, and the "
        f"pipe is to start with {asked:.3g} psi: the generator would starve.",
        f"Ask the propane supplier for {first_stage}a vaporizer, or another fuel.")


def pipe_is_a_tree(draft: Draft) -> Iterator[Finding]:
    """Check that the gas pipe is one tree that reaches the generator once."""
    gas = _gas(draft)
    if gas is None:
        return
    if gas.pipe is not None and gas.runs:
        yield error(_at(draft, "pipe"), "it stands beside runs.",
                    "Give the runs, or the pipe as one run of its own.")
    if not gas.runs:
        return
    ends = [run.id for run in gas.runs if run.generator]
    if len(ends) != 1:
        yield error(_at(draft, "runs"), f"{len(ends)} runs lead to the generator.",
                    "Write generator = true at the one that does.")
    yield from _broken(draft, gas.runs)
    known = {one.id for one in gas.appliances} | {load.id for load in burner_loads(draft)}
    for run in gas.runs:
        for name in run.appliances:
            if name not in known:
                hint = did_you_mean(name, known) or "Name an appliance of the site."
                yield error(_at(draft, f"run {run.id}"), f"there is no appliance {quoted(name)}.",
                            hint)


def appliances_hang_on_a_run(draft: Draft) -> Iterator[Finding]:
    """Check that a tree of pipe feeds every appliance once, and that each is counted."""
    gas = _gas(draft)
    if gas is None or not gas.runs:
        return
    fed = Counter(name for run in gas.runs for name in run.appliances)
    loads = {load.id: burnt_btu_h(load) is not None for load in burner_loads(draft)}
    counted = [*(one.id for one in gas.appliances),
               *(name for name, is_known in loads.items() if is_known)]
    misspelt = set(fed) - set(counted) - set(loads)
    for name in dict.fromkeys(counted):
        if not fed[name] and not misspelt:
            yield error(_at(draft, f"appliance {name}"), "no run of the pipe feeds it, so the pipe "
                        "would be sized without it.",
                        f'Write appliances = ["{name}"] at the run that feeds it; a run without '
                        "fed_from is a pipe of its own from meter or tank.")
    for name, count in fed.items():
        if count > 1:
            yield error(_at(draft, "runs"), f"{count} runs feed {quoted(name)}.",
                        "Name it at the one that does.")
        if name in loads and not loads[name]:
            yield error(draft.at_load(name), "a run of the gas pipe feeds it, and nothing says how "
                        "much it burns.",
                        f'Add [[site.gas.appliances]] with its input and load = "{name}", and name '
                        "that at the run.")


def _broken(draft: Draft, runs: list[RunEntry]) -> Iterator[Finding]:
    by_id = {run.id: run for run in runs}
    if len(by_id) < len(runs):
        yield error(_at(draft, "runs"), "two runs have the same id.",
                    "Give each an id of its own.")
        return
    for run in runs:
        if run.fed_from is not None and run.fed_from not in by_id:
            yield error(_at(draft, f"run {run.id}"), f"it is fed from {quoted(run.fed_from)}, "
                        "which does not exist.", did_you_mean(run.fed_from, by_id))
            continue
        seen, here = {run.id}, run
        while here.fed_from is not None and here.fed_from in by_id:
            if here.fed_from in seen:
                yield error(_at(draft, f"run {run.id}"), "it feeds itself in a circle.",
                            "The first run has no fed_from.")
                break
            seen.add(here.fed_from)
            here = by_id[here.fed_from]


def _gas(draft: Draft) -> GasSection | None:
    return None if draft.site is None else draft.site.gas


def _at(draft: Draft, key: str) -> str:
    return place(draft.file, "site", f"gas.{key}")


SITE_CHECKS = (site_fits_the_fuel, terminals_are_marked, appliances_are_known,
               burners_are_counted, pressure_is_left, tank_gives_the_pressure, pipe_is_a_tree,
               appliances_hang_on_a_run)
