"""Tables of one plan: what becomes of each load, and what each line costs."""

from __future__ import annotations

from planner.facts.home import Connection
from planner.plan.plan import LoadPlan, Plan
from planner.plan.price import PriceLine
from planner.report.comforts.missed_words import told
from planner.report.comforts.waits import longest_wait_h
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import money, number, span

WAITS_OF_A_PLAN = (
    "Done late: how much later than with the utility work is done, planned in steps of 15 min; an "
    "outage simulated second by second may show more. Rooms, tanks and batteries catch up: what "
    "their turns mean is told by the comfort that they serve.")
HOW: dict[Connection, str] = {
    "direct": "always on", "module": "takes turns", "by hand": "you switch it off yourself",
    "off": "off"}
STAYS_OPEN = "off: its module stays open during an outage"
MOVED = "off: moved to the utility side"


def load_table(plan: Plan) -> Table[LoadPlan]:
    """One row per load: those always on, then by priority, then those without power."""
    woken = {load.id for load in plan.menu.house.home.loads if load.nature == "woken"}
    columns: tuple[Column[LoadPlan], ...] = (
        text("load", "Load", lambda part: part.label),
        text("connection", "Connection", lambda part: treatment(plan, part)),
        figure("priority", "Priority", lambda part: part.priority, lambda n: number(n, 0)),
        figure("late_h", "Done late", lambda part: longest_wait_h(plan, part.id),
               lambda hours: f"up to {span(hours)}" if hours else ""),
        text("comfort", "Comfort on its hardest day", lambda part: _comfort(plan, part)),
        text("remark", "Remark", lambda part: _remark(part, woken=part.id in woken)),
    )
    return Table("Loads on standby power", columns, sorted(plan.loads, key=_place))


def treatment(plan: Plan, part: LoadPlan) -> str:
    """Say how a load is connected; of one that is off behind whole-house transfer also by what."""
    if part.stays_open:
        return STAYS_OPEN
    if part.connection == "off" and plan.menu.kind == "whole-house":
        return MOVED
    return HOW[part.connection]


def price_table(plan: Plan) -> Table[PriceLine]:
    """Lines of the installed cost; their sum is `plan.cost_usd`."""
    currency = plan.menu.book.currency
    columns: tuple[Column[PriceLine], ...] = (
        text("item", "Item", lambda line: line.text),
        figure("quantity", "Number", lambda line: line.quantity, lambda n: number(n, 0)),
        figure("cost_usd", "Cost", lambda line: line.usd, lambda usd: money(usd, currency)),
    )
    return Table("Installed cost", columns, plan.price.lines)


def _place(part: LoadPlan) -> tuple[int, int]:
    return list(HOW).index(part.connection), part.priority or 0


def _is_on(part: LoadPlan) -> bool:
    return part.connection in ("direct", "module")


def _remark(part: LoadPlan, *, woken: bool) -> str:
    remarks = [
        "must run" if part.must_run else "",
        "soft starter" if part.soft_starter else "",
        "runs for others" if woken else "",
        "not used" if part.called_h == 0.0 and _is_on(part) and not woken else "",
    ]
    return ", ".join(remark for remark in remarks if remark)


def _comfort(plan: Plan, part: LoadPlan) -> str:
    """Say what the comfort of a load is like that may be refused."""
    if part.connection == "direct" or not part.comfort:
        return ""
    kept = plan.comfort(part.comfort)
    return f"{kept.comfort.label}: {told(kept, plan)}"
