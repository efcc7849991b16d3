"""The service rule again, written plainly from its statement: slot by slot, load by load.

Nothing here is shared with the planner's own replay but the facts of the home and the limits.
"""

from __future__ import annotations

from dataclasses import dataclass

EPS = 1e-9


@dataclass
class Outcome:
    """Served calls per load and day, longest wait in slots, or the refusal."""

    refused: bool
    served: dict[str, list[int]]
    longest_wait: dict[str, int]
    coverage: float


def play(house, supply, connection, soft, order):
    """Play connections (id -> word), soft starters (id -> column) and an order of ids."""
    home = house.home
    loads = {load.id: load for load in home.loads}
    place = {load_id: i for i, load_id in enumerate(house.ids)}
    start_kw = {i: float(supply.start_kw[place[i], soft.get(i, 0)]) for i in loads}
    start_kva = {i: float(supply.start_kva[place[i], soft.get(i, 0)]) for i in loads}
    foes = {(a, b) for a in loads for b in loads[a].not_with}
    foes |= {(b, a) for a, b in foes}
    days = len(home.days)
    served = {i: [0] * days for i in loads}
    longest = dict.fromkeys(loads, 0)

    def needed(load_id, seen=()):
        found = {load_id}
        for other in loads[load_id].requires:
            if other not in seen:
                found |= needed(other, (*seen, load_id))
        return found

    def fit(on):
        kw = sum(loads[i].running_kw for i in on)
        legs = [0.0, 0.0]
        for i in on:
            amperes = 1000.0 * loads[i].running_kva / loads[i].volts
            for leg, name in enumerate(("L1", "L2")):
                if loads[i].leg in (name, "both"):
                    legs[leg] += amperes
        return kw <= supply.capacity_kw + EPS and max(legs) <= supply.leg_a + EPS

    for d in range(days):
        calls = {i: [bool(x) for x in house.calls[place[i], 96 * d : 96 * d + 96]] for i in loads}
        queue = {i: [] for i in order}
        for t in range(96):
            on = set()
            for i in loads:
                if connection[i] == "direct" and calls[i][t]:
                    served[i][d] += 1
                    on |= needed(i)
            motors = [i for i in on if start_kva[i] > 0.0]
            kw = sum(loads[i].running_kw for i in on)
            at_once = kw + sum(start_kw[i] - loads[i].running_kw for i in motors)
            if not fit(on) or at_once > supply.short_time_kw + EPS:
                return Outcome(True, served, longest, 0.0)
            if sum(start_kva[i] for i in motors) > supply.startable_kva + EPS:
                return Outcome(True, served, longest, 0.0)
            if any((a, b) in foes for a in on for b in on):
                return Outcome(True, served, longest, 0.0)
            for i in order:
                if calls[i][t]:
                    queue[i].append(t)
                wait = int(loads[i].wait_h * 4 + 1e-9)
                queue[i] = [call for call in queue[i] if t - call <= wait]
                if not queue[i]:
                    continue
                new = on if i in on else on | needed(i)
                if i not in on and not _admitted(i, on, new, loads, start_kw, start_kva, foes, fit,
                                                 supply):
                    continue
                on = set(new)
                call = queue[i].pop(0)
                served[i][d] += 1
                longest[i] = max(longest[i], t - call)
    weights = [day.weight / sum(day.weight for day in home.days) for day in home.days]
    return Outcome(False, served, longest, _coverage(house, loads, connection, served, weights))


def _admitted(i, on, new, loads, start_kw, start_kva, foes, fit, supply):
    added = new - on
    if any((a, b) in foes for a in added for b in on):
        return False
    if any(start_kva[k] > supply.startable_kva + EPS for k in added):
        return False
    kw = sum(loads[k].running_kw for k in new)
    starts = [kw - loads[k].running_kw + start_kw[k] for k in new if start_kva[k] > 0.0]
    return fit(new) and all(start <= supply.short_time_kw + EPS for start in starts)


def _coverage(house, loads, connection, served, weights):
    total = got = 0.0
    for i, load in loads.items():
        rows = house.calls[house.ids.index(i)].reshape(len(weights), 96).sum(axis=1)
        called = sum(w * int(c) for w, c in zip(weights, rows, strict=True))
        if load.must_run or load.importance == 0 or called == 0:
            continue
        total += load.importance
        share = sum(w * s for w, s in zip(weights, served[i], strict=True)) / called
        got += load.importance * (0.0 if connection[i] == "off" else share)
    return got / total if total else 1.0


def keeps_must_run(house, outcome, connection):
    """Whether every must-run load is connected, never waits and misses nothing."""
    for i, load_id in enumerate(house.ids):
        if not house.must_run[i]:
            continue
        rows = house.calls[i].reshape(-1, 96).sum(axis=1)
        if connection[load_id] == "off" or outcome.longest_wait[load_id] > 0:
            return False
        if [int(c) for c in rows] != outcome.served[load_id]:
            return False
    return True
