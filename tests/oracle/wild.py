"""Random homes and price books in which every corner of the rule turns up; invented throughout."""

from __future__ import annotations

import random
from dataclasses import replace
from itertools import pairwise

from planner.facts.comfort import Promise
from planner.facts.home import CodeEntry, DesignDay, Limits, Panel, SurgeStep, Use
from planner.facts.price_book import Module, SoftStarter
from tests.homes import USUAL_LOSS, base, book, generator, home, load

HOT, COLD = "summer", "winter"
SORTS = ("clock", "clock", "task", "task", "task", "room", "room", "tank", "car", "box", "pit",
         "pressure", "pair", "blower")


def wild_home(seed, size):
    """A home of `size` loads besides its base; same seed, same home.

    One or two days, a spell of one to three; stores of every kind, rooms of one or two stages,
    tasks that wait, pause or want a start button, shared comforts, promises, must-run loads, loads
    that wake or exclude others, wishes about the order, a sub-panel that can be overloaded.
    """
    rng = random.Random(f"wild {seed}")
    loads = [base(round(rng.uniform(0.1, 0.8), 2))]
    while len(loads) <= size:
        sort = rng.choice(SORTS)
        if sort not in TWO or len(loads) < size:
            loads += MAKERS[sort](rng, len(loads))
    _relate(rng, loads)
    days = [DesignDay("hot", "hot day", HOT, rng.choice([1.0, 3.0]), 70.0,
                      rng.choice([92.0, 104.0])),
            DesignDay("cold", "cold day", COLD, 1.0, rng.choice([0.0, 20.0]), 40.0)]
    rng.shuffle(days)
    by_importance = rng.random() < 0.2
    one = home(
        *loads, days=tuple(days[:rng.choice([1, 1, 2])]), spell_days=rng.choice([1, 2, 2, 3]),
        altitude_ft=rng.choice([0.0, 0.0, 6000.0]), summer_degf=rng.choice([80.0, 105.0]),
        fuel=rng.choice(["natural gas", "propane"]),
        panels=(Panel("main", 200.0), Panel("sub", rng.choice([20.0, 30.0, 60.0]), "main")),
        limits=Limits(rng.choice([0.15, 0.25, 0.35]), rng.choice([1.0, 0.9, 0.8])),
        order_rule="importance" if by_importance else "free")
    if rng.random() < 0.2:
        one = replace(one, transfer_kinds=frozenset({"whole-house", "selected-circuits"}))
    one = replace(one, comforts=tuple(_wished(rng, each) for each in one.comforts))
    first = {each.loads[0] for each in one.comforts if each.must_run}
    ids = [ld.id for ld in one.loads]
    wishes = [(b, a) for a, b in pairwise(ids[1:]) if rng.random() < 0.12]
    return replace(
        one, never_before=() if by_importance else tuple(wishes),
        loads=tuple(replace(ld, must_run=ld.id in first) for ld in one.loads))


def _draw(rng, number, **changes):
    """A load of random draw, leg and panel, motor or not, and what may be done with it."""
    kw = round(rng.uniform(0.4, 4.0), 2)
    kva = round(kw * rng.choice([1.0, 1.1, 1.25]), 3)
    importance = rng.choice([0, 0, 1, 2, 3, 4, 5])
    allowed = set(rng.choice([("direct", "module"), ("direct", "module", "off"), ("module",),
                              ("direct", "module", "off")]))
    if not importance:
        allowed |= {"off", "by hand"}
    plain = {
        "importance": importance, "allowed": frozenset(allowed),
        "leg": rng.choice(["both", "both", "L1", "L2"]),
        "panel": rng.choice(["main", "main", "main", "sub"]), "running_kva": kva,
    }
    if rng.random() < 0.35:
        start_kva = round(kva * rng.uniform(1.5, 4.0), 2)
        plain |= {"starting_kva": start_kva, "soft_start_fits": rng.random() < 0.8,
                  "motor_hp": 1.0, "starting_pf": rng.choice([0.5, 0.7]),
                  "surge": (SurgeStep(rng.choice([0.3, 0.5, 0.8]), start_kva / 2, start_kva),)}
    if rng.random() < 0.2:
        plain["by_day"] = {"cold": (0.8 * kw, 0.8 * kva)}
    element = number % 3 == 2  # it relieves an engine that is pulled down, unlike electronics
    plain |= {"code": CodeEntry("cooking" if element else "appliance", 400.0 * kw)} | changes
    return load(f"load-{number}", kw, **plain)


def _clock(rng, number):
    uses = {key: rng.choice([_hours(rng), _events(rng, 0)])
            for key in rng.choice([("every",), (HOT, "cold")])}
    return [_draw(rng, number, use=uses)]


def _hours(rng):
    return Use(kind="duty", hours=tuple(round(rng.random(), 2) for _ in range(24)),
               offset_slots=rng.randrange(0, 3))


def _events(rng, spare):
    """One to three events that crowd into the same hours, `spare` slots apart round the clock."""
    found = []
    for _ in range(rng.randrange(1, 4)):
        start, count = rng.randrange(56, 96), rng.randrange(1, 9)
        apart = all(start + count + spare <= s or s + n + spare <= start for s, n in found)
        wraps = all(start + count + spare <= 96 + s and s + n + spare <= 96 + start
                    for s, n in found)
        if apart and wraps and start + count <= 96:
            found.append((start, count))
    return Use(kind="events", events=tuple((s / 4.0, n / 4.0) for s, n in found or [(72, 2)]))


def _task(rng, number, **changes):
    wait_h = rng.choice([0.0, 0.25, 0.5, 1.0, 3.0, 12.0])
    wait = int(4 * wait_h)
    pauses = rng.choice([0, 0, 1, wait, wait])
    restarts = rng.choice(["by itself", "by itself", "start button", "must not"])
    one = _draw(rng, number, nature="task", wait_h=wait_h, pause_slots=pauses, restarts=restarts,
                use={"every": _events(rng, max(wait, pauses))}, **changes)
    if restarts == "must not":
        one = replace(one, pause_slots=0, allowed=(one.allowed - {"module"}) | {"direct"})
    return [one]


def _pair(rng, number):
    """Two loads that serve one comfort: meals, pieces of work or what is wanted by the hour."""
    make = rng.choice([_task, _clock])
    both = [make(rng, number + n)[0] for n in range(2)]
    importance = max(one.importance for one in both)
    allowed = frozenset({"direct", "module", "off"} | ({"by hand"} if not importance else set()))
    return [replace(one, comfort=f"pair-{number}", importance=importance,
                    allowed=one.allowed if one.restarts == "must not" else allowed)
            for one in both]


def _thermal(rng, kind):
    return Use(kind=kind, balance_degf=rng.choice([60.0, 65.0, 72.0]),
               design_degf=95.0 if kind == "cooling" else 10.0,
               full_duty=rng.choice([0.6, 0.9, 1.0]))


def _room(rng, number):
    """A room of one stage, or a heat pump with its back-up heat."""
    uses = {key: _thermal(rng, kind) for key, kind in
            rng.choice([((HOT, "cooling"),), ((HOT, "cooling"), (COLD, "heating")),
                        ((COLD, "heating"),)])}
    return [_draw(rng, number, nature="room", use=uses, compressor=rng.random() < 0.7,
                  inverter=rng.random() < 0.3)]


def _stages(rng, number):
    room, cold = f"room-{number}", (COLD, "heating")
    pump = _draw(rng, number, nature="room", kind="heat pump", compressor=True, room=room,
                 use={key: _thermal(rng, kind) for key, kind in ((HOT, "cooling"), cold)})
    heat = _draw(rng, number + 1, nature="room", kind="heat pump back-up heat", room=room,
                 use={COLD: _thermal(rng, "heating")},
                 behind_degf=rng.choice([None, None, 1.0, 4.0]))
    return [pump, replace(heat, importance=pump.importance, allowed=pump.allowed)]


def _blower(rng, number):
    """An air conditioner or a heat pump and the blower it needs, which may heat by itself."""
    room = f"room-{number}"
    heats = {COLD: _thermal(rng, "heating")}
    mover = _draw(rng, number, nature="room", kind="furnace blower", room=room, use=heats,
                  leg="L1") if rng.random() < 0.6 else _draw(
        rng, number, nature="woken", kind="air handler", use={"every": Use(kind="never")},
        importance=0, allowed=frozenset({"direct", "module", "off"}))
    uses = {HOT: _thermal(rng, "cooling")} | (heats if rng.random() < 0.4 else {})
    cooler = _draw(rng, number + 1, nature="room", room=room, use=uses, compressor=True,
                   requires=(mover.id,))
    return [mover, replace(cooler, importance=max(cooler.importance, mover.importance),
                           allowed=frozenset({"direct", "module", "off"}))]


def _tank(rng, number):
    return [_draw(rng, number, nature="tank", use={"every": rng.choice([
        _events(rng, 0),
        Use(kind="duty", hours=(0.2, *(rng.choice([0.0, 0.1, 0.6]) for _ in range(23))))])})]


def _car(rng, number):
    return [_draw(rng, number, nature="battery", wait_h=rng.choice([0.0, 2.0, 10.0]),
                  use={"every": Use(kind="events", events=(
                      (rng.randrange(16, 22) + 0.25, rng.choice([1.0, 2.5, 6.0])),))})]


def _box(rng, number):
    return [_draw(rng, number, nature="box", kind=rng.choice(["refrigerator", "freezer"]),
                  use={"every": Use(kind="duty", hours=(rng.choice([0.2, 0.5, 0.9]),) * 24)})]


def _wet(rng, number, nature):
    hours = (0.1, *(rng.choice([0.0, 0.0, 0.02, 0.2, 0.6]) for _ in range(23)))
    return [_draw(rng, number, nature=nature, use={"every": Use(kind="duty", hours=hours)})]


MAKERS = {
    "clock": _clock, "task": _task, "room": _room, "tank": _tank, "car": _car, "box": _box,
    "pit": lambda rng, number: _wet(rng, number, "pit"),
    "pressure": lambda rng, number: _wet(rng, number, "pressure"),
    "pair": lambda rng, number: rng.choice([_pair, _pair, _stages])(rng, number),
    "blower": _blower,
}
TWO = frozenset({"pair", "blower"})


def _wished(rng, comfort):
    """Promises, must-run, set points and drift of a comfort."""
    promises = {
        "room": [Promise(coldest_degf=60.0, warmest_degf=82.0),
                 Promise(coldest_degf=54.0, warmest_degf=90.0)],
        "meals": [Promise(uncut=True)], "task": [Promise(uncut=True)],
        "hot water": [Promise(cold_showers=rng.choice([0.0, 1.0, 3.0]))],
        "car": [Promise(miles=40.0, by_h=7.0), Promise(miles=150.0)],
        "food": [Promise(safe=True)], "pit": [Promise(safe=True)],
        "running water": [Promise(safe=True)], "clock": [None],
    }[comfort.kind]
    wish = rng.choice(promises) if rng.random() < 0.2 else None
    return replace(
        comfort, promise=wish, must_run=comfort.importance > 0 and rng.random() < 0.08,
        heating_set_degf=rng.choice([66.0, 70.0]), cooling_set_degf=rng.choice([74.0, 78.0]),
        time_constant_h=rng.choice([2.0, 8.0, 30.0]))


def _relate(rng, loads):
    """Let a later load wake an earlier one, sometimes in a chain; bar two from each other."""
    for late in range(2, len(loads)):
        early = rng.randrange(1, late)
        if rng.random() < 0.1 and not loads[late].requires and loads[early].restarts != "must not":
            loads[late] = replace(loads[late], requires=(loads[early].id,))
    if len(loads) > 3 and rng.random() < 0.3:
        one, other = rng.sample(range(1, len(loads)), 2)
        if not loads[one].requires and not loads[other].requires:
            loads[one] = replace(loads[one], not_with=(loads[other].id,))


def wild_book(seed, sizes_kw=(4.0, 7.0, 12.0)):
    """A book of sizes that differ in more than size, with soft starters, and modules that sense."""
    rng = random.Random(f"book {seed}")
    sets = [generator(kw, 900.0 + 180.0 * kw, reactance=rng.choice([0.08, 0.14, 0.2]),
                      inertia_s=rng.choice([0.3, 0.5, 1.0]), governor_s=rng.choice([0.1, 0.2]),
                      permitted_average=rng.choice([None, 0.45, 0.9]),
                      derating=replace(USUAL_LOSS, kva_too=rng.random() < 0.3)) for kw in sizes_kw]
    strong = SoftStarter("strong", "strong soft starter", 0.35, 40.0, rng.choice([200.0, 380.0]), 0)
    mild = SoftStarter("mild", "mild soft starter", 0.6, 40.0, rng.choice([150.0, 260.0]), 0,
                       start_s=rng.choice([None, 0.5]))
    blind = Module("relay", "contactor module", "contactor", 2, 60.0, 5.0, 150.0, 100.0,
                   largest_breaker_a=200.0)
    sensing = replace(blind, id="sensing", label="module that senses the call", price=210.0,
                      senses="call")
    return book(*sets, soft_starters=rng.choice([(strong,), (mild, strong)]),
                modules=rng.choice([(blind,), (sensing,), (blind, sensing)]),
                permits=rng.choice([0.0, 120.0]), relocation=rng.choice([180.0, 420.0]))


def crowded_home(seed, size):
    """A wild home in which every load matters, none is always on, and all call in one evening."""
    rng = random.Random(f"crowd {seed}")
    loads = [base(0.5)]
    for number in range(1, size + 1):
        wait_h = rng.choice([0.0, 1.0, 3.0])
        loads.append(load(
            f"load-{number}", round(rng.uniform(1.5, 4.0), 2), importance=rng.randrange(1, 6),
            allowed=frozenset({"module"}), nature="task" if wait_h else "clock", wait_h=wait_h,
            use={"every": Use(kind="events", events=((rng.randrange(70, 76) / 4.0, 2.0),))}))
    return home(*loads, limits=Limits(0.35, 1.0), spell_days=1)
