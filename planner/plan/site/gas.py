"""Gas up to the generator: pressure, meter, regulators, and pipe by the longest-length method."""

from __future__ import annotations

from dataclasses import dataclass

from planner.facts.home import Fuel, Home
from planner.facts.price_book import Generator, PriceBook
from planner.facts.site import GasService, PipeRun
from planner.facts.site_parts import GasPart
from planner.physics.pipe import (
    GasRun,
    longest_length_ft,
    size_runs,
    smallest_pipe,
    sure_ft3_h,
)
from planner.plan.site.fuel import ft3_h, others_input_btu_h
from planner.plan.site.parts import Blocked, SiteLine, usd_of
from planner.plan.site.regulators import Regulators, arriving_in_wc, regulators_of
from planner.service.house import House
from planner.tolerances import floored, meets


@dataclass(frozen=True, slots=True)
class PipePiece:
    """A piece of pipe with all that it must carry.

    Attributes
    ----------
    id : str
    length_ft, flow_ft3_h, carries_ft3_h : float
        Its length, what flows, and what its size carries over the longest length.
    size : str
        Nominal size [in]; that of what is there, or of what is laid.
    laid : bool
        Whether it is new.
    """

    id: str
    length_ft: float
    flow_ft3_h: float
    carries_ft3_h: float
    size: str
    laid: bool


@dataclass(frozen=True, slots=True)
class GasWork:
    """Gas for one size of generator.

    Attributes
    ----------
    generator_ft3_h, others_ft3_h : float
        At full load; what else is connected, all on.
    longest_ft : float or None
        From meter or tank to the farthest outlet; None where no pipe is known.
    pieces : tuple of PipePiece
    meter : GasPart or None
        The meter that is needed in place of the one that is there.
    regulators : Regulators or None
        At the outlets of a pipe with more pressure than appliances take.
    lines : tuple of SiteLine
    """

    generator_ft3_h: float
    others_ft3_h: float
    longest_ft: float | None
    pieces: tuple[PipePiece, ...]
    meter: GasPart | None
    regulators: Regulators | None
    lines: tuple[SiteLine, ...]


def gas_work(house: House, book: PriceBook, generator: Generator) -> GasWork | Blocked:
    """Work out what gas at full load asks of meter, regulator and pipe.

    Parameters
    ----------
    house : House
        Its site says what is there; what it does not say is not asked for.
    book, generator
        What is offered for the site, and the size in question.

    Returns
    -------
    GasWork or Blocked
        Blocked where too little pressure arrives, no meter on offer passes enough, or no pipe
        carries it.
    """
    home = house.home
    gas = (home.site.gas if home.site is not None else None) or GasService()
    rating = generator.ratings[home.fuel]
    needs = ft3_h(rating.fuel.full_load_btu_h, home)
    others = ft3_h(others_input_btu_h(house), home)
    starved = _starved(gas, rating.inlet_in_wc, home.fuel)
    if starved is not None:
        return starved
    meter = _meter(gas, book, needs, others) if home.fuel == "natural gas" else None
    if isinstance(meter, Blocked):
        return meter
    regulators = regulators_of(gas, home, book, needs)
    lines = (*(() if meter is None else
               (SiteLine(f"{meter.label}, installed", meter.installed_usd),)),
             *(() if regulators is None else regulators.lines))
    if not gas.runs:
        return GasWork(needs, others, None, (), meter, regulators, lines)
    piped = _piped(gas, book, home, needs)
    if isinstance(piped, Blocked):
        return piped
    longest_ft, pieces, pipe_lines = piped
    return GasWork(needs, others, longest_ft, pieces, meter, regulators, (*lines, *pipe_lines))


def _starved(gas: GasService, least_in_wc: float | None, fuel: Fuel) -> Blocked | None:
    """Say what would help where less pressure arrives than the generator needs."""
    arriving = arriving_in_wc(gas)
    if arriving is None or least_in_wc is None or meets(least_in_wc, arriving):
        return None
    may_lose = floored(arriving + gas.drop_in_wc - least_in_wc, 0.1)
    who = "propane supplier" if fuel == "propane" else "gas utility"
    remedy = (f'Plan the pipe for a smaller loss: drop = "{may_lose:.1f} inWC" in [site.gas].'
              if may_lose > 0.0 else f"Ask the {who} for more pressure.")
    return Blocked(f"at full load the gas pressure at the generator may fall to {arriving:.3g} "
                   f"inWC, and it needs {least_in_wc:.3g}", remedy)


def _meter(
    gas: GasService, book: PriceBook, needs_ft3_h: float, others_ft3_h: float
) -> GasPart | Blocked | None:
    """The meter that is needed in place of the one that is there."""
    all_ft3_h = needs_ft3_h + others_ft3_h
    if gas.meter_ft3_h is None or gas.meter_ft3_h >= all_ft3_h:
        return None
    larger = [one for one in book.site.meters if one.ft3_h >= all_ft3_h]
    if not larger:
        return Blocked(
            f"the gas meter passes {gas.meter_ft3_h:,.0f} ft³/h, and generator and appliances "
            f"take up to {all_ft3_h:,.0f} ft³/h",
            "Ask the gas utility for a larger meter, and add its price to the price book: "
            "[[meters]].")
    return min(larger, key=lambda one: (one.installed_usd, one.ft3_h, one.id))


MORE_PRESSURE = "Ask for gas at 2 psi, with a regulator at the generator and at each appliance."
Piped = tuple[float, tuple[PipePiece, ...], tuple[SiteLine, ...]]


def _piped(gas: GasService, book: PriceBook, home: Home, needs_ft3_h: float) -> Piped | Blocked:
    """The cheaper of larger pieces in the pipe that is there, and a run of its own."""
    ways = [_larger_pieces(gas, book, home, needs_ft3_h)]
    if len(gas.runs) > 1:
        ways.append(_own_run(gas, book, home.fuel, needs_ft3_h))
    done = [way for way in ways if not isinstance(way, Blocked)]
    if not done:
        return ways[0]
    return min(done, key=lambda way: (usd_of(way[2]), len(way[2])))


def _larger_pieces(
    gas: GasService, book: PriceBook, home: Home, needs_ft3_h: float
) -> Piped | Blocked:
    fuel = home.fuel
    burns = {one.id: ft3_h(one.input_btu_h, home) for one in gas.appliances}
    runs = [GasRun(run.id, run.length_ft, sum(burns.get(one, 0.0) for one in run.appliances)
                   + (needs_ft3_h if run.generator else 0.0), run.fed_from) for run in gas.runs]
    longest_ft, pressure = longest_length_ft(runs), gas.pressure_psi or 0.0
    if longest_ft <= 0.0:
        return 0.0, (), ()
    try:
        sized = size_runs(runs, gas.drop_in_wc, fuel, pressure)
    except ValueError as problem:
        return Blocked(str(problem).rstrip("."), MORE_PRESSURE)
    pieces: list[PipePiece] = []
    for run, one in zip(gas.runs, sized, strict=True):
        there = run.size
        if there is not None:
            carries = sure_ft3_h(there, longest_ft, pressure_psi=pressure,
                                 drop_in_wc=gas.drop_in_wc, gas=fuel)
            if carries >= one.flow_ft3_h:
                pieces.append(PipePiece(run.id, run.length_ft, one.flow_ft3_h, carries, there,
                                        laid=False))
                continue
        pieces.append(PipePiece(run.id, run.length_ft, one.flow_ft3_h, one.capacity_ft3_h,
                                one.size, laid=True))
    return longest_ft, tuple(pieces), _pipe_lines(pieces, book)


def _own_run(gas: GasService, book: PriceBook, fuel: Fuel, needs_ft3_h: float) -> Piped | Blocked:
    """A new run straight from the meter, as long as the way through the pipe that is there."""
    by_id = {run.id: run for run in gas.runs}
    here: PipeRun | None = next((run for run in gas.runs if run.generator), None)
    length_ft = 0.0
    while here is not None:
        length_ft += here.length_ft
        here = by_id.get(here.fed_from) if here.fed_from is not None else None
    pressure = gas.pressure_psi or 0.0
    try:
        size = smallest_pipe(needs_ft3_h, length_ft, gas.drop_in_wc, fuel, pressure)
    except ValueError as problem:
        return Blocked(str(problem).rstrip("."), MORE_PRESSURE)
    carries = sure_ft3_h(size, length_ft, pressure_psi=pressure, drop_in_wc=gas.drop_in_wc,
                         gas=fuel)
    piece = PipePiece("a run of its own", length_ft, needs_ft3_h, carries, size, laid=True)
    return length_ft, (piece,), _pipe_lines([piece], book)


def _pipe_lines(pieces: list[PipePiece], book: PriceBook) -> tuple[SiteLine, ...]:
    prices = {pipe.size: pipe.usd_per_ft for pipe in book.site.pipes}
    laid: dict[str, float] = {}
    for piece in pieces:
        if piece.laid:
            laid[piece.size] = laid.get(piece.size, 0.0) + piece.length_ft
    return tuple(
        SiteLine(f"gas pipe, {size} in, {feet:g} ft",
                 None if size not in prices else feet * prices[size])
        for size, feet in laid.items())
