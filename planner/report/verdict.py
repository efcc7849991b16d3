"""What many simulated outages say against a plan, in sentences; nothing if it holds."""

from __future__ import annotations

from collections import Counter

from planner.plan.average import permitted_average
from planner.report.comforts.lived_words import promise_sentences
from planner.report.drop_words import drop_sentences
from planner.report.wish_words import broken_sentences
from planner.report.words import beyond, brief, count, number, share, share_at_most
from planner.simulation import falls
from planner.simulation.outcome.agreement import agreement_of
from planner.simulation.outcome.interval import share_interval
from planner.simulation.outcome.results import Results
from planner.simulation.rooms import RoomResult

MUCH_OVERLOAD_S = 300.0  # a day; above it the estimator is told (common practice, no source)
FEW_DIPS_H = 3.0  # an hour; a family sees more as flicker (a choice, no source)
SHORT_UNLIVABLE_H = 0.25  # a day; less is said as a short while (a choice, no source)
FAR_DEGF = 5.0  # behind the utility; less is not said by itself (a choice, no source)
WIDE_GAP = 0.03  # of the coverage; above it the estimator is told (common practice, no source)


def verdict_sentences(results: Results, *, fault: bool = False) -> list[str]:
    """Say what speaks against the plan: trips, frequency, overload, rooms, wishes not kept.

    Under a `fault` the plan promises nothing, so only the machine is judged.
    """
    promised = [] if fault else [*promise_sentences(results), *broken_sentences(results),
                                   *_short(results)]
    return [*_fell(results), *drop_sentences(results), *_dipped(results), *_average(results),
            *_over(results), *_flicker(results), *promised, *_unlivable(results)]


def certainty(results: Results) -> str:
    """Say in how many outages the generator fell out, with the 95 % interval."""
    fell = sum(one.trips + one.stalls > 0 for one in results.summaries)
    low, high = share_interval(fell, len(results.summaries))
    return (f"The generator tripped or stalled in {fell} of "
            f"{count(len(results.summaries), 'outage')}: {100.0 * low:.1f} to {100.0 * high:.1f} % "
            "of all (95 % interval).")


def _fell(results: Results) -> list[str]:
    fell = sum(one.trips + one.stalls > 0 for one in results.summaries)
    if not fell:
        return []
    played = count(len(results.summaries), "outage")
    causes = Counter(cause for one in results.summaries for what, cause in one.falls
                     if what != falls.DIP)
    why = ", ".join(f"{falls.CAUSES[cause]} ({number})" for cause, number in causes.most_common())
    return [f"Do not offer this plan as it is: in {fell} of {played} the generator tripped or "
            f"stalled{f'. Why: {why}' if why else ''}. Simulate one with a larger generator or "
            "more soft starters first."]


def _dipped(results: Results) -> list[str]:
    causes = Counter(cause for one in results.summaries for what, cause in one.falls
                     if what == falls.DIP)
    if not causes:
        return []
    cause, _ = causes.most_common(1)[0]
    dips = results.per_day(lambda one: sum(what == falls.DIP for what, _ in one.falls)).value
    allowed = results.plan.menu.house.home.limits.allowed_dip
    return [f"{number(dips, 2)} starts a day dip by more than the {share(allowed)} that are "
            f"allowed, mostly: {falls.CAUSES[cause]}. A soft starter is a way out."]


def _average(results: Results) -> list[str]:
    highest = results.worst(lambda one: one.load_factor)
    permitted, stated = permitted_average(results.plan), results.plan.supply.generator
    if highest <= permitted:
        return []
    source = ("its maker permits" if stated.permitted_average is not None else
              "a standby rating permits unless the maker agrees to more (ISO 8528-1)")
    return [f"The average over 24 h reaches {share_at_most(highest)} of the rating, and "
            f"{share(permitted)} is what {source}."]


def _over(results: Results) -> list[str]:
    over_s = results.per_day(lambda one: one.overload_s).value
    if over_s <= MUCH_OVERLOAD_S:
        return []
    return [f"Small safety margin: {number(over_s / 60.0)} min a day stand above a rating, in "
            "short spells before something is shed. Starts and elements that cycle do it."]


def _flicker(results: Results) -> list[str]:
    """Say how often the lights dip, and whether computers ride through, where it is often."""
    dips = results.per_day(lambda one: one.light_dips).value
    if dips <= 24.0 * FEW_DIPS_H:
        return []
    drops = results.per_day(lambda one: one.computer_drops).value
    computers = (f"{number(drops, 2)} times a day a dip is too deep or too long for computers, "
                 "which may then restart: give them a battery backup" if drops >= 0.005 else
                 "computers ride through")
    return [f"The lights dip visibly about {number(dips / 24.0, 0)} times an hour "
            f"({number(dips, 0)} times a day), as motors start; {computers}."]


def _unlivable(results: Results) -> list[str]:
    """Name the rooms on standby power that fall far behind what the utility keeps."""
    found = [one for one in results.rooms() if one.lived_in and one.connected]
    return [room_sentence(one) if one.unlivable_h > 0.0 else _behind(one) for one in found
            if one.unlivable_h > 0.0 or abs(one.worst_degf - one.utility_degf) >= FAR_DEGF]


def _behind(one: RoomResult) -> str:
    """Say how far a room that stays livable is behind what the utility keeps."""
    apart = abs(one.worst_degf - one.utility_degf)
    return (f"{one.label}, {one.day_label}: {number(apart, 0)} degF {_way(one)} than with the "
            f"utility in the worst outage, {one.worst_degf:.0f} degF.")


def _way(one: RoomResult) -> str:
    return "warmer" if one.cooled else "colder"


def room_sentence(one: RoomResult) -> str:
    """Say for how long a room is not livable, then how far beyond the limit it goes."""
    head = ("For a short while not livable" if one.unlivable_h < SHORT_UNLIVABLE_H
            else "Not livable")
    return (f"{head}, {brief(one.unlivable_h)} a day on average: {one.label}, {one.day_label}: "
            f"{beyond(one.worst_degf, one.limit_degf)} degF in the worst outage, livable "
            f"{'up' if one.cooled else 'down'} to {one.limit_degf:g} degF, with the utility "
            f"{one.utility_degf:.0f} degF.")


def _short(results: Results) -> list[str]:
    gap = agreement_of(results).coverage
    if gap.difference >= -WIDE_GAP:
        return []
    return [f"The plan promises too much: {share(gap.planned)} planned, "
            f"{number(-100.0 * gap.difference)} points less simulated."]
