"""A plan: frozen, and unable to exist unless the replay accepts it."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING

from planner.errors import VerificationError
from planner.facts.comfort import Comfort
from planner.facts.home import Connection
from planner.physics.demand import DemandSheet
from planner.plan.judged import CONNECTIONS, judged
from planner.plan.menu import Menu
from planner.plan.price import Price
from planner.plan.proof import Proof
from planner.service.choice import Choice
from planner.service.kept import Kept
from planner.service.replay import Refusal, Service
from planner.service.supply import Supply
from planner.tolerances import floored

if TYPE_CHECKING:
    import pandas as pd

NEXT_TO_NOTHING = 0.05  # share of its calls below which a load counts as starved; no source


@dataclass(frozen=True, slots=True)
class LoadPlan:
    """What a plan does with one load.

    `priority` counts from 1 among the module loads; `service` is the share of calls served, on the
    last day of each spell; `usual_wait_h` and `longest_wait_h` are over the stretches in which it
    called and was refused; `called_h` and `served_h` are hours per day, weighted over the design
    days. `comfort` is the id of the comfort that it serves, empty for none. Of a load that is off
    `module` is the one that stays open; without one its circuit is moved, or no position's.
    """

    id: str
    label: str
    connection: Connection
    module: str | None
    soft_starter: str | None
    priority: int | None
    service: float
    usual_wait_h: float
    longest_wait_h: float
    called_h: float
    served_h: float
    must_run: bool
    importance: int
    comfort: str = ""

    @property
    def stays_open(self) -> bool:
        """Whether it is off by a module, open as long as the generator feeds the house."""
        return self.connection == "off" and self.module is not None

    @property
    def is_starved(self) -> bool:
        """Whether it takes turns, matters, asks for power and gets next to none."""
        return (self.connection == "module" and self.called_h > 0.0 and self.importance > 0
                and self.service < NEXT_TO_NOTHING)


@dataclass(frozen=True, repr=False)
class Plan:
    """A choice with its price, its replay and its proof.

    Raises
    ------
    VerificationError
        If the replay refuses it, a promise or a must-run load is not kept, a wish about the order
        is broken, the code calculation of the direct loads exceeds the generator, or the price book
        cannot build it: the planner made a plan that must not be shown.
    """

    menu: Menu
    supply: Supply
    choice: Choice
    bound: float | None = None
    price: Price = field(init=False)
    service: Service = field(init=False)
    direct_demand: DemandSheet = field(init=False)
    loads: tuple[LoadPlan, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Replay, price and check; set the derived fields."""
        found = judged(self.menu, self.supply, self.choice)
        if isinstance(found.service, Refusal) or found.price is None or found.wrong:
            home, why = self.menu.house.home, "; ".join(found.wrong)
            raise VerificationError(f"The replay refuses a plan for {home.id}: {why}.")
        object.__setattr__(self, "service", found.service)
        object.__setattr__(self, "price", found.price)
        object.__setattr__(self, "direct_demand", found.sheet)
        object.__setattr__(self, "loads", _load_plans(self, found.service))

    @property
    def cost_usd(self) -> float:
        """Installed cost [USD]."""
        return self.price.usd

    @property
    def coverage(self) -> float:
        """Importance-weighted mean of how well the comforts are kept, 0-1."""
        return self.service.coverage

    @property
    def proof(self) -> Proof:
        """How good the plan is known to be among plans of at most its cost."""
        return Proof(self.coverage, self.bound)

    def __repr__(self) -> str:
        """Say in a line what it is: generator, cost, coverage, proof."""
        price = f"{self.cost_usd:,.0f} {self.menu.book.currency}"
        covered = floored(100.0 * self.coverage, 0.1)
        return (f"<Plan {self.supply.generator.id}: {price}, covers {covered:.1f} %, "
                f"{self.proof.kind}>")

    def facts(self) -> dict[str, object]:
        """Give the plan in plain numbers and ids, as a row of a table; units in the names."""
        connections = [part.connection for part in self.loads]
        return {
            "cost_usd": self.cost_usd, "coverage": self.coverage, "bound": self.proof.bound,
            "proof": self.proof.kind, "generator": self.supply.generator.id,
            "capacity_kw": self.supply.capacity_kw, "transfer": self.price.transfer.id,
            "always_on": connections.count("direct"), "modules": self.choice.modules,
            "by_hand": connections.count("by hand"), "off": connections.count("off"),
            "stay_open": len(self.choice.kept_open),
            "soft_starters": sum(part.soft_starter is not None for part in self.loads),
            "starved": sum(part.is_starved for part in self.loads),
        }

    def frame(self) -> pd.DataFrame:
        """Give its loads as a frame, one row each: connection, priority, service, waits."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        return pd.DataFrame([asdict(part) for part in self.loads]).set_index("id")

    @property
    def comforts(self) -> tuple[Kept, ...]:
        """How well each comfort is kept, in the order of the home."""
        return self.service.kept

    def comfort(self, comfort_id: str) -> Kept:
        """How well one comfort is kept; KeyError if there is none of that id."""
        for one in self.service.kept:
            if one.comfort.id == comfort_id:
                return one
        raise KeyError(comfort_id)

    def comfort_frame(self) -> pd.DataFrame:
        """Give its comforts as a frame, one row each: kept, and the worst of each design day."""
        import pandas as pd  # noqa: PLC0415 - slow to import, and seldom needed

        days = [day.id for day in self.menu.house.home.days]
        return pd.DataFrame([{
            "id": one.comfort.id, "label": one.comfort.label, "kept": one.kept, "unit": one.unit,
            **dict(zip(days, one.worst, strict=True))} for one in self.comforts]).set_index("id")

    def load(self, load_id: str) -> LoadPlan:
        """Part of the plan that concerns one load; KeyError if there is none of that id."""
        for part in self.loads:
            if part.id == load_id:
                return part
        raise KeyError(load_id)


def _load_plans(plan: Plan, service: Service) -> tuple[LoadPlan, ...]:
    menu, choice, times = plan.menu, plan.choice, service.timeline
    parts = []
    for i, load in enumerate(menu.house.home.loads):
        soft = choice.soft_start[i]
        kind = menu.module_of(choice, i)
        parts.append(LoadPlan(
            id=load.id,
            label=load.label,
            connection=CONNECTIONS[choice.connection[i]],
            module=kind.id if kind else None,
            soft_starter=menu.book.soft_starters[soft - 1].id if soft else None,
            priority=choice.order.index(i) + 1 if i in choice.order else None,
            service=float(times.service[i]),
            usual_wait_h=float(times.usual_wait_h[i]),
            longest_wait_h=float(times.longest_wait_h[i]),
            called_h=float(times.called_h[i]),
            served_h=float(times.served_h[i]),
            must_run=load.must_run,
            importance=load.importance,
            comfort=load.comfort,
        ))
    return tuple(parts)


__all__ = ["CONNECTIONS", "Comfort", "Kept", "LoadPlan", "Plan"]
