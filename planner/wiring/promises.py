"""A promise in the words of a file."""

from __future__ import annotations

from planner.facts.comfort import Promise


def promise_text(promise: Promise | None) -> str:
    """Say a promise as a file would write it; empty text for none."""
    if promise is None:
        return ""
    said = [f"{degf:g} degF" for degf in (promise.coldest_degf, promise.warmest_degf)
            if degf is not None]
    if promise.uncut:
        said.append("never cut")
    if promise.cold_showers is not None:
        count = promise.cold_showers
        showers = "shower" if count <= 1.0 else "showers"
        said.append(f"at most {count:g} cold {showers}" if count else "no cold shower")
    if promise.miles is not None:
        minutes = round(60.0 * (promise.by_h or 0.0))
        said.append(f"{promise.miles:g} mi by {minutes // 60}:{minutes % 60:02d}")
    if promise.safe:
        said.append("safe")
    return ", ".join(said)
