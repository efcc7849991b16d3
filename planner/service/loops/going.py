"""What a load does where it has room: by the clock, as a store, with its tasks. Compiled."""

from __future__ import annotations

from planner.arrays import Bools, Floats, IntRows
from planner.compiled import compiled
from planner.service.loops.inputs import CLOCK, SLOTS, STORE, TASK, Works
from planner.tolerances import LEVEL

DAY_BEGINS, DAY_ENDS = 28, 88
"""Somebody is up to press a start button from 7 to 22 h (design: a choice, no source) [slot]."""


@compiled
def go(
    i: int, spell: int, room: Bools, works: Works, given: Floats, called: Bools, ran: Floats,
    lost: IntRows,
) -> None:
    """Let load i run wherever it calls and has room.

    Parameters
    ----------
    i, spell : int
    room : (N,)
    works : Works
    given : (N,)
        What the loads ahead in its comfort give; what it gives itself is added.
    called, ran : (N,)
        Filled: whether it called, which share of the slot it ran.
    lost : (M, spell)
        Filled for its tasks.
    """
    for t in range(room.shape[0]):
        called[t] = False
        ran[t] = 0.0
    if works.kind[i] == CLOCK:
        _by_the_clock(i, spell, room, works, called, ran)
    elif works.kind[i] == STORE:
        _as_store(i, spell, room, works, given, called, ran)
    elif works.kind[i] == TASK:
        _its_tasks(i, spell, room, works, called, ran, lost)


@compiled
def _by_the_clock(
    i: int, spell: int, room: Bools, works: Works, called: Bools, ran: Floats
) -> None:
    for day in range(works.can.shape[1] // SLOTS):
        for k in range(spell):
            for s in range(SLOTS):
                if works.can[i, day * SLOTS + s]:
                    t = (day * spell + k) * SLOTS + s
                    called[t] = True
                    if room[t]:
                        ran[t] = 1.0


@compiled
def _as_store(
    i: int, spell: int, room: Bools, works: Works, given: Floats, called: Bools, ran: Floats
) -> None:
    keep: float = works.keep[i]
    full: float = works.full[i]
    for day in range(works.can.shape[1] // SLOTS):
        behind: float = 0.0
        for k in range(spell):
            for s in range(SLOTS):
                p = day * SLOTS + s
                t = (day * spell + k) * SLOTS + s
                behind = max(0.0, keep * behind + works.need[i, p] - given[t])
                gain: float = works.gain[i, p]
                if gain > 0.0 and behind > 0.0 and behind >= works.threshold[i, p] - LEVEL:
                    called[t] = True
                    if room[t]:
                        gave: float = min(gain, behind)
                        ran[t] = gave / gain
                        given[t] += gave
                        behind -= gave
                behind = min(behind, full)


@compiled
def _its_tasks(
    i: int, spell: int, room: Bools, works: Works, called: Bools, ran: Floats, lost: IntRows
) -> None:
    for m in range(works.task_first[i], works.task_first[i + 1]):
        length = works.task_length[m]
        wait = works.task_wait[m]
        pauses = works.task_pauses[m]
        for k in range(spell):
            begin = (works.task_day[m] * spell) * SLOTS
            end = begin + spell * SLOTS
            first = begin + k * SLOTS + works.task_start[m]
            deadline = first + length + max(wait, pauses)
            done = 0
            refused = 0
            begun = False
            gone = False
            t = first
            while t < min(deadline, end) and done < length and not gone:
                hour = t % SLOTS
                asked = True
                if works.button[i] and t > first and not (begun and t > 0 and ran[t - 1] > 0.0):
                    asked = DAY_BEGINS <= hour < DAY_ENDS
                if not begun and t > first + wait:
                    gone = True
                    break
                if asked:
                    called[t] = True
                if asked and room[t]:
                    ran[t] = 1.0
                    begun = True
                    done += 1
                elif begun:
                    refused += 1
                    if refused > pauses:
                        gone = True
                if deadline - (t + 1) < length - done:
                    gone = gone or done < length
                t += 1
            lost[m, k] = 0 if done == length else 1
            if deadline > end and done < length and not gone:
                lost[m, k] = 2


@compiled
def could_be_done(m: int, k: int, spell: int, room: Bools, works: Works) -> bool:
    """Whether some start of task m on day k of the spell leads to its end, wherever it has room."""
    begin = (works.task_day[m] * spell) * SLOTS
    end = begin + spell * SLOTS
    first = begin + k * SLOTS + works.task_start[m]
    length = works.task_length[m]
    pauses = works.task_pauses[m]
    deadline = first + length + max(works.task_wait[m], pauses)
    for start in range(first, first + works.task_wait[m] + 1):
        if start >= end:
            return True
        if not room[start]:
            continue
        done = 0
        refused = 0
        t = start
        while t < deadline and done < length and refused <= pauses:
            if t >= end:
                return True
            if room[t]:
                done += 1
            else:
                refused += 1
            t += 1
        if done == length:
            return True
    return False
