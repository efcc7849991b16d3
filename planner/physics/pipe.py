"""Gas pipe: what a run carries, and sizes of a tree by the longest-length method."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from planner.physics.pipe_tables import (
    ATMOSPHERE_PSI,
    COMPRESSIBILITY,
    GAS_FACTOR,
    INSIDE_DIAMETER_IN,
    LOW_PRESSURE_PSI,
    PRINTED_FT3_H,
    PRINTED_SIZES,
    SURE_HIGH,
    SURE_LOW,
    USUAL_DROP_IN_WC,
    Gas,
)


@dataclass(frozen=True, slots=True)
class GasRun:
    """One piece of pipe [ft]; `outlet_ft3_h` is taken at its end, beside what it passes on."""

    id: str
    length_ft: float
    outlet_ft3_h: float = 0.0
    fed_from: str | None = None


@dataclass(frozen=True, slots=True)
class SizedRun:
    """A piece of pipe with its flow [ft³/h], nominal size [in] and what that carries [ft³/h]."""

    id: str
    flow_ft3_h: float
    size: str
    capacity_ft3_h: float


def capacity_ft3_h(
    diameter_in: float, length_ft: float, drop_in_wc: float = USUAL_DROP_IN_WC,
    gas: Gas = "natural gas",
) -> float:
    """Give the flow of gas through a pipe at less than 1.5 psi [ft³/h].

    Parameters
    ----------
    diameter_in : float
        Inside diameter, positive [in].
    length_ft : float
        From the meter or regulator to the farthest outlet, with an allowance for fittings; positive
        [ft].
    drop_in_wc : float
        Allowed pressure drop, positive [in w.c.].
    gas : {"natural gas", "propane"}
        Propane undiluted.

    Raises
    ------
    ValueError
        If a size, length or drop is not positive.

    Notes
    -----
    Q = [19.17·D·(ΔH/(Cr·L))^0.206]^(1/0.381).

    References
    ----------
    NFPA 54 and IFGC 402.4 (2018), low-pressure equation (exponents and Cr from memory).
    """
    if min(diameter_in, length_ft, drop_in_wc) <= 0.0:
        msg = (f"Need positive diameter, length and drop; got {diameter_in:g} in, "
               f"{length_ft:g} ft, {drop_in_wc:g} in w.c.")
        raise ValueError(msg)
    slope: float = (drop_in_wc / (GAS_FACTOR[gas] * length_ft)) ** 0.206
    flow: float = (19.17 * diameter_in * slope) ** (1.0 / 0.381)
    return flow


def high_pressure_ft3_h(
    diameter_in: float, length_ft: float, start_psi: float, end_psi: float,
    gas: Gas = "natural gas",
) -> float:
    """Give the flow of gas through a pipe at 1.5 psi and above [ft³/h].

    Parameters
    ----------
    diameter_in, length_ft : float
        Inside diameter, positive [in]; length with an allowance for fittings, positive [ft].
    start_psi, end_psi : float
        Pressure at the start and at the end of the pipe, above that of the air [psi].
    gas : {"natural gas", "propane"}
        Propane undiluted.

    Raises
    ------
    ValueError
        If a size or a length is not positive, or the pressure does not fall.

    Notes
    -----
    Q = [18.93·D·((P1² − P2²)·Y/(Cr·L))^0.206]^(1/0.381), P absolute. The printed table for 2 psi
    lies up to 12 % below it in short, wide pipe.

    References
    ----------
    NFPA 54 and IFGC 402.4 (2018), high-pressure equation (from memory).
    """
    if min(diameter_in, length_ft) <= 0.0 or not start_psi > end_psi >= 0.0:
        msg = (f"Need positive diameter and length and a pressure that falls; got "
               f"{diameter_in:g} in, {length_ft:g} ft, {start_psi:g} to {end_psi:g} psi.")
        raise ValueError(msg)
    square = (start_psi + ATMOSPHERE_PSI) ** 2 - (end_psi + ATMOSPHERE_PSI) ** 2
    slope: float = (square * COMPRESSIBILITY[gas] / (GAS_FACTOR[gas] * length_ft)) ** 0.206
    flow: float = (18.93 * diameter_in * slope) ** (1.0 / 0.381)
    return flow


def sure_ft3_h(
    size: str, length_ft: float, *, pressure_psi: float = 0.0,
    drop_in_wc: float = USUAL_DROP_IN_WC, gas: Gas = "natural gas",
) -> float:
    """Give what a size carries for sure: no more than a printed table says [ft³/h].

    Parameters
    ----------
    size : str
        Nominal size of Schedule 40 steel pipe [in].
    length_ft : float
        To the farthest outlet [ft]; positive.
    pressure_psi : float
        At the start of the pipe; below `LOW_PRESSURE_PSI` the drop counts, above it half of the
        pressure may be lost (a choice) and a regulator stands at the end.
    drop_in_wc, gas
        Allowed drop [in w.c.]; which gas.

    Raises
    ------
    ValueError
        If the size is unknown, or length or drop is not positive.

    Notes
    -----
    The printed row that is not shorter, where there is one; else the equation times `SURE_LOW` or
    `SURE_HIGH`.

    References
    ----------
    NFPA 54 and IFGC 402.4 (2018), see `PRINTED_FT3_H`, `capacity_ft3_h`, `high_pressure_ft3_h`.
    """
    if size not in INSIDE_DIAMETER_IN:
        msg = f"No pipe of {size!r} in: {', '.join(INSIDE_DIAMETER_IN)}."
        raise ValueError(msg)
    diameter_in = INSIDE_DIAMETER_IN[size]
    if pressure_psi >= LOW_PRESSURE_PSI:
        return SURE_HIGH * high_pressure_ft3_h(diameter_in, length_ft, pressure_psi,
                                               pressure_psi / 2.0, gas)
    equation_ft3_h = SURE_LOW * capacity_ft3_h(diameter_in, length_ft, drop_in_wc, gas)
    is_printed = (gas == "natural gas" and drop_in_wc == USUAL_DROP_IN_WC
                  and size in PRINTED_SIZES)
    row = next((row for feet, row in PRINTED_FT3_H.items() if feet >= length_ft), None)
    if not is_printed or row is None:
        return equation_ft3_h
    return float(row[PRINTED_SIZES.index(size)])


def smallest_pipe(
    flow_ft3_h: float, length_ft: float, drop_in_wc: float = USUAL_DROP_IN_WC,
    gas: Gas = "natural gas", pressure_psi: float = 0.0,
) -> str:
    """Find the smallest Schedule 40 size that carries a flow, by its nominal size [in].

    Parameters
    ----------
    flow_ft3_h : float
        Flow of gas [ft³/h].
    length_ft, drop_in_wc, gas, pressure_psi
        As in `sure_ft3_h`, which says what a size carries.

    Raises
    ------
    ValueError
        If 4 in is too small, or length or drop is not positive.

    References
    ----------
    As `sure_ft3_h`.
    """
    for size in INSIDE_DIAMETER_IN:
        if sure_ft3_h(size, length_ft, pressure_psi=pressure_psi, drop_in_wc=drop_in_wc,
                      gas=gas) >= flow_ft3_h:
            return size
    msg = (f"No pipe up to 4 in carries {flow_ft3_h:,.0f} ft³/h over {length_ft:g} ft at "
           f"{drop_in_wc:g} in w.c.; raise the pressure.")
    raise ValueError(msg)


def longest_length_ft(runs: Iterable[GasRun]) -> float:
    """Give the length from the source to the farthest outlet [ft].

    Parameters
    ----------
    runs : iterable of GasRun
        Pieces of the tree; none of them: 0 ft.

    Raises
    ------
    ValueError
        If a run is fed from one that does not exist, or from itself in a circle.

    References
    ----------
    NFPA 54, 6.1.1; UPC 1316.1.1 (editions of the copies not noted).
    """
    by_id = {run.id: run for run in runs}
    return max((sum(part.length_ft for part in _path(by_id, run)) for run in by_id.values()),
               default=0.0)


def size_runs(
    runs: Iterable[GasRun], drop_in_wc: float = USUAL_DROP_IN_WC, gas: Gas = "natural gas",
    pressure_psi: float = 0.0,
) -> tuple[SizedRun, ...]:
    """Size every piece of a tree of pipe by the longest-length method.

    Every piece is sized for its own flow and the length from the source to the farthest outlet.

    Parameters
    ----------
    runs : iterable of GasRun
        Pieces of the tree; the first has no `fed_from`.
    drop_in_wc, gas, pressure_psi
        As in `sure_ft3_h`; the drop is that to the farthest outlet [in w.c.] [psi].

    Returns
    -------
    tuple of SizedRun
        In the order given.

    Raises
    ------
    ValueError
        If the tree is broken, has no length, or 4 in is too small.

    References
    ----------
    NFPA 54, 6.1.1; UPC 1316.1.1 (editions of the copies not noted).
    """
    pieces = list(runs)
    by_id = {run.id: run for run in pieces}
    length_ft = longest_length_ft(pieces)
    flow_ft3_h = dict.fromkeys(by_id, 0.0)
    for run in pieces:
        for part in _path(by_id, run):
            flow_ft3_h[part.id] += run.outlet_ft3_h
    sized = []
    for run in pieces:
        size = smallest_pipe(flow_ft3_h[run.id], length_ft, drop_in_wc, gas, pressure_psi)
        carried = sure_ft3_h(size, length_ft, pressure_psi=pressure_psi, drop_in_wc=drop_in_wc,
                             gas=gas)
        sized.append(SizedRun(run.id, flow_ft3_h[run.id], size, carried))
    return tuple(sized)


def _path(by_id: Mapping[str, GasRun], run: GasRun) -> list[GasRun]:
    path = [run]
    while path[-1].fed_from is not None:
        feeder = by_id.get(path[-1].fed_from)
        if feeder is None:
            msg = f"Gas run {path[-1].id} is fed from {path[-1].fed_from}, which does not exist."
            raise ValueError(msg)
        if feeder in path:
            msg = f"Gas run {feeder.id} feeds itself in a circle."
            raise ValueError(msg)
        path.append(feeder)
    return path
