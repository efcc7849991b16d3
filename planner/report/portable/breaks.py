"""What a portable generator breaks while somebody works it: said before what it keeps."""

from __future__ import annotations

from planner.facts.home import SLOT_H
from planner.report.smaller_words import listed
from planner.report.words import hour, span
from planner.service.kept import Unkept
from planner.study.portable.flooding import Cause, Overflow
from planner.study.portable.option import ByHand
from planner.study.portable.periods import GAP_SLOTS
from planner.tolerances import floored

WHY: dict[Cause, str] = {
    "refuelling": f"the engine stands {span(GAP_SLOTS * SLOT_H)} to be refuelled then",
    "empty tank": "the tank is empty by then and nobody is up to fill it",
    "breaker off": "its pump is off then, since it does not fit beside what is on",
    "too large": "the generator cannot feed or start its pump at all",
    "pump": "its pump runs and is too small",
}
KEEPS_ALL = "It keeps every promise of the family while somebody works it."


def broken_sentences(option: ByHand) -> tuple[str, ...]:
    """Say which promises of the family it breaks, floods first with hour and cause."""
    if not option.broken:
        return (KEEPS_ALL,)
    floods = [_flood(option, one) for one in option.overflows]
    wet = {one.comfort.id for one in option.overflows}
    others = [one for one in option.broken if one.comfort not in wet]
    if others:
        floods.append(f"Promises that it breaks{' besides' if wet else ''} even so: "
                      f"{told_broken(others)}.")
    return tuple(floods)


def _flood(option: ByHand, one: Overflow) -> str:
    at = listed([hour(one_h) for one_h in one.hours])
    said = (f"Floods: {one.comfort.label} overflows on {option.house.home.days[one.day].label} at "
            f"{at}: {WHY[one.cause]}")
    if one.cause in ("refuelling", "empty tank", "breaker off"):
        fills = floored(one.fills_min, 1.0)
        said += f", and without its pump the pit is full within {fills:.0f} min"
    if one.cause == "refuelling":
        said += ("; no other hour of that day is better" if one.always else
                 "; at the hours at which it would not be, a tank does not last to the next "
                 "refuelling, or more is lost")
    return f"{said}. A pump with a battery of its own would keep it dry meanwhile."


def broken_in_short(option: ByHand) -> str:
    """Name the comforts whose promise it breaks, floods first; ``nothing`` without any."""
    wet = {one.comfort.id for one in option.overflows}
    floods = [f"{one.label} floods" for one in option.broken if one.comfort in wet]
    return "; ".join([*floods, *(one.label for one in option.broken if one.comfort not in wet)]
                     ) or "nothing"


def told_broken(broken: list[Unkept] | tuple[Unkept, ...]) -> str:
    """Say which promises are broken."""
    return "; ".join(str(one) for one in broken)


def missed_sentence(option: ByHand) -> str:
    """Say which loads that must run have no power somewhere; empty if none."""
    if not option.missed:
        return ""
    when = "while the engine stands" if option.misses_standing else "at times"
    return (f"Must run, and without power {when}: "
            f"{listed([load.label for load in option.missed])}.")


def asleep_words(option: ByHand) -> str:
    """Say what breaks besides if the utility leaves while nobody is up; empty if nothing."""
    wet = [f"{label} overflows" for label in option.floods_asleep]
    dry = [str(one) for one in option.broken_asleep if one.label not in option.floods_asleep]
    return f", and then: {'; '.join([*wet, *dry])}" if wet or dry else ""
