"""Rules 3 to 5 while orders are walked: starts that nobody announced, average, fuel. Compiled."""

from __future__ import annotations

from planner.compiled import compiled
from planner.search.loops.inputs import REFUSED, Asked, Inputs, Space
from planner.service.loops.inputs import CLOCK, OFF, SLOTS, STORE, TASK, Power, State
from planner.tolerances import LEVEL, LIMIT


@compiled
def list_onsets(i: int, length: int, state: State, space: Space) -> None:
    """List the slots in which load i calls after it did not."""
    count = 0
    for t in range(space.kw.shape[0]):
        if state.called[i, t] and (t % length == 0 or not state.called[i, t - 1]):
            space.onset[i, count] = t
            count += 1
    space.onsets[i] = count


@compiled
def is_picked_up(
    i: int, t: int, inputs: Inputs, power: Power, state: State, space: Space
) -> bool:
    """Rule 3 for a load that starts unannounced in slot t, beside the counted ones that are on."""
    wiring = inputs.wiring
    day = t // (wiring.spell * SLOTS)
    looks_back = t % (wiring.spell * SLOTS) > 0
    now: float = space.kw[t]
    earlier: float = 0.0
    if looks_back:
        earlier = space.kw[t - 1]
    start_kw: float = 0.0
    start_kva: float = 0.0
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[i, a]
        if k < 0:
            break
        start_kw += power.begins_kw[day, k]
        start_kva += power.start_kva[k]
        if state.share[k, t] > 0.0:
            now -= wiring.weighed[day, k]
        if looks_back and state.share[k, t - 1] > 0.0:
            earlier -= wiring.weighed[day, k]
    if (start_kva <= power.pick_kva + LIMIT
            and max(now, earlier) + start_kw <= power.pick_kw + LIMIT):
        return True
    for a in range(wiring.needs.shape[1]):
        k = wiring.needs[i, a]
        if k < 0:
            break
        space.decided[k] = True
    return False


@compiled
def is_in_bounds(last: int, inputs: Inputs, asked: Asked, power: Power, state: State, space: Space
                 ) -> bool:
    """Rules 3 to 5 for what is on of the counted loads; notes it where they are not kept.

    Rules 4 and 5 on the days that were touched, rule 3 where slots were stirred, and for the load
    that was placed last (-1: none was). A load that waits surely calls in some slots, too.
    """
    space.at[REFUSED] += 1
    for day in range(space.touched.shape[0]):
        if not space.touched[day]:
            continue
        total: float = 0.0
        burnt: float = 0.0
        for t in range(day * SLOTS, day * SLOTS + SLOTS):
            total += max(space.mean_kw[t], power.floor_kw)
            burnt += space.mean_kw[t]
        if total / SLOTS > power.average_kw + LIMIT:
            return False
        if burnt / SLOTS > power.fuel_kw[day // inputs.wiring.spell] + LIMIT:
            return False
    for i in range(asked.watched.shape[0]):
        if not asked.watched[i] or asked.how[i] == OFF:
            continue
        if space.waits[i]:
            for e in range(space.sure_onsets[i]):
                t = space.sure_onset[i, e]
                if (space.stirred[t] or (t > 0 and space.stirred[t - 1])) and not is_picked_up(
                        i, t, inputs, power, state, space):
                    return False
        else:
            for e in range(space.onsets[i]):
                t = space.onset[i, e]
                if (i == last or space.stirred[t] or (t > 0 and space.stirred[t - 1])
                        ) and not is_picked_up(i, t, inputs, power, state, space):
                    return False
    space.at[REFUSED] -= 1
    return True


@compiled
def list_sure_onsets(i: int, inputs: Inputs, space: Space) -> None:
    """List the slots in which load i, which waits, will call after it did not, whatever comes.

    A clock load by its clock; a task in its first slot; a store first when its deviation, which
    nothing has helped until then, has come to its threshold (where none stands ahead of it).
    """
    works = inputs.works
    spell = inputs.wiring.spell
    count = 0
    c = works.comfort[i]
    for day in range(works.can.shape[1] // SLOTS):
        first = day * spell * SLOTS
        if works.kind[i] == CLOCK:
            for k in range(spell):
                for s in range(SLOTS):
                    t = first + k * SLOTS + s
                    before = (s + SLOTS - 1) % SLOTS
                    if works.can[i, day * SLOTS + s] and (
                            t == first or not works.can[i, day * SLOTS + before]):
                        space.sure_onset[i, count] = t
                        count += 1
        elif works.kind[i] == TASK:
            for m in range(works.task_first[i], works.task_first[i + 1]):
                s = works.task_start[m]
                before = (s + SLOTS - 1) % SLOTS
                if works.task_day[m] == day and (
                        s == 0 or not works.can[i, day * SLOTS + before]):
                    for k in range(spell):
                        if s > 0 or k == 0:
                            space.sure_onset[i, count] = first + k * SLOTS + s
                            count += 1
        elif works.kind[i] == STORE and c >= 0 and inputs.cares.load[
                inputs.cares.load_first[c]] == i:
            behind: float = 0.0
            for n in range(spell * SLOTS):
                p = day * SLOTS + n % SLOTS
                behind = works.keep[i] * behind + works.need[i, p]
                if works.gain[i, p] > 0.0 and behind > 0.0 and (
                        behind >= works.threshold[i, p] - LEVEL):
                    space.sure_onset[i, count] = first + n
                    count += 1
                    break
                behind = min(behind, works.full[i])
    space.sure_onsets[i] = count
