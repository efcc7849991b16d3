"""Numbers as a reader expects them, each with its unit."""

from __future__ import annotations

from planner.plan.proof import Proof
from planner.tolerances import ceiled, floored

WIDE = 0.5  # of all; a wider interval of a share says nothing (a choice)


def money(usd: float, currency: str = "USD") -> str:
    """Write an amount with thousands separated: ``9,350 USD``."""
    return f"{usd:,.0f} {currency}"


def share(value: float) -> str:
    """Write a share of 1 in percent, never rounded up: whoever asks for it gets it.

    So only an exact whole is written ``100 %``: 0.9996 would promise that nothing is missed.
    """
    percent = floored(100.0 * value, 0.1)
    return f"{percent:.1f} %" if percent < 100.0 else "100 %"


def share_at_most(value: float) -> str:
    """Write a share of 1 in percent, never rounded down: nothing is above it."""
    percent = min(100.0, ceiled(100.0 * value, 0.1))
    return f"{percent:.1f} %" if percent < 100.0 else "100 %"


def half_width(half: float) -> str:
    """Write half of an interval of a share: ``2.5 %``; beyond half of all it says nothing."""
    return f"{100.0 * half:.1f} %" if half <= WIDE else "over 50 %"


def in_percent(value: float) -> float:
    """Turn a share of 1 into percent, to a hundredth."""
    return round(100.0 * value, 2)


def from_percent(percent: float) -> float:
    """Turn percent into a share of 1."""
    return percent / 100.0


def span(hours: float) -> str:
    """Write a length of time: ``none``, ``45 min``, ``2 h``, ``2 h 15 min``."""
    minutes = round(60.0 * hours)
    if minutes == 0:
        return "none"
    whole, rest = divmod(minutes, 60)
    return " ".join(part for part in (f"{whole} h" if whole else "", f"{rest} min" if rest else "")
                    if part)


def brief(hours: float) -> str:
    """Write a length of time that is not none: ``less than 1 min``, else as `span`."""
    said = span(hours)
    return "less than 1 min" if said == span(0.0) else said


def beyond(value: float, limit: float) -> str:
    """Write a number without decimals, or with as many as show that it is beyond a limit.

    86.3 beyond 86 is ``86.3``, not ``86``; 86.004 is ``86.01``, the next hundredth beyond.
    """
    for digits in (0, 1, 2):
        shown = f"{value:.{digits}f}"
        if (float(shown) - limit) * (value - limit) > 0.0 or value == limit:
            return shown
    return f"{limit + (0.01 if value > limit else -0.01):.2f}"


def hour(hour_of_day: float) -> str:
    """Write an hour of the day: ``7:00``."""
    minutes = round(60.0 * hour_of_day)
    return f"{minutes // 60 % 24}:{minutes % 60:02d}"


def seconds_span(seconds: float) -> str:
    """Write a length of time as it is set: ``0.5 s``, ``10 s``, ``4 min``, ``90 s``."""
    if seconds >= 60.0 and seconds % 60.0 == 0.0:
        return f"{seconds / 60.0:.0f} min"
    return f"{seconds:g} s"


def number(value: float, digits: int = 1) -> str:
    """Write a number with thousands separated and fixed digits."""
    return f"{value:,.{digits}f}"


def rating(kw: float) -> str:
    """Write what a generator gives at its site [kW], never rounded up: ``9.2``."""
    return f"{floored(kw, 0.1):,.1f}"


CONVENTION = "a convention: the calculated kVA are compared with the kW"


def watts(kw: float) -> str:
    """Write what a generator may carry [W], never rounded up: ``14,779``."""
    return f"{floored(1000.0 * kw, 1.0):,.0f}"


def instead_of(then: float, now: float) -> str:
    """Hold a coverage against the one of now: ``91.0 % instead of 93.0 %``, or ``as much``."""
    return "as much" if share(then) == share(now) else f"{share(then)} instead of {share(now)}"


def proof(known: Proof) -> str:
    """Say how good an answer is known to be, among plans of at most its cost."""
    if known.kind == "proven":
        return "proven"
    return "no bound" if known.bound is None else f"at most {share_at_most(known.bound)}"


def count(items: int, one: str, many: str = "") -> str:
    """Count things: ``1 plan``, ``3 plans``."""
    return f"{items} {one if items == 1 else many or one + 's'}"
