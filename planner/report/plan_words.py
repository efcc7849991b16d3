"""One plan in sentences: what it is, how good it is known to be, what it can carry."""

from __future__ import annotations

from planner.physics.demand.tables import clause
from planner.plan.average import average_of
from planner.plan.code import always_connected
from planner.plan.margin import Growth, margin_of
from planner.plan.plan import LoadPlan, Plan
from planner.report.comforts.missed_words import told
from planner.report.comforts.waits import wait_words
from planner.report.smaller_words import listed
from planner.report.tables.verify import down, margin_sentences
from planner.report.words import (
    CONVENTION,
    money,
    number,
    rating,
    share,
    share_at_most,
    watts,
)
from planner.service.supply import hottest_degf
from planner.tolerances import floored, reaches

LITTLE_ROOM = 0.05  # common practice, no source: nameplates and estimates err by more
OFF_BY = {True: "its module stays open", False: "moved to the utility side"}
PROOF = {
    "proven": "no plan{} at this price or less keeps more",
    "within": "a plan{} at this price or less keeps {} at most",
    "found": "it is not known whether a plan{} at this price or less keeps more",
}


def proof_words(plan: Plan, *, of_its_size: bool = False) -> str:
    """Say how good a plan is known to be, among all plans or those with its generator."""
    among = " with this generator" if of_its_size else ""
    return PROOF[plan.proof.kind].format(among, share_at_most(plan.proof.bound or 1.0))


def price_sentence(plan: Plan, *, of_its_size: bool = False) -> str:
    """Say what a plan costs, how much it keeps, and how good it is known to be."""
    return (f"Installed cost {money(plan.cost_usd, plan.menu.book.currency)}; {keeps(plan)}; "
            f"{proof_words(plan, of_its_size=of_its_size)}.")


def keeps(plan: Plan) -> str:
    """Say the coverage: ``98.4 % of what the family wants is kept, by importance``."""
    return f"{share(plan.coverage)} of what the family wants is kept, by importance"


def capacity_sentence(plan: Plan) -> str:
    """Say what the generator is rated, what the site leaves, what may be planned, what starts."""
    supply, home = plan.supply, plan.menu.house.home
    legs = "" if supply.generator.derating.kva_too else " (amperes are not derated)"
    return (f"Rating on {home.fuel} {supply.generator.ratings[home.fuel].kw:g} kW; derated for "
            f"{number(hottest_degf(home), 0)} degF (on all days as on the hottest) and "
            f"{number(home.altitude_ft, 0)} ft: {watts(supply.derated_kw)} W, "
            f"{number(floored(supply.leg_a / home.limits.largest_share, 0.1))} A per leg{legs}; "
            f"{share(home.limits.largest_share)} may be planned: {rating(supply.capacity_kw)} kW, "
            f"{number(floored(supply.leg_a, 0.1))} A per leg. "
            f"It starts up to {number(floored(supply.startable_kva, 0.1))} kVA of motors at the "
            "allowed dip.")


def calculated_sentence(plan: Plan) -> str:
    """Say the calculated load of what is always connected, and what it is held against."""
    sheets = always_connected(plan.menu, plan.choice)
    part_three = f"{number(sheets.standard.total_va, 0)} VA by Part III"
    sums = (f"{part_three} (the optional method is not permitted)" if sheets.why_not_optional else
            f"{number(sheets.optional.total_va, 0)} VA by the optional method, {part_three}; the "
            "lesser counts")
    if sheets.counts is sheets.measured:
        number_of = clause(plan.menu.house.home.code.edition, "220.87")
        sums = (f"{number(sheets.counts.total_va, 0)} VA by the measured demand ({number_of}), "
                f"which is less than {number(sheets.calculated.total_va, 0)} VA by the "
                f"{sheets.calculated.method} method")
    return (f"Calculated load of what is always connected: {sums}; the generator may carry "
            f"{watts(plan.supply.derated_kw)} W here ({CONVENTION}).")


def average_sentence(plan: Plan) -> str:
    """Say how hard the generator works on average on the worst design day, and what is permitted.

    An average that is not permitted is said first.
    """
    found = average_of(plan)
    source = "by its maker" if found.by_maker else "ISO 8528-1"
    said = (f"average load over 24 h {share_at_most(found.share)} of the rating here on "
            f"{found.day}, {share(found.permitted)} permitted ({source})")
    return f"{said[0].upper()}{said[1:]}." if found.is_kept else f"Above what is permitted: {said}."


def bearing_sentences(plan: Plan, goal: float | None = None) -> tuple[str, ...]:
    """Say how much starts and draws may grow before a plan misses its goal, and its average load.

    Without a `goal` (0-1) a plan is held to a point less than it covers.
    """
    return (*margin_sentences(margin_of(plan, goal)), average_sentence(plan))


def room_sentence(plan: Plan) -> str:
    """Say in a line how much the plan can bear: the first thing an estimator wants to know."""
    margin = margin_of(plan)
    return (f"Safety margin: starts may grow {_bears(margin.starts)}, running draws "
            f"{_bears(margin.draws)}, before the plan keeps a point less or no longer works.")


def _bears(growth: Growth) -> str:
    return f"{down(growth.keeps)}{' and more' if growth.is_endless else ''}"


def tight_sentence(plan: Plan) -> str:
    """Say what has least room where that is less than the error of an estimate; else nothing."""
    margin = margin_of(plan)
    draws, starts = margin.draws, margin.starts
    what, least = ("running draws", draws) if draws.keeps < starts.keeps else ("starts", starts)
    return f"Small safety margin: {what} may grow {_bears(least)}." if is_tight(plan) else ""


def is_tight(plan: Plan) -> bool:
    """Whether a plan has less room than the error of an estimate."""
    margin = margin_of(plan)
    return min(margin.starts.keeps, margin.draws.keeps) < LITTLE_ROOM


def always_on(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that are always connected, in the order of the file."""
    return tuple(part for part in plan.loads if part.connection == "direct")


def taking_turns(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that take turns, first priority first."""
    return tuple(plan.loads[i] for i in plan.choice.order)


def left_off(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that are not on standby power, in the order of the file."""
    return tuple(part for part in plan.loads if part.connection == "off")


def left_off_words(plan: Plan) -> tuple[str, ...]:
    """Name what is not on standby power; behind whole-house transfer also what it is off by."""
    if plan.menu.kind != "whole-house":
        return tuple(part.label for part in left_off(plan))
    return tuple(f"{part.label} ({OFF_BY[part.stays_open]})" for part in left_off(plan))


def by_hand(plan: Plan) -> tuple[LoadPlan, ...]:
    """The loads that the family switches off itself, in the order of the file."""
    return tuple(part for part in plan.loads if part.connection == "by hand")


def by_hand_sentence(plan: Plan) -> str:
    """Say what the family has to switch off itself, and what is counted until then; or nothing."""
    names = [part.label for part in by_hand(plan)]
    if not names:
        return ""
    return (f"When the power fails somebody at home switches off, at the panel or at the thing "
            f"itself, and leaves off: {listed(names)}. Until then it is counted as running.")


def turn_sentence(plan: Plan, part: LoadPlan) -> str:
    """Say what taking turns means for one load."""
    if part.called_h == 0.0:
        return f"{part.label}: not used on these days."
    if part.served_h == 0.0:
        return f"{part.label}: never runs{_makes(plan, part)}."
    late = wait_words(plan, part.id)
    if late:
        return f"{part.label}: done {late} later{_makes(plan, part)}."
    if reaches(part.service, 1.0):
        return f"{part.label}: runs whenever it is wanted."
    return f"{part.label}: takes turns{_makes(plan, part)}."


def _makes(plan: Plan, part: LoadPlan) -> str:
    """Say what its comfort is like on the hardest day, unless nobody minds."""
    if not part.comfort:
        return ""
    kept = plan.comfort(part.comfort)
    return f"; {kept.comfort.label}: {told(kept, plan)}"
