"""The validated home: frozen facts, floats whose names carry their units.

Files speak pydantic and Quantities (`planner.case.file`), all behind the fence these dataclasses.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from planner.errors import Finding
from planner.facts.assumption import Assumption
from planner.facts.comfort import SPELL_DAYS, Comfort, Nature
from planner.facts.portable import USUAL_ATTENDANCE, Attendance
from planner.facts.site import Site
from planner.facts.weather import Weather

SLOTS_PER_DAY, SLOT_H = 96, 0.25

Leg = Literal["L1", "L2", "both"]
Connection = Literal["direct", "module", "by hand", "off"]
OrderRule = Literal["free", "importance"]
Restarts = Literal["by itself", "start button", "must not"]
HEATING_SET_DEGF, COOLING_SET_DEGF = 70.0, 76.0  # unless it is said; common practice, no source
MEDICAL = "medical equipment"  # a kind of the appliance library
MUST_RUN_RANK = 6  # above the highest importance, 5
TransferKind = Literal["whole-house", "selected-circuits"]
Fuel = Literal["natural gas", "propane"]
CodeMethod = Literal["standard", "optional", "existing", "measured"]
CodeEdition = Literal["2017", "2020", "2023", "2026"]
CodeCategory = Literal[
    "general",  # covered by the VA per square foot of the general lighting load
    "small-appliance", "laundry",  # such a branch circuit, counted per circuit
    "appliance",  # fastened in place, permanently connected or on a circuit of its own
    "cooking", "dryer", "cooling", "vehicle",  # ranges and ovens; vehicle supply equipment
    "heat-pump",  # the compressor, which heats and cools
    "supplemental-heat",  # electric back-up heat of a heat pump
    "heating",  # electric space heating
    "air-handler",  # indoor unit of electric heating or cooling, in both seasons
    "fuel-heating",  # blower, burner and pumps of heating by gas, oil or propane
    "motor",  # permanently connected motor not counted elsewhere
]


@dataclass(frozen=True, slots=True)
class SurgeStep:
    """One step of a starting profile at full voltage."""

    seconds: float
    kw: float
    kva: float


@dataclass(frozen=True, slots=True)
class Use:
    """When a load calls on one design day.

    kind
        ``always``; ``never``; ``duty`` (`hours` holds 24 shares 0-1); ``events`` (`events` holds
        (start h, length h) pairs); ``cooling`` or ``heating`` (duty grows in proportion from 0 at
        `balance_degf` to `full_duty` at `design_degf`, using the day's hourly temperature);
        ``calls`` (`calls` is a string of 96 characters 0 or 1).
    offset_slots
        Shifts a duty pattern by whole slots, so that two thermostats need not call together.
    """

    kind: Literal["always", "never", "duty", "events", "cooling", "heating", "calls"]
    hours: tuple[float, ...] = ()
    events: tuple[tuple[float, float], ...] = ()
    balance_degf: float = 65.0
    design_degf: float = 95.0
    full_duty: float = 1.0
    calls: str = ""
    offset_slots: int = 0


@dataclass(frozen=True, slots=True)
class CodeEntry:
    """How a load enters the calculated load by code.

    `units` counts separately controlled heating units, cooking units or dryers behind one entry;
    `with_supplemental` says whether a heat-pump compressor can run together with its
    supplemental heat; `neutral_va` is the part that returns through the neutral (None: none for a
    two-leg load, all of it for a one-leg load); `area_ft2` is the floor that a load lights.
    """

    category: CodeCategory
    va: float
    units: int = 1
    with_supplemental: bool = True
    neutral_va: float | None = None
    area_ft2: float = 0.0


@dataclass(frozen=True, slots=True)
class Load:
    """One appliance or group that draws power.

    `running_kw` and `running_kva` are the largest draw that a plan is made with; `by_day` has the
    draw of single design days by their id (see `kw_on`). What the nameplate says is in `code`.
    Starting values are locked-rotor values at full voltage; `starting_kva` is 0 for a load without
    a starting surge. What a start draws from the engine depends on the generator (see
    `planner.physics.motor_start`). `tons` is the rated capacity of what moves heat, 0 where it is
    not known; an `inverter` has no fixed speed. `plate_kva` is what its nameplate lets it draw,
    where that is more than it draws on any day: what switches it must carry it.
    `mean_kw`, `mean_kva`: mean draw where that is less (a compressor beside its defrost heater).
    `module_actions`: shedding modules that suit it; without any it takes no turns. `breaker_a`: its
    breaker, else `planner.physics.wire.branch`. `positions`: spaces of its panel that it takes.
    """

    id: str
    label: str
    kind: str
    panel: str
    leg: Leg
    running_kw: float
    running_kva: float
    starting_kva: float
    starting_pf: float
    surge: tuple[SurgeStep, ...]
    motor_hp: float
    soft_start_fits: bool
    compressor: bool
    must_run: bool
    importance: int
    wait_h: float
    allowed: frozenset[Connection]
    module_actions: frozenset[str]
    use: Mapping[str, Use]
    code: CodeEntry
    requires: tuple[str, ...] = ()
    not_with: tuple[str, ...] = ()
    assumed: tuple[Assumption, ...] = ()
    room: str = ""  # the room that it heats or cools; empty: `planner.wiring.rooms` says which
    by_day: Mapping[str, tuple[float, float]] = field(default_factory=dict)  # running kW, kVA
    tons: float = 0.0
    inverter: bool = False
    plate_kva: float = 0.0
    mean_kw: float = 0.0
    mean_kva: float = 0.0
    restarts: Restarts = "by itself"
    breaker_a: float | None = None
    positions: tuple[str, ...] = ()
    nature: Nature = "clock"
    comfort: str = ""  # id of the comfort that it serves; empty: none
    pause_slots: int = 0  # of a task: slots that it may be refused after it was begun
    behind_degf: float | None = None  # of a room's stage: how far behind it comes on; None: usual

    def kw_on(self, day_id: str) -> float:
        """Running real power on a design day, at that day's extreme [kW]."""
        return self.by_day.get(day_id, (self.running_kw, self.running_kva))[0]

    def kva_on(self, day_id: str) -> float:
        """Running apparent power on a design day, at that day's extreme [kVA]."""
        return self.by_day.get(day_id, (self.running_kw, self.running_kva))[1]

    def on(self, day: str) -> Load:
        """Give the load with its draw on a design day, by the day's id, as its only one."""
        return replace(self, running_kw=self.kw_on(day), running_kva=self.kva_on(day), by_day={})

    def use_on(self, day: DesignDay) -> Use:
        """Pick the use that holds on a day: its own, else its season's, else every day's."""
        keys = (key for key in (day.id, day.season, "every") if key in self.use)
        return self.use.get(next(keys, ""), Use(kind="never"))

    @property
    def volts(self) -> int:
        """Nominal voltage: 240 across both legs, 120 on one."""
        return 240 if self.leg == "both" else 120

    @property
    def poles(self) -> int:
        """Poles of its breaker: what it takes in a selected-circuits panel."""
        return 2 if self.leg == "both" else 1

    @property
    def running_a(self) -> float:
        """Running current in amperes."""
        return 1000.0 * self.running_kva / self.volts

    @property
    def plate_a(self) -> float:
        """Largest running current by the nameplate, never below what it draws [A]."""
        return max(self.running_a, 1000.0 * self.plate_kva / self.volts)

    @property
    def rank(self) -> int:
        """Place in an order by importance: its importance, must-run above all."""
        return MUST_RUN_RANK if self.must_run else self.importance

    @property
    def is_medical(self) -> bool:
        """Whether somebody's health hangs on it: it is never proposed to be given up or to wait."""
        return self.kind == MEDICAL

    @property
    def is_motor(self) -> bool:
        """Whether it starts harder than it runs."""
        return self.starting_kva > self.running_kva


@dataclass(frozen=True, slots=True)
class Panel:
    """A distribution panel; `feeder_a` is its main or feeder rating per leg in amperes."""

    id: str
    feeder_a: float
    fed_from: str | None = None


@dataclass(frozen=True, slots=True)
class DesignDay:
    """A day of weather and use that the plan is made for; weights are normalised to sum 1."""

    id: str
    label: str
    season: Literal["summer", "winter", "mild"]
    weight: float
    low_degf: float
    high_degf: float


@dataclass(frozen=True, slots=True)
class Limits:
    """What the estimator allows: voltage dip at a start, largest share of the rating to use.

    A dip of 25 % is the usual limit of the schedule of motor starts in the guide specifications of
    the US government (UFGS-16264A, p. 18; UFGS-16237N, p. 19). A tenth of the rating is kept back
    for what the estimate does not know (common practice, no source).
    """

    allowed_dip: float = 0.25
    largest_share: float = 0.9


@dataclass(frozen=True, slots=True)
class CodeBasis:
    """Edition and method of the calculated load, and what the method needs to know."""

    edition: CodeEdition
    method: CodeMethod
    small_appliance_circuits: int = 2
    laundry_circuits: int = 1
    measured_peak_kva: float | None = None
    measured_days: float | None = None
    measured_interval_min: float | None = None
    measured_with_generation: bool = False
    added: tuple[str, ...] = ()  # load ids that are new to an existing dwelling


@dataclass(frozen=True, slots=True, repr=False)
class Home:
    """A validated home.

    `price_book` is where the book of its file stands, `findings` the warnings and notes beside it.
    """

    id: str
    label: str
    service_a: float
    floor_area_ft2: float
    altitude_ft: float
    summer_degf: float
    winter_degf: float
    fuel: Fuel
    code: CodeBasis
    panels: tuple[Panel, ...]
    loads: tuple[Load, ...]
    days: tuple[DesignDay, ...]
    limits: Limits
    order_rule: OrderRule = "free"
    never_before: tuple[tuple[str, str], ...] = ()  # (a, b): a never stands before b
    transfer_kinds: frozenset[TransferKind] = frozenset({"whole-house"})
    heating_set_degf: float = HEATING_SET_DEGF
    cooling_set_degf: float = COOLING_SET_DEGF
    expected: Mapping[str, object] = field(default_factory=dict)
    assumed: tuple[Assumption, ...] = ()  # about the house itself: ``home.service``, ``days``
    fault_current_a: float | None = None  # available at its panel, if it is known
    comforts: tuple[Comfort, ...] = ()
    spell_days: int = SPELL_DAYS
    site: Site | None = None  # None: the file says nothing of it
    weather: Weather | None = None  # of the weather file that it names
    attendance: Attendance = USUAL_ATTENDANCE  # for a generator that is worked by hand
    price_book: Path | None = field(default=None, compare=False)
    findings: tuple[Finding, ...] = field(default=(), compare=False, repr=False)

    def __repr__(self) -> str:
        """Say in a line which home it is."""
        loads = "1 load" if len(self.loads) == 1 else f"{len(self.loads)} loads"
        days = "1 design day" if len(self.days) == 1 else f"{len(self.days)} design days"
        return f"<Home {self.label!r}: {loads}, {days}>"

    def load(self, load_id: str) -> Load:
        """Find a load by its id; KeyError if the home has none."""
        for load in self.loads:
            if load.id == load_id:
                return load
        raise KeyError(load_id)
