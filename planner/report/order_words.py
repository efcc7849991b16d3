"""Priority order in sentences: only what the replay of the other order shows."""

from __future__ import annotations

from planner.plan.plan import LoadPlan, Plan
from planner.report.words import instead_of, money, share, span
from planner.study.order_reasons import OrderReasons, OtherRule, Swap
from planner.tolerances import reaches, same_dollar

WELL_SERVED = 0.9  # from here on a load is said to catch up; a choice of words, no source


def order_sentences(plan: Plan, reasons: OrderReasons, goal: float) -> tuple[str, ...]:
    """Say of each load that takes turns why it stands where it does, first to last.

    Parameters
    ----------
    plan, reasons : Plan, OrderReasons
        The plan, and its order played the other way round.
    goal : float
        Coverage that the plan was made for, 0-1.
    """
    if reasons.last is None:
        return ("No load takes turns.",)
    if not reasons.swaps:
        return (f"Only {reasons.last.label} takes turns: it runs whenever there is room beside "
                f"what is always on, and is served {share(reasons.last.service)}.",)
    lines = [swap_sentence(swap, plan) for swap in reasons.swaps]
    lines.append(_last(reasons.last))
    if reasons.other is not None:
        lines.append(other_rule_sentence(plan, reasons.other, goal))
    return tuple(lines)


def swap_sentence(swap: Swap, plan: Plan) -> str:
    """Say why a load stands ahead of the next one."""
    load, behind = swap.load.label, swap.behind.label
    head = f"{load} goes ahead of {behind}"
    match swap.kind:
        case "wish":
            return f"{head} because you asked for it."
        case "must-run":
            return f"{head}: the other way round, something that must run would have to wait."
        case "alike":
            return _alike(swap, head)
        case "covers-more":
            return (f"{head}, although the other way round would cover "
                    f"{share(swap.coverage_then)} instead of {share(plan.coverage)}; there are too "
                    "many orders to try them all.")
        case "covers-less":
            return f"{head}{_because(swap, plan)}."


def _alike(swap: Swap, head: str) -> str:
    if (swap.load_then, swap.behind_then) == (swap.load.service, swap.behind.service):
        return f"{head}; the other way round both would be served just as well."
    return (f"{head}; the other way round they would be served {share(swap.load_then)} and "
            f"{share(swap.behind_then)} instead of {share(swap.load.service)} and "
            f"{share(swap.behind.service)}, which counts the same.")


def _because(swap: Swap, plan: Plan) -> str:
    load, behind = swap.load, swap.behind
    if reaches(swap.load_then, load.service):
        return (f": the other way round it would be served as well, but the house as a whole would "
                f"be covered {share(swap.coverage_then)} instead of {share(plan.coverage)}")
    cannot_wait = plan.menu.house.home.load(load.id).wait_h == 0.0
    return (f"{' because it cannot wait' if cannot_wait else ''}: behind it, it would be served "
            f"{share(swap.load_then)} instead of {share(load.service)}{_answer(swap, behind)}")


def _answer(swap: Swap, behind: LoadPlan) -> str:
    """What becomes of the one behind, which the swap would put first."""
    if not reaches(swap.behind_then, behind.service):
        return (f"; {behind.label} would be served {share(swap.behind_then)} instead of "
                f"{share(behind.service)} too")
    if reaches(behind.service, swap.behind_then):
        return f"; {behind.label} is served {share(behind.service)} either way"
    if behind.service >= WELL_SERVED:
        return f"; {behind.label} catches up and is still served {share(behind.service)}"
    return (f"; for that {behind.label} is served {share(behind.service)} instead of "
            f"{share(swap.behind_then)}")


def _last(load: LoadPlan) -> str:
    wait = (f", waiting {span(load.longest_wait_h)} at most" if load.longest_wait_h
            else "")
    still = "still " if load.service >= WELL_SERVED else ""
    return (f"{load.label} comes last: it takes the room that the others leave, and is {still}"
            f"served {share(load.service)}{wait}.")


def other_rule_sentence(plan: Plan, other: OtherRule, goal: float) -> str:
    """Say what the other rule for the order would cover and cost."""
    currency = plan.menu.book.currency
    rule = ("strictly in order of importance" if other.by_importance
            else "in an order free of importance")
    if other.same_equipment is None:
        same = f"With priorities {rule} the same equipment could not keep what must run"
    else:
        same = (f"With priorities {rule} the same equipment would cover "
                f"{instead_of(other.same_equipment, plan.coverage)}")
    if other.plan is None:
        return f"{same}; no plan of that kind covers {share(goal)}."
    change_usd = other.plan.cost_usd - plan.cost_usd
    if same_dollar(change_usd):
        return f"{same}; a plan that covers {share(goal)} would then cost the same."
    more = "more" if change_usd > 0.0 else "less"
    return (f"{same}; for {share(goal)} it takes the {other.plan.supply.generator.label} at "
            f"{money(other.plan.cost_usd, currency)}, {money(abs(change_usd), currency)} {more}.")
