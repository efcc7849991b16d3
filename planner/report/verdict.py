"""What many simulated outages say against a plan, in sentences; nothing if it holds."""

from __future__ import annotations

from planner.report.words import count, number, share
from planner.simulation.agreement import agreement_of
from planner.simulation.results import Results

MUCH_OVERLOAD_S = 300.0  # a day; above it the estimator is told (common practice, no source)
WIDE_GAP = 0.03  # of the coverage; above it the estimator is told (common practice, no source)


def verdict_sentences(results: Results, *, fault: bool = False) -> list[str]:
    """Say what speaks against the plan: trips, overload, rooms not livable, coverage not kept.

    Under a `fault` the plan promises nothing, so only the machine is judged.
    """
    return [*_fell(results), *_over(results), *_unlivable(results),
            *([] if fault else _short(results))]


def _fell(results: Results) -> list[str]:
    fell = sum(one.trips + one.stalls > 0 for one in results.summaries)
    if not fell:
        return []
    played = count(len(results.summaries), "outage")
    return [f"Do not offer this plan as it is: in {fell} of {played} the generator tripped or "
            "stalled. Simulate one with a larger generator or more soft starters first."]


def _over(results: Results) -> list[str]:
    over_s = results.per_day(lambda one: one.overload_s).value
    if over_s <= MUCH_OVERLOAD_S:
        return []
    return [f"Small safety margin: {number(over_s / 60.0)} min a day stand above a rating, in "
            "short spells before something is shed. Starts and elements that cycle do it."]


def _unlivable(results: Results) -> list[str]:
    """Name the rooms on standby power that become unlivable although the utility keeps them."""
    return [f"Not livable: {one.label}, {one.day_label}: {one.worst_degf:.0f} degF in the worst "
            f"outage, with the utility {one.utility_degf:.0f} degF."
            for one in results.rooms()
            if one.lived_in and one.connected and one.unlivable_h > 0.0]


def _short(results: Results) -> list[str]:
    gap = agreement_of(results).coverage
    if gap.difference >= -WIDE_GAP:
        return []
    return [f"The plan promises too much: {share(gap.planned)} planned, "
            f"{number(-100.0 * gap.difference)} points less simulated."]
