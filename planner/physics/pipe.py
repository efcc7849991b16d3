"""Low-pressure gas pipe: capacity of a run, and sizes of a tree by the longest-length method."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal

Gas = Literal["natural gas", "propane"]

GAS_FACTOR: Mapping[Gas, float] = {"natural gas": 0.6094, "propane": 1.2462}
"""Cr of NFPA 54 and IFGC 402.4 (2018) for specific gravity 0.60 and 1.50 (from memory)."""

INSIDE_DIAMETER_IN: Mapping[str, float] = {
    "1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610, "2": 2.067,
    "2-1/2": 2.469, "3": 3.068, "4": 4.026,
}
"""Schedule 40 steel pipe, inside diameter [in] by nominal size [in] (IFGC 2018, Tables 402.4(2) to
(5); above 2 in ASME B36.10, from memory)."""

USUAL_DROP_IN_WC = 0.5
"""Pressure drop of IFGC 2018 Table 402.4(2) [in w.c.]."""


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


def smallest_pipe(
    flow_ft3_h: float, length_ft: float, drop_in_wc: float = USUAL_DROP_IN_WC,
    gas: Gas = "natural gas",
) -> str:
    """Find the smallest Schedule 40 size that carries a flow, by its nominal size [in].

    Parameters
    ----------
    flow_ft3_h : float
        Flow of gas [ft³/h].
    length_ft, drop_in_wc, gas
        To the farthest outlet [ft]; allowed drop [in w.c.]; which gas.

    Raises
    ------
    ValueError
        If 4 in is too small, or length or drop is not positive.

    References
    ----------
    As `capacity_ft3_h`.
    """
    for size, diameter_in in INSIDE_DIAMETER_IN.items():
        if capacity_ft3_h(diameter_in, length_ft, drop_in_wc, gas) >= flow_ft3_h:
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
    runs: Iterable[GasRun], drop_in_wc: float = USUAL_DROP_IN_WC, gas: Gas = "natural gas"
) -> tuple[SizedRun, ...]:
    """Size every piece of a tree of pipe by the longest-length method.

    Every piece is sized for its own flow and the length from the source to the farthest outlet.

    Parameters
    ----------
    runs : iterable of GasRun
        Pieces of the tree; the first has no `fed_from`.
    drop_in_wc, gas
        Allowed drop to the farthest outlet [in w.c.]; which gas.

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
        size = smallest_pipe(flow_ft3_h[run.id], length_ft, drop_in_wc, gas)
        carried = capacity_ft3_h(INSIDE_DIAMETER_IN[size], length_ft, drop_in_wc, gas)
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
