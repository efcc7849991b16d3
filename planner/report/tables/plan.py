"""Tables of one plan: what becomes of each load, and what each line costs."""

from __future__ import annotations

from planner.facts.home import Connection
from planner.plan.plan import LoadPlan, Plan
from planner.plan.price import PriceLine
from planner.report.tables.column import Column, Table, figure, text
from planner.report.words import money, number, share, span

WAITS_OF_A_PLAN = (
    "Waits and what is served are planned in steps of 15 min, on the last day of each outage, so a "
    "wait of less is none; an outage simulated second by second may show longer ones.")
HOW: dict[Connection, str] = {
    "direct": "always on", "module": "takes turns", "by hand": "you switch it off yourself",
    "off": "off"}


def load_table(plan: Plan) -> Table[LoadPlan]:
    """One row per load: those always on, then by priority, then those without power."""
    woken = {load.id for load in plan.menu.house.home.loads if load.nature == "woken"}
    remark: Column[LoadPlan] = text(
        "remark", "Remark", lambda part: _remark(part, woken=part.id in woken))
    return Table("Loads on standby power", (*LOAD_COLUMNS, remark), sorted(plan.loads, key=_place))


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
        "never calls" if part.called_h == 0.0 and _is_on(part) and not woken else "",
    ]
    return ", ".join(remark for remark in remarks if remark)


def _wait(part: LoadPlan) -> str:
    if part.longest_wait_h == 0.0:
        return "none" if _is_on(part) else ""
    return f"{span(part.usual_wait_h)}, at most {span(part.longest_wait_h)}"


LOAD_COLUMNS: tuple[Column[LoadPlan], ...] = (
    text("load", "Load", lambda part: part.label),
    text("connection", "Connection", lambda part: HOW[part.connection]),
    figure("priority", "Priority", lambda part: part.priority, lambda n: number(n, 0)),
    figure("importance", "Importance", lambda part: part.importance, lambda n: number(n, 0)),
    figure("service", "Served", lambda part: part.service if _is_on(part) else None, share),
    Column("longest_wait_h", "Usual wait", lambda part: part.longest_wait_h, _wait),
)
