"""Random homes whose loads fall into groups that never call in the same slots; invented throughout.

Each group has hours of its own, with a gap before the next one's. What keeps a group to its hours
is held by `tests.oracle.groups`; here it is made so that it can:

- lights, work and a car have their hours from their events; the base is constant, and must run;
- a tank, a pump, a pit or a room can call at any hour once it has a need: only the last group of a
  day has one, its need begins there, and it is never always connected (rule 1 counts it all day).
  Standing losses of a tank alone never make it call: its element is large;
- a day's energy is bound either by nothing (a permitted average of 1), or is added up;
- the calculated load of everything is carried by every size.
"""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import dataclass, replace
from functools import cache
from math import factorial

from planner.facts.comfort import Comfort, Promise
from planner.facts.home import CodeEntry, DesignDay, Home, Limits, Load, Panel, SurgeStep, Use
from planner.facts.price_book import Controller, PriceBook, Transfer
from tests.homes import base, home, load, with_comforts
from tests.oracle.market import choices_of
from tests.oracle.wild import wild_book

DAYS = (DesignDay("hot", "hot day", "summer", 2.0, 70.0, 100.0),
        DesignDay("cold", "cold day", "winter", 1.0, 20.0, 40.0))
FOUR = ((4, 24), (28, 44), (48, 60), (64, 96))
THREE = ((2, 26), (30, 42), (46, 96))
SIZES_KW = ((5.0, 7.0, 10.0), (6.0, 10.0, 14.0), (6.0, 9.0, 13.0), (5.0, 6.5, 8.0, 11.0))
WHOLE, SELECTED = "whole-house", "selected-circuits"
KINDS = ((WHOLE,), (WHOLE, SELECTED), (SELECTED,), (WHOLE, SELECTED), (SELECTED,), (WHOLE,),
         (WHOLE, SELECTED), (SELECTED,))
ONE_MODULE = (4, 5)  # settings of the largest homes: one module, and it senses calls
MODULES = ((2, 100.0), (5, 200.0), (9, 280.0), (14, 390.0), (20, 480.0))
POSITIONS = (8, 14, 20, 28, 40)
WISHED = 4  # promises and must-haves only in groups of no more loads
NOON = 48
MOST_PLAYS = 1500  # of a group by full enumeration, on one generator


@dataclass(frozen=True)
class Setting:
    """What the groups of a home share: the house without its loads, the book, the hours.

    `energy_binds`: the permitted average may refuse what the hours of each group allow.
    """

    number: int
    home: Home
    book: PriceBook
    windows: tuple[tuple[int, int], ...]
    energy_binds: bool


@dataclass(frozen=True)
class Group:
    """Loads that call in the same hours, their comforts, and wishes about their order."""

    loads: tuple[Load, ...]
    comforts: tuple[Comfort, ...] = ()
    never_before: tuple[tuple[str, str], ...] = ()


@cache
def setting(number):
    """Make a house and a price book; same number, same setting."""
    rng = random.Random(f"setting {number}")
    energy_binds = number % 4 == 3
    kinds = KINDS[number % len(KINDS)]
    two_nights = number % 6 == 4 and not energy_binds
    days = DAYS if number % 3 == 1 else DAYS[:1]
    sizes = wild_book(f"apart {number}", SIZES_KW[number % 4])
    if number % len(KINDS) in ONE_MODULE:
        sizes = replace(sizes, modules=(replace(sizes.modules[-1], senses="call"),))
    average = rng.choice([0.4, 0.45, 0.5]) if energy_binds else 1.0
    panels = tuple(Transfer(f"panel-{n}", f"{n} positions", "selected-circuits", 60.0, n,
                            200.0 + 40.0 * n, 100.0) for n in POSITIONS)
    sizes = replace(
        sizes, transfers=(*sizes.transfers, *panels),
        generators=tuple(replace(one, permitted_average=average) for one in sizes.generators),
        controllers=tuple(Controller(f"controller-{n}", f"controller for {n}", n, usd, 0.0)
                          for n, usd in MODULES))
    one = home(
        base(round(rng.uniform(0.2, 0.6), 2), must_run=True), days=days,
        spell_days=2 if two_nights else 1,
        panels=(Panel("main", 200.0), Panel("sub", rng.choice([25.0, 40.0]), "main")),
        limits=Limits(rng.choice([0.25, 0.35]), rng.choice([1.0, 0.9])),
        order_rule="importance" if rng.random() < 0.2 else "free",
        transfer_kinds=frozenset(kinds))
    return Setting(number, one, sizes, (FOUR, THREE)[number % 2], energy_binds)


@cache
def group(number, window, size, variant=0):
    """Make a group of `size` loads for one of the windows of a setting."""
    where = setting(number)
    rng = random.Random(f"group {number} {window} {size} {variant}")
    hours = where.windows[window]
    last = window == len(where.windows) - 1 and where.home.spell_days == 1
    sorts = ["clock", "clock", "task", "task", "task", "pair"]
    if hours[1] - hours[0] >= 20:
        sorts += ["car"]
    if last:
        sorts += ["tank", "pressure", "pit", *(["room"] if hours[0] < NOON else [])]
    loads, once = [], Counter()
    while len(loads) < size:
        sort = rng.choice(sorts)
        if (sort == "pair" and len(loads) == size - 1) or (
                once[sort] and sort not in {"clock", "task"}):
            continue
        once[sort] += 1
        loads += MAKERS[sort](rng, f"g{window}-{variant}-{len(loads)}", hours)
    one = with_comforts(replace(where.home, loads=tuple(_fewer(where, loads))))
    mine = one.loads
    ids = [ld.id for ld in mine]
    never = () if one.order_rule == "importance" or rng.random() < 0.7 else (
        tuple(sorted(rng.sample(ids, 2), reverse=True)),)
    wished = [_wished(rng, each) if size <= WISHED else each for each in one.comforts]
    return Group(mine, tuple(wished), never)


def home_of(number, groups):
    """Put groups into the house of a setting; a must-run comfort makes its first load must-run."""
    where = setting(number)
    comforts = tuple(one for each in groups for one in each.comforts)
    first = {one.loads[0] for one in comforts if one.must_run}
    loads = [replace(ld, must_run=ld.id in first) for each in groups for ld in each.loads]
    return replace(where.home, loads=(*where.home.loads, *loads), comforts=comforts,
                   never_before=tuple(pair for each in groups for pair in each.never_before))


def _fewer(where, loads):
    """Take choices away, from the last load on, until full enumeration can be afforded."""
    loads = list(loads)
    kind = min(where.home.transfer_kinds)
    for i in reversed(range(len(loads))):
        if plays(loads, where.book, kind) <= MOST_PLAYS:
            break
        loads[i] = replace(loads[i], allowed=frozenset({"module"}), soft_start_fits=False,
                           importance=max(1, loads[i].importance), restarts="by itself",
                           starting_kva=min(loads[i].starting_kva, 1.5 * loads[i].running_kva))
    return loads


def plays(loads, book, kind):
    """Count connections, soft starters and orders of some loads."""
    ways = {0: 1}
    for ld in loads:
        found = Counter()
        for how, _ in {(how, soft and soft.id) for how, soft, *_ in choices_of(ld, book, kind)}:
            for modules, count in ways.items():
                found[modules + (how == "module")] += count
        ways = found
    return sum(count * factorial(modules) for modules, count in ways.items())


def _draw(rng, name, **changes):
    """A load of random draw, leg and panel, motor or not, and what may be done with it."""
    kw = changes.pop("kw", round(rng.uniform(0.8, 3.6), 2))
    kva = round(kw * rng.choice([1.0, 1.1]), 3)
    importance = changes.pop("importance", rng.choice([0, 1, 2, 3, 4, 5, 5]))
    allowed = set(rng.choice([("module",), ("direct", "module"), ("module", "off"),
                              ("direct", "module", "off")]))
    if not importance:
        allowed |= {"off", "by hand"}
    plain = {
        "importance": importance, "allowed": frozenset(allowed), "running_kva": kva,
        "leg": rng.choice(["both", "both", "L1", "L2"]),
        "panel": rng.choice(["main", "main", "main", "sub"]),
        "code": CodeEntry("appliance", 20.0 * kw),
    }
    if rng.random() < 0.3:
        soft = rng.random() < 0.75
        start_kva = round(kva * (rng.uniform(2.5, 5.0) if soft else rng.uniform(1.5, 2.5)), 2)
        plain |= {"starting_kva": start_kva, "soft_start_fits": soft,
                  "motor_hp": 1.0, "starting_pf": rng.choice([0.5, 0.7]),
                  "surge": (SurgeStep(rng.choice([0.3, 0.5]), start_kva / 2, start_kva),)}
    return load(name, kw, **plain | changes)


def _event(rng, hours, most, spare=0):
    """An event of one to `most` slots that ends, with what it may be late, within the hours."""
    first, last = hours
    crowd = first + max(1, (last - first - spare) // 3)
    count = min(rng.randrange(1, most + 1), last - first - spare)
    start = rng.randrange(first, max(first + 1, min(crowd, last - count - spare + 1)))
    return start, count


def _clock(rng, name, hours):
    start, count = _event(rng, hours, 8)
    later = start + count + rng.randrange(1, 4)
    found = [(start, count)]
    if later + 2 <= hours[1] and rng.random() < 0.4:
        found.append((later, 2))
    if sum(n for _, n in found) < 4:  # so little of it would not count
        found = [(start, min(4, hours[1] - start))]
    return [_draw(rng, name, use=_use(found))]


def _task(rng, name, hours, **changes):
    wait = rng.choice([0, 1, 2, 4, 8])
    pauses = rng.choice([0, 0, 1, wait])
    found = [_event(rng, hours, 6, max(wait, pauses))]
    restarts = rng.choice([*["by itself"] * 6, "start button", "must not"])
    one = _draw(rng, name, nature="task", wait_h=wait / 4.0, pause_slots=pauses,
                restarts=restarts, use=_use(found), **changes)
    if restarts == "must not":
        one = replace(one, pause_slots=0, allowed=(one.allowed - {"module"}) | {"direct"})
    return [one]


def _pair(rng, name, hours):
    """Two pieces of work for one comfort."""
    importance = rng.randrange(1, 6)
    both = [_task(rng, f"{name}{end}", hours, importance=importance)[0] for end in "ab"]
    return [replace(one, comfort=f"{name}-pair", restarts="by itself",
                    allowed=one.allowed | {"module"}) for one in both]


def _car(rng, name, hours):
    kw = rng.choice([7.2, 9.6])
    count = hours[1] - hours[0] - 6
    return [_draw(rng, name, kw=kw, leg="both", panel="main", nature="battery", wait_h=1.0,
                  importance=rng.randrange(1, 6), use=_use([(hours[0] + rng.randrange(0, 3),
                                                             min(count, 22))]))]


def _store(rng, name, **changes):
    """What can call at any hour: never always connected, never left to be opened by hand."""
    one = _draw(rng, name, importance=rng.randrange(1, 6), **changes)
    return [replace(one, allowed=rng.choice([frozenset({"module"}),
                                             frozenset({"module", "off"})]))]


def _tank(rng, name, hours):
    duty = [0.0] * 24
    for hour in range(-(-hours[0] // 4) + 1, 22):
        duty[hour] = rng.choice([0.2, 0.5, 0.9])
    return _store(rng, name, kw=rng.choice([7.5, 8.2]), nature="tank", leg="both", panel="main",
                  starting_kva=0.0, use={"every": Use(kind="duty", hours=tuple(duty))})


def _room(rng, name, hours):
    del hours
    use = Use(kind="cooling", balance_degf=rng.choice([91.0, 92.0]), design_degf=98.0,
              full_duty=rng.choice([0.6, 0.8, 1.0]))
    return _store(rng, name, nature="room", compressor=True, room=f"{name}-room",
                  use={"summer": use})


def _wet(rng, name, hours, nature):
    duty = [0.0] * 24
    for hour in rng.sample(range(-(-hours[0] // 4) + 1, 22), 3):
        duty[hour] = rng.choice([0.1, 0.2, 0.5])
    return _store(rng, name, kw=round(rng.uniform(0.6, 2.0), 2), nature=nature,
                  use={"every": Use(kind="duty", hours=tuple(duty))})


MAKERS = {
    "clock": _clock, "task": _task, "pair": _pair, "car": _car, "tank": _tank, "room": _room,
    "pressure": lambda rng, name, hours: _wet(rng, name, hours, "pressure"),
    "pit": lambda rng, name, hours: _wet(rng, name, hours, "pit"),
}


def _use(slots):
    return {"every": Use(kind="events", events=tuple((s / 4.0, n / 4.0) for s, n in slots))}


def _wished(rng, comfort):
    """Some are promised, some must run, and rooms drift at different rates."""
    promises = {"task": Promise(uncut=True), "meals": Promise(uncut=True),
                "hot water": Promise(cold_showers=2.0), "car": Promise(miles=80.0)}
    wish = promises.get(comfort.kind) if rng.random() < 0.1 else None
    return replace(comfort, promise=wish, must_run=comfort.importance > 0 and rng.random() < 0.05,
                   time_constant_h=rng.choice([1.5, 3.0]))
