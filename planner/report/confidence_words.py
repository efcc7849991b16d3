"""In how many houses like this a plan holds, in words."""

from __future__ import annotations

from planner.plan.plan import Plan
from planner.report.smaller_words import listed
from planner.report.words import money
from planner.study.confidence import TO_QUOTE, Confidence, Matter
from planner.study.recommend import Recommendation

MOST_TOLD = 3  # things to verify first
LEAST_GAIN = 0.01  # of the share, that knowing a value has to bring so that it is named

KEYS = {
    "size": "size", "running": "draw", "power_factor": "power factor", "nameplate": "nameplate",
    "motor": "motor", "locked_rotor": "starting current", "start_power_factor":
    "power factor of its start", "start_seconds": "seconds of a start",
    "time_constant": "how fast it drifts", "inertia": "inertia", "governor_lag": "governor lag",
}


def holds_in(confidence: Confidence) -> str:
    """Say ``holds in 83 of 100 houses like this``; rounded down."""
    return f"holds in {confidence.of_100} of 100 houses like this"


def of_100(share: float) -> str:
    """Say a share of houses (0-1) as ``75 of 100``."""
    return f"{100.0 * share:.0f} of 100"


def confidence_sentences(found: Recommendation) -> tuple[str, ...]:
    """Say how well the recommended plan stands what is assumed, and the cheaper one that does not.

    Empty where that was not asked, or nothing is assumed.
    """
    confidence = found.confidence
    if confidence is None or not (confidence.matters or found.frail):
        return ()
    lines = [f"If what is assumed about this house is off, it still {holds_in(confidence)}"
             f"{_asked(found)}."]
    if not found.asked and confidence.share < TO_QUOTE:
        lines[0] += f" A quote takes {of_100(TO_QUOTE)}."
    lines += [_frail(found.frail, found.frail_confidence, found)] if (
        found.frail and found.frail_confidence) else []
    if found.nearest and found.nearest_confidence:
        lines.append(f"For {money(found.nearest.cost_usd, found.plan.menu.book.currency)} one "
                     f"{holds_in(found.nearest_confidence)}, with the "
                     f"{found.nearest.supply.generator.label}.")
    if not found.holds:
        lines.append("None of the plans that were compared holds in as many as were asked for; "
                     "this one holds in most.")
    first = verify_first(confidence)
    if first:
        named = listed([matter_words(one) for one in first])
        lines.append(f"Verify first, it raises that most: {named}.")
    else:
        lines += _would_settle(found)
    return tuple(lines)


def _would_settle(found: Recommendation) -> list[str]:
    """Say what would let the cheaper plan hold, where nothing of the recommended one is open."""
    confidence = found.nearest_confidence or found.frail_confidence
    first = verify_first(confidence) if confidence else ()
    if not first:
        return []
    named = listed([f"{matter_words(one)}: {of_100(one.share_if_known)}" for one in first])
    return ["Before you pay for more, verify what decides whether the cheaper one holds; in how "
            f"many houses it would if that is as assumed: {named}."]


def verify_first(confidence: Confidence) -> tuple[Matter, ...]:
    """What raises the share most if it turns out as assumed, at most three things."""
    return tuple(one for one in confidence.matters[:MOST_TOLD]
                 if one.share_if_known >= confidence.share + LEAST_GAIN)


def matter_words(matter: Matter) -> str:
    """Name what is not known, with the value that is assumed."""
    guess = matter.guess
    return f"{guess.label}, {KEYS.get(guess.key, guess.key)} ({guess.value})"


def _asked(found: Recommendation) -> str:
    return f" ({100.0 * found.asked:.0f} were asked for)" if found.asked > 0.0 else ""


def _frail(frail: Plan, confidence: Confidence, found: Recommendation) -> str:
    less_usd = found.plan.cost_usd - frail.cost_usd
    but = (f"that plan {holds_in(confidence)}" if confidence.share < found.asked else
           "no arrangement of its 120 V loads is carried by both lines of its generator")
    bought = added_words(frail, found.plan)
    return (f"{money(less_usd, found.plan.menu.book.currency)} less would do in the house as it is "
            f"assumed, with the {frail.supply.generator.label}, but {but}."
            f"{f' The difference buys {bought}.' if bought else ''}")


def added_words(frail: Plan, plan: Plan) -> str:
    """Name what a plan has beyond one with the same generator; empty if it is another size."""
    if frail.supply.generator.id != plan.supply.generator.id:
        return ""
    pairs = list(zip(frail.loads, plan.loads, strict=True))
    soft = [new.label for old, new in pairs if new.soft_starter and not old.soft_starter]
    firm = [new.label for old, new in pairs
            if new.connection == "direct" and old.connection == "module"]
    more = [plan.menu.house.home.loads[i].label
            for i in sorted(plan.choice.sensing - frail.choice.sensing)]
    said = [f"a soft starter for {listed(soft)}" if soft else "",
            f"{listed(firm)} always connected" if firm else "",
            f"a module that senses the call of {listed(more)}" if more else ""]
    return listed([one for one in said if one])
