"""Priority order in sentences: only what the replay of the other order shows."""

from __future__ import annotations

from planner.plan.plan import LoadPlan, Plan
from planner.report.comforts.comfort_changes import change_sentences_of
from planner.report.comforts.missed_words import told
from planner.report.comforts.waits import wait_words
from planner.report.words import instead_of, money, share
from planner.study.order_reasons import OrderReasons, OtherRule, Swap
from planner.tolerances import same_dollar

MOST_CHANGES = 2  # said of one swap, those that weigh most


def order_sentences(
    plan: Plan, reasons: OrderReasons, goal: float, cheapest: Plan | None = None
) -> tuple[str, ...]:
    """Say of each load that takes turns why it stands where it does, first to last.

    Parameters
    ----------
    plan, reasons : Plan, OrderReasons
        The plan, and its order played the other way round.
    goal : float
        Coverage that the plan was made for, 0-1.
    cheapest : Plan, optional
        The cheapest for that, which another rule is priced against; the plan if it is not given.
    """
    if reasons.last is None:
        return ("No load takes turns.",)
    if not reasons.swaps:
        return (f"Only {reasons.last.label} takes turns: it runs whenever there is room beside "
                f"what is always on{_makes(reasons.last, plan)}.",)
    lines = [swap_sentence(swap, plan) for swap in reasons.swaps]
    lines.append(_last(reasons.last, plan))
    if reasons.other is not None:
        lines.append(other_rule_sentence(plan, reasons.other, goal, cheapest or plan))
    return tuple(lines)


def swap_sentence(swap: Swap, plan: Plan) -> str:
    """Say why a load stands ahead of the next one."""
    head = f"{swap.load.label} goes ahead of {swap.behind.label}"
    match swap.kind:
        case "wish" if _are_stages(swap):
            return f"{head}: they serve one room, and it comes first there."
        case "wish":
            return f"{head} because you asked for it."
        case "must-run" | "promise" | "refused":
            return f"{head}. The other way round: {swap.why}."
        case "alike":
            return _alike(swap, head, plan)
        case "covers-more":
            return (f"{head}, although the other way round would keep "
                    f"{share(swap.coverage_then)} instead of {share(plan.coverage)}; there are too "
                    "many orders to try them all.")
        case "covers-less":
            return f"{head}{_because(swap, plan)}."


def _are_stages(swap: Swap) -> bool:
    return bool(swap.load.comfort) and swap.load.comfort == swap.behind.comfort


def _alike(swap: Swap, head: str, plan: Plan) -> str:
    said = change_sentences_of(swap.changes, plan.menu.house, MOST_CHANGES)
    if not said:
        return f"{head}; the other way round everything would be kept just as well."
    return f"{head}. The other way round: {'; '.join(said)}; that counts the same."


def _because(swap: Swap, plan: Plan) -> str:
    worse = [one for one in swap.changes if not one.is_gain]
    better = [one for one in swap.changes if one.is_gain]
    house = plan.menu.house
    lost = change_sentences_of(worse, house, MOST_CHANGES)
    won = change_sentences_of(better, house, MOST_CHANGES)
    cover = f"{share(swap.coverage_then)} instead of {share(plan.coverage)} would be kept"
    return f". The other way round: {'; '.join((*lost, *won, cover))}"


def _last(load: LoadPlan, plan: Plan) -> str:
    late = wait_words(plan, load.id)
    return (f"{load.label} comes last: it takes the room that the others leave"
            f"{f', done {late} later' if late else ''}"
            f"{_makes(load, plan)}.")


def _makes(load: LoadPlan, plan: Plan) -> str:
    """Say what its comfort is like on the hardest day."""
    if not load.comfort:
        return ""
    kept = plan.comfort(load.comfort)
    return f"; {kept.comfort.label}: {told(kept, plan)}"


def other_rule_sentence(plan: Plan, other: OtherRule, goal: float, cheapest: Plan) -> str:
    """Say what the other rule for the order would keep, and cost against the cheapest plan."""
    currency = plan.menu.book.currency
    rule = ("strictly in order of importance" if other.by_importance
            else "in an order free of importance")
    if other.same_equipment is None:
        same = (f"With priorities {rule} no order of the same equipment was found that keeps what "
                "must run and what is promised")
    else:
        same = (f"With priorities {rule} the same equipment would keep "
                f"{instead_of(other.same_equipment, plan.coverage)}")
    if other.plan is None:
        return (f"{same}; no plan of that kind keeps {share(goal)}." if other.proven else
                f"{same}; no plan of that kind was found that keeps {share(goal)}.")
    change_usd = other.plan.cost_usd - cheapest.cost_usd
    against = "" if cheapest is plan else " than the cheapest plan for it"
    if same_dollar(change_usd):
        if against and other.proven:
            return (f"{same}; the cheapest plan that keeps {share(goal)} would cost the same, "
                    f"{money(cheapest.cost_usd, currency)}.")
        return f"{same}; a plan that keeps {share(goal)} would then cost the same."
    more = f"{'more' if change_usd > 0.0 else 'less'}{against}"
    machine = f"the {other.plan.supply.generator.label}"
    takes = f"it takes {machine}" if other.proven else f"the cheapest that was found is {machine}"
    return (f"{same}; for {share(goal)} {takes} at {money(other.plan.cost_usd, currency)}, "
            f"{money(abs(change_usd), currency)} {more}.")
