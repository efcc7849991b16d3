"""A home as plain data: what the planner understood and what it assumed."""

from __future__ import annotations

from planner.facts.assumption import Assumption
from planner.facts.home import Home


def home_data(home: Home) -> dict[str, object]:
    """Give a home's loads as the planner understands them, with what was assumed about each."""
    return {
        "case": home.id,
        "label": home.label,
        "service_a": home.service_a,
        "assumed": [_assumed(one) for one in home.assumed],
        "loads": {
            load.id: {
                "label": load.label,
                "kind": load.kind,
                "panel": load.panel,
                "leg": load.leg,
                "running_kw": load.running_kw,
                "running_kva": load.running_kva,
                "running_a": load.running_a,
                "running_kw_by_day": {day.id: load.kw_on(day.id) for day in home.days},
                "nameplate_a": load.plate_a,
                "restarts": load.restarts,
                "starting_kva": load.starting_kva,
                "must_run": load.must_run,
                "importance": load.importance,
                "wait_h": load.wait_h,
                "allowed": sorted(load.allowed),
                "assumed": [_assumed(one) for one in load.assumed],
            }
            for load in home.loads
        },
    }


def _assumed(one: Assumption) -> dict[str, object]:
    return {"key": one.key, "text": one.text, "source": one.source, "spread": one.spread}
