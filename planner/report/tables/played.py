"""A simulated outage as frames: who drew how much when, who waited, what happened.

What each load got, with its comfort, is `planner.report.tables.outage.outage_table`.
"""

from __future__ import annotations

import re
from typing import TypeVar

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from planner.arrays import Bools
from planner.plan.plan import Plan
from planner.report.tables.day import (
    DEMAND_COLUMNS,
    DROPPED,
    NO_POWER,
    REST,
    RUNS,
    STRIP_COLUMNS,
    WAITS,
    merged,
)
from planner.report.tables.plan import load_table
from planner.simulation import events
from planner.simulation.outage import Outage
from planner.simulation.transfer import CARRYING, COOLING, UTILITY

SLOT_MIN = 15
MOST_SLOTS = 400  # 100 hours in slots of 15 min
SPAN_SLOTS = 1500  # a day minute by minute
WIDTHS = (1, 2, 5, 10, 15, 30, 60, 120, 240)

CLOCK = re.compile(r"((?:day \d+ )?\d\d:\d\d:\d\d) (.*)", re.DOTALL)

Number = TypeVar("Number", bound=np.generic)


def demand_frame(outage: Outage) -> pd.DataFrame:
    """Show what every load that ever runs on the generator draws, slot by slot.

    Parameters
    ----------
    outage : Outage
        As it was played.

    Returns
    -------
    pandas.DataFrame, shape (slots * loads, 6)
        ``hour`` (start of the slot, from the loss), ``load`` (label), ``load_id``, ``kw``; and, the
        same for all loads of a slot, ``mean_kw`` of the generator and ``top_kw``, its highest load
        in the slot with starts. Slots are 15 min long, longer beyond 100 h. The load that takes
        most energy stands first.

    Notes
    -----
    Exact: ``mean_kw``, to the single precision in which the outage keeps it and without the extra
    energy of starts; so that the sum of ``kw`` over a slot, which equals it, conserves energy (a
    slot that the outage does not fill counts as zero beyond its end). ``top_kw`` is exact. Shared
    out: the kW of a single load. The outage keeps seconds of running by minute, and energy by load
    for the whole outage, so the mean of a minute is divided in proportion to seconds of running
    times the mean draw of the load while it runs. That is exact for loads whose draw does not
    change while they run, if nothing else that runs in that minute changes its draw.
    """
    found = outage.tally
    width = _width(len(found.mean_kw), MOST_SLOTS, SLOT_MIN)
    draw_kw = 3600.0 * found.kwh / np.maximum(found.run_s, 1.0)
    wanted = found.run_minute * draw_kw[:, None]
    share = wanted / np.maximum(wanted.sum(axis=0), 1e-12)
    kw = _slots(share * found.mean_kw.astype(np.float64), width).mean(axis=2)
    mean_kw = _slots(found.mean_kw[None].astype(np.float64), width).mean(axis=2)[0]
    top_kw = _slots(found.top_kw[None].astype(np.float64), width).max(axis=2)[0]
    energy = kw.sum(axis=1)
    shown = [i for i in np.argsort(-energy, kind="stable") if energy[i] > 0.0]
    slots = kw.shape[1]
    return pd.DataFrame({
        "hour": np.tile(np.arange(slots) * width / 60.0, len(shown)),
        "load": np.repeat([outage.labels[i] for i in shown], slots),
        "load_id": np.repeat([outage.ids[i] for i in shown], slots),
        "kw": kw[shown].ravel(),
        "mean_kw": np.tile(mean_kw, len(shown)),
        "top_kw": np.tile(top_kw, len(shown)),
    }, columns=[*DEMAND_COLUMNS, "mean_kw", "top_kw"])


def strip_frame(plan: Plan, outage: Outage) -> pd.DataFrame:
    """Show each load's outage as spans of one state each.

    Parameters
    ----------
    plan : Plan
        The plan that was played.
    outage : Outage
        As it was played.

    Returns
    -------
    pandas.DataFrame, shape (spans, 5)
        ``load`` (label), ``load_id``, ``start_h``, ``end_h`` (from the loss), ``state``. Loads
        stand as in the table of the plan; the spans of each cover what was played without a gap.

    Notes
    -----
    A minute is ``dropped`` if the log says that the load gives up in it, else ``running`` if it ran
    for any second of it, else ``without power`` if the house is dark at its end or the load is off
    standby power and the utility is away (whether it calls then is not known), else ``waiting`` if
    it waited for any second, else ``not wanted``. Beyond 25 h minutes are taken together, so that
    a load has at most 1,500 spans, by the same rule with any second of the group; dark then means
    dark at the end of all its minutes. The log stops at its capacity; what is given up later shows
    as waiting only.
    """
    found = outage.tally
    minutes = len(found.states)
    width = _width(minutes, SPAN_SLOTS, 1)
    ran = _any(found.run_minute > 0, width)
    waited = _any(found.wait_minute > 0, width)
    states = _slots(found.states[None], width, fill=UTILITY)[0]
    utility = ((states == COOLING) | (states == UTILITY)).any(axis=1)
    dark = ~utility & ~(states == CARRYING).any(axis=1)
    dropped = _any(_given_up(outage, minutes), width)
    ends_h = np.minimum(np.arange(ran.shape[1] + 1) * width * 60, outage.seconds) / 3600.0
    rows: list[tuple[str, str, float, float, str]] = []
    for part in load_table(plan).items:
        i = outage.ids.index(part.id)
        said = np.full(ran.shape[1], REST, dtype=object)
        said[waited[i]] = WAITS
        said[~utility if part.connection == "off" else dark] = NO_POWER
        said[ran[i]] = RUNS
        said[dropped[i]] = DROPPED
        rows += [(part.label, part.id, float(ends_h[first]), float(ends_h[last]), state)
                 for first, last, state in merged(said.tolist())]
    return pd.DataFrame(rows, columns=list(STRIP_COLUMNS))


def event_frame(outage: Outage) -> pd.DataFrame:
    """List what happened.

    Returns
    -------
    pandas.DataFrame, shape (entries, 2)
        ``time`` (time of day, with the day from the second on) and ``sentence``, as
        `Outage.lines` says them; a line without a time has an empty one.
    """
    rows = []
    for line in outage.lines():
        parts = CLOCK.fullmatch(line)
        rows.append(parts.groups() if parts else ("", line))
    return pd.DataFrame(rows, columns=["time", "sentence"])


def _given_up(outage: Outage, minutes: int) -> Bools:
    rows = outage.log.rows[: int(outage.log.written[0])]
    missed = rows[rows[:, 1] == events.MISSED]
    given_up = np.zeros((len(outage.ids), minutes), dtype=np.bool_)
    given_up[missed[:, 2].astype(np.int64), missed[:, 0].astype(np.int64) // 60] = True
    return given_up


def _width(minutes: int, most: int, least: int) -> int:
    """Smallest usual width, in minutes, that makes at most so many slots."""
    return next((one for one in WIDTHS if one >= least and minutes <= one * most), WIDTHS[-1])


def _any(by_minute: Bools, width: int) -> Bools:
    """Tell for every slot whether it is so in any of its minutes."""
    return np.asarray(_slots(by_minute, width).any(axis=2), dtype=np.bool_)


def _slots(by_minute: NDArray[Number], width: int, fill: int = 0) -> NDArray[Number]:
    """Cut rows of minutes into slots: shape (rows, slots, width), filled up at the end."""
    rows, minutes = by_minute.shape
    short = -minutes % width
    filled = np.pad(by_minute, ((0, 0), (0, short)), constant_values=fill)
    return filled.reshape(rows, -1, width)
