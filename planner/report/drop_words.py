"""What is said of a frequency that falls below the level at which all modules open."""

from __future__ import annotations

from planner.report.words import count, number, seconds_span
from planner.simulation import falls
from planner.simulation.events import clock_of
from planner.simulation.outcome.drops import Drop
from planner.simulation.outcome.results import Results
from planner.simulation.outcome.summary import Summary


def drop_sentences(results: Results) -> list[str]:
    """Say how often the frequency falls below the fast level, and tell of the lowest in full."""
    found = [(drop, one) for one in results.summaries for drop in one.drops]
    if not found:
        return []
    worst, where = min(found, key=lambda pair: pair[0].lowest_hz)
    hit = sum(bool(one.drops) for one in results.summaries)
    times = count(len(found), "time")
    opens = (", where the controller opens all modules," if results.plan.price.controller else "")
    return [f"The frequency falls below {worst.level_hz:g} Hz{opens} {times} in {hit} of "
            f"{count(len(results.summaries), 'outage')}. The lowest: {worst.lowest_hz:.1f} Hz, "
            f"{_place(results, where)}, {clock_of(worst.second)}, {_start(results, worst)}. "
            f"{_lasted(results, worst)}"]


def _place(results: Results, where: Summary) -> str:
    day = next(one for one in results.plan.menu.house.home.days if one.id == where.day)
    return f"{day.label}, random outage number {where.seed}"


def _start(results: Results, drop: Drop) -> str:
    why = falls.CAUSES[drop.cause]
    if drop.who < 0:
        return f"after no start: {why}"
    return f"after {results.plan.loads[drop.who].label} began at {clock_of(drop.began)} ({why})"


def _lasted(results: Results, drop: Drop) -> str:
    machine = results.plan.supply.generator
    assumed = ", assumed" if "under_frequency" in machine.unstated else ""
    return (f"It stood {number(drop.level_s, 2)} s below {drop.level_hz:g} Hz, and at most "
            f"{number(drop.protection_s, 2)} s on end below the {machine.low_frequency_hz:g} Hz at "
            f"which its protection stops the generator after "
            f"{seconds_span(machine.low_frequency_s)}{assumed}.")
