"""How a search ended, in words and as data: what a clock or somebody cut short is marked."""

from __future__ import annotations

from planner.plan.proof import SAME
from planner.report.smaller_words import listed
from planner.report.words import share
from planner.search.frontier import Frontier
from planner.search.limits import Stop
from planner.study.compare import Comparison
from planner.study.recommend import Recommendation
from planner.tolerances import ceiled

SAME_FILE = "The same file may give another plan."
SMALLER_OPEN = "Whether a smaller generator would do as well is not known."


def ended_words(stop: Stop | None) -> str:
    """Say what ended a search before it was done: ``ended after 5 s``; empty if nothing did."""
    if stop is None or not stop.ended:
        return ""
    return ("interrupted" if stop.ended == "asked" or stop.seconds is None else
            f"ended after {stop.seconds:g} s")


def ended_sentences(stop: Stop | None) -> tuple[str, ...]:
    """Say that a search was ended before it was done, and what that means; or nothing."""
    said = ended_words(stop)
    if not said:
        return ()
    return (f"The search was {said}." if said == "interrupted" else
            f"The search {said}; the same file may give another plan.",)


def search_sentences(found: Recommendation, stop: Stop | None) -> tuple[str, ...]:
    """Say how the search for a plan ended, and what the plan therefore may not be."""
    lines = list(ended_sentences(stop))
    if not found.reached:
        lines.append(f"No plan that keeps {share(found.coverage)} was found by then; this one "
                     "keeps most of those found.")
    elif lines and found.asked and not found.holds:
        lines.append("Sturdier plans may not all have been compared.")
    if found.smaller_open:
        lines.append(SMALLER_OPEN)
    return tuple(lines)


def open_sentence(found: Frontier) -> str:
    """Say what a frontier leaves open; empty where all of it is proven."""
    if found.widest_gap <= SAME and not found.may_be_cheaper:
        return ""
    more = (f"a plan may keep up to {100.0 * ceiled(found.widest_gap, 0.001):.1f} points more for "
            "its price" if found.widest_gap > SAME else "")
    cheaper = "one may be cheaper than the first" if found.may_be_cheaper else ""
    return f"Not all of this is proven: {listed([one for one in (more, cheaper) if one])}."


def unsure_sentences(found: Comparison, goal: float) -> tuple[str, ...]:
    """Say of which sizes a plan that keeps a goal, or any plan, was not found but may exist."""
    lines = []
    if found.maybe_more:
        lines.append(f"Not known: whether {listed(found.maybe_more, 'or')} can keep {share(goal)}, "
                     "or that for less; shown is the best that was found.")
    if found.not_found:
        lines.append(f"Not known: whether {listed(found.not_found, 'or')} can serve the home; no "
                     "plan was found.")
    return tuple(lines)


def ended_data(stop: Stop | None) -> dict[str, object] | None:
    """Give what ended a search before it was done; None if nothing did."""
    if stop is None or not stop.ended:
        return None
    if stop.ended == "asked":
        return {"by": "interruption", "seconds": None}
    return {"by": "clock", "seconds": stop.seconds}
