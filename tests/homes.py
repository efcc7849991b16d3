"""Small invented homes and price books for tests; `replace` shows what a test changes.

A load that names no comfort gets one of its own, of its importance; what heats or cools one room
shares that of the room. What is always direct and of no importance serves none: nobody switches it
off.
"""

from __future__ import annotations

import random
from dataclasses import replace

from planner.facts.comfort import Comfort, ComfortKind
from planner.facts.home import (
    CodeBasis,
    CodeEntry,
    DesignDay,
    Home,
    Limits,
    Load,
    Panel,
    Use,
)
from planner.facts.price_book import (
    Controller,
    Derating,
    FuelUse,
    Generator,
    Module,
    PriceBook,
    Rating,
    SoftStarter,
    Transfer,
)
from planner.plan.plan import Plan
from planner.wiring.rooms import NOT_LIVED_IN, rooms_of

ALL = frozenset({"direct", "module", "off"})
KINDS: dict[str, ComfortKind] = {
    "room": "room", "tank": "hot water", "box": "food", "battery": "car",
    "pressure": "running water", "pit": "pit", "task": "task", "clock": "clock",
}
"""Kind of the comfort that a load of each nature serves, unless a test says otherwise."""
USUAL_LOSS = Derating(0.03, 500.0, 0.01, 85.0)  # common practice, no source


def load(load_id: str, kw: float, **changes: object) -> Load:
    """A 240 V load at unity power factor that may take turns; keyword arguments replace."""
    plain = Load(
        id=load_id, label=load_id, kind="test load", panel="main", leg="both", running_kw=kw,
        running_kva=kw, starting_kva=0.0, starting_pf=0.7, surge=(), motor_hp=0.0,
        soft_start_fits=False, compressor=False, must_run=False, importance=3, wait_h=0.0,
        allowed=frozenset({"direct", "module"}), module_actions=frozenset({"contactor"}),
        use={"every": Use(kind="always")}, code=CodeEntry("appliance", 1000.0 * kw),
    )
    return replace(plain, **changes)


def motor(load_id: str, kw: float, start_kva: float, **changes: object) -> Load:
    """A 240 V motor load with a locked-rotor kVA."""
    return load(load_id, kw, starting_kva=start_kva, soft_start_fits=True, compressor=True,
                code=CodeEntry("cooling", 1000.0 * kw), **changes)


def base(kw: float, **changes: object) -> Load:
    """A base load that is always on and always direct, on both legs."""
    return load("base", kw, allowed=frozenset({"direct"}), importance=0,
                code=CodeEntry("general", 0.0), **changes)


def events(*pairs: tuple[float, float]) -> dict[str, Use]:
    """Use by events (start h, length h) on every day."""
    return {"every": Use(kind="events", events=pairs)}


def clock(load_id: str, kw: float, *pairs: tuple[float, float], **changes: object) -> Load:
    """What is wanted at fixed hours, by (start h, length h), and lost without power."""
    return load(load_id, kw, use=events(*pairs), **changes)


def task(load_id: str, kw: float, *pairs: tuple[float, float], **changes: object) -> Load:
    """A piece of work to be done: each (start h, length h) is one; `wait_h` is how late it may."""
    return load(load_id, kw, nature="task", use=events(*pairs), **changes)


def room(load_id: str, kw: float, *, cools: bool = True, **changes: object) -> Load:
    """A compressor that holds one room; at the design temperature it runs nine tenths of the time.

    It needs 95 degF, or 10 degF in winter, for that, and nothing at 65 degF.
    """
    use = Use(kind="cooling" if cools else "heating", balance_degf=65.0,
              design_degf=95.0 if cools else 10.0, full_duty=0.9)
    return load(load_id, kw, nature="room", **{
        "compressor": True, "use": {"every": use},
        "code": CodeEntry("cooling" if cools else "heat-pump", 1000.0 * kw), **changes})


def tank(load_id: str, kw: float = 4.5, **changes: object) -> Load:
    """An electric water heater, drawn from in the morning and in the evening."""
    hours = tuple(0.5 if hour in {6, 7} else 0.3 if hour in {18, 19, 20} else 0.05
                  for hour in range(24))
    return load(load_id, kw, nature="tank", **{
        "use": {"every": Use(kind="duty", hours=hours)}, **changes})


def car(load_id: str, kw: float = 7.2, **changes: object) -> Load:
    """A car that comes home at 18 h, takes 3 h of charging and leaves 9 h after that."""
    return load(load_id, kw, nature="battery", code=CodeEntry("vehicle", 1000.0 * kw), **{
        "wait_h": 9.0, "use": events((18.0, 3.0)), **changes})


def food(load_id: str, kw: float = 0.3, **changes: object) -> Load:
    """A refrigerator that runs a third of its hours; kind ``freezer`` makes it one."""
    return load(load_id, kw, nature="box", **{
        "kind": "refrigerator", "use": {"every": Use(kind="duty", hours=(0.35,) * 24)}, **changes})


def home(*loads: Load, **changes: object) -> Home:
    """A one-day home with a small floor area, so that the code calculation rarely binds.

    All of the rating may be used, so that a test can work out by hand what fits.
    """
    plain = Home(
        id="test", label="test home", service_a=100.0, floor_area_ft2=0.0, altitude_ft=0.0,
        summer_degf=80.0, winter_degf=20.0, fuel="natural gas",
        code=CodeBasis("2023", "optional"), panels=(Panel("main", 200.0),), loads=tuple(loads),
        days=(DesignDay("day", "day", "mild", 1.0, 60.0, 80.0),),
        limits=Limits(largest_share=1.0),
    )
    return with_comforts(replace(plain, **changes))


def with_comforts(one: Home) -> Home:
    """Give every load that serves no known comfort one of its own; one for each room.

    A comfort has the importance of the most important of its loads, and its loads that of the
    comfort. What is only woken by others serves none, nor does what may only be direct and matters
    to nobody.
    """
    known = {each.id for each in one.comforts}
    held = {load_id: each.id for each in rooms_of(one) for load_id in each.loads}
    loads = [each if each.comfort or each.nature == "woken" or (
        not each.importance and each.allowed <= {"direct"}) else replace(
        each, comfort=held.get(each.id, each.id) if each.nature == "room" else each.id)
        for each in one.loads]
    found = list(one.comforts)
    for comfort_id in dict.fromkeys(each.comfort for each in loads):
        if comfort_id and comfort_id not in known:
            found.append(_comfort(one, comfort_id, [ld for ld in loads
                                                    if ld.comfort == comfort_id]))
    most = {each.id: each.importance for each in found}
    return replace(one, comforts=tuple(found), loads=tuple(
        replace(each, importance=most.get(each.comfort, 0)) for each in loads))


def _comfort(one: Home, comfort_id: str, loads: list[Load]) -> Comfort:
    kind = KINDS[loads[0].nature]
    stages = [load_id for each in rooms_of(one) for load_id in each.loads]
    ids = sorted((each.id for each in loads),
                 key=lambda load_id: (stages.index(load_id) if kind == "room" else 0, load_id))
    return Comfort(
        id=comfort_id, label=comfort_id, kind=kind, loads=tuple(ids),
        importance=max(each.importance for each in loads),
        heating_set_degf=one.heating_set_degf, cooling_set_degf=one.cooling_set_degf,
        lived_in=any(each.kind not in NOT_LIVED_IN for each in loads))


def generator(kw: float, price: float, **changes: object) -> Generator:
    """An air-cooled set whose kVA is its kW and whose short-time power is a tenth above it."""
    rating = Rating(kw, kw, 1000.0 * kw / 240.0, FuelUse(1e4 * kw / 3, 1e4 * kw * 0.6, 1.5e4 * kw))
    plain = Generator(
        id=f"set-{kw:g}", label=f"{kw:g} kW generator", cooling="air",
        ratings={"natural gas": rating, "propane": rating}, reactance=0.2, short_time=1.1,
        derating=USUAL_LOSS, price=price, installation=0.0,
    )
    return replace(plain, **changes)


def book(*generators: Generator, senses: str = "call", **changes: object) -> PriceBook:
    """A price book with one whole-house transfer switch, one module kind, two controllers.

    Its module senses the call of its load unless a test says otherwise (``current``, ``nothing``).
    It may stand behind any branch breaker, so that amperes alone decide.
    """
    plain = PriceBook(
        id="test-book", label="test book", notice="Invented prices.", generators=tuple(generators),
        transfers=(Transfer("whole", "whole-house switch", "whole-house", 200.0, 0, 600.0, 300.0),),
        modules=(Module("relay", "contactor module", "contactor", 2, 60.0, 5.0, 150.0, 100.0,
                        senses=senses, largest_breaker_a=200.0),),
        controllers=(Controller("small", "controller", 2, 100.0, 0.0),
                     Controller("large", "large controller", 8, 260.0, 0.0)),
        soft_starters=(SoftStarter("soft", "soft starter", 0.4, 40.0, 250.0, 80.0),),
        relocation=180.0, permits=0.0, maintenance_per_year=0.0, natural_gas_per_therm=1.2,
        propane_per_gal=2.6,
    )
    return replace(plain, **changes)


def random_home(seed: int, size: int) -> Home:
    """A random small home with `size` loads besides its base; same seed, same home.

    Some of them are wanted by the clock, some are work that may wait.
    """
    rng = random.Random(seed)
    loads: list[Load] = [base(round(rng.uniform(0.2, 1.0), 2))]
    for number in range(size):
        kw = round(rng.uniform(0.8, 6.0), 2)
        starts = rng.random() < 0.4
        use = Use(kind="events", events=tuple(
            (rng.randrange(0, 80) / 4.0, rng.randrange(1, 13) / 4.0) for _ in range(3)))
        if rng.random() < 0.4:
            use = Use(kind="duty", hours=tuple(round(rng.random(), 2) for _ in range(24)))
        wait_h = rng.choice([0.0, 0.0, 0.25, 0.5, 1.0, 3.0])
        changes: dict[str, object] = {
            "importance": rng.randrange(0, 6),
            "wait_h": wait_h,
            "nature": "task" if wait_h and use.kind == "events" else "clock",
            "use": {"every": use},
            "allowed": rng.choice([ALL, ALL, frozenset({"direct", "module"})]),
            "must_run": rng.random() < 0.1,
            "leg": rng.choice(["both", "both", "L1", "L2"]),
        }
        name = f"load-{number}"
        loads.append(motor(name, kw, round(kw * rng.uniform(3.0, 6.0), 2), **changes) if starts
                     else load(name, kw, **changes))
    if size >= 3 and rng.random() < 0.3:
        loads[1] = replace(loads[1], requires=(loads[2].id,))
    if size >= 4 and rng.random() < 0.3:
        loads[3] = replace(loads[3], not_with=(loads[4].id,))
    pairs = ((loads[2].id, loads[1].id),) if size >= 2 and rng.random() < 0.2 else ()
    rule = "importance" if rng.random() < 0.2 else "free"
    if rule == "importance":
        pairs = ()
    return home(*loads, never_before=pairs, order_rule=rule, spell_days=1)


def cheapest(one: Home, offered: PriceBook, coverage: float) -> Plan:
    """Plan of the frontier that reaches a coverage at the least cost, whatever it starves."""
    from planner.study.recommend import recommend  # brings the solver, which not all who import may

    return recommend(one, offered, coverage, none_starved=False, share=0.0).plan
