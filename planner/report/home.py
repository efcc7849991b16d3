"""A home as plain data: what the planner understood and what it assumed."""

from __future__ import annotations

from dataclasses import asdict

from planner.facts.assumption import Assumption
from planner.facts.comfort import Comfort
from planner.facts.home import SLOT_H, Home
from planner.report.words import count
from planner.wiring.promises import promise_text


def home_sentence(home: Home) -> str:
    """Say a home in a line: its service, area and fuel, what is in it, what was assumed."""
    assumed = (len(home.assumed) + sum(len(one.assumed) for one in home.loads)
               + sum(len(one.assumed) for one in home.comforts))
    return (f"{home.service_a:g} A service, {home.floor_area_ft2:,.0f} ft², {home.fuel}; "
            f"{count(len(home.loads), 'load')} for {count(len(home.comforts), 'comfort')}; "
            f"{count(assumed, 'value')} assumed.")


def home_data(home: Home) -> dict[str, object]:
    """Give a home's comforts and loads as the planner understands them, and what was assumed."""
    return {
        "case": home.id,
        "label": home.label,
        "service_a": home.service_a,
        "assumed": [_assumed(one) for one in home.assumed],
        "spell_days": home.spell_days,
        "weather": None if home.weather is None else asdict(home.weather),
        "days": {day.id: {"label": day.label, "season": day.season, "weight": day.weight,
                          "low_degf": day.low_degf, "high_degf": day.high_degf}
                 for day in home.days},
        "comforts": {one.id: _comfort(one) for one in home.comforts},
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
                "nature": load.nature,
                "comfort": load.comfort or None,
                "pause_h": load.pause_slots * SLOT_H,
                "wait_h": load.wait_h,
                "allowed": sorted(load.allowed),
                "assumed": [_assumed(one) for one in load.assumed],
            }
            for load in home.loads
        },
    }


def _comfort(one: Comfort) -> dict[str, object]:
    room: dict[str, object] = {}
    if one.kind == "room":
        room = {"heating_set_degf": one.heating_set_degf, "cooling_set_degf": one.cooling_set_degf,
                "time_constant_h": one.time_constant_h, "lived_in": one.lived_in,
                "refuge": sorted(one.refuge)}
    return {"label": one.label, "kind": one.kind, "loads": list(one.loads),
            "importance": one.importance, "must_run": one.must_run,
            "promise": promise_text(one.promise) or None, **room,
            "assumed": [_assumed(each) for each in one.assumed]}


def _assumed(one: Assumption) -> dict[str, object]:
    return {"key": one.key, "text": one.text, "source": one.source, "spread": one.spread}
