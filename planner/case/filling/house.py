"""What a file leaves out about the house itself: filled in, so that a label and loads are a home.

The same defaults make the text of a new home (`planner.editing.new_home`).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from planner.facts.assumption import Assumption
from planner.facts.comfort import SPELL_DAYS
from planner.facts.home import COOLING_SET_DEGF, HEATING_SET_DEGF
from planner.units import UnitError, magnitude, parse, written

PRACTICE = "common practice, no source"
HOME = {
    "service": "200 A", "floor_area": "2000 ft^2", "altitude": "500 ft",
    "summer_design": "95 degF", "winter_design": "10 degF",
    "heating_set_point": written(HEATING_SET_DEGF, "degF"),
    "cooling_set_point": written(COOLING_SET_DEGF, "degF"), "fuel": "natural gas",
    "transfer": ["whole-house"], "spell": f"{SPELL_DAYS} days",
}
CODE = {"edition": "2023", "method": "optional"}
WARM_NIGHT_DEGF = 21.0  # a hot day's low below its high
FROSTY_NOON_DEGF = 18.0  # a cold day's high above its low
DAYS: tuple[dict[str, Any], ...] = (
    {"id": "hot", "label": "Hot summer day", "season": "summer", "weight": 0.4},
    {"id": "cold", "label": "Cold winter day", "season": "winter", "weight": 0.4},
    {"id": "between", "label": "Mild stormy day", "season": "mild", "weight": 0.2,
     "low": "52 degF", "high": "68 degF"},
)


def filled_house(
    raw: Mapping[str, Any]
) -> tuple[dict[str, Any], tuple[Assumption, ...]]:
    """Fill in what a parsed home file leaves out about the house; nothing that it says is touched.

    Parameters
    ----------
    raw : mapping
        The file as the TOML parser gave it. Without a table ``home`` it is left as it is.

    Returns
    -------
    tuple
        The file with the missing tables and keys, and what was assumed: keys such as
        ``home.service``, ``panels``, ``days``.
    """
    home = raw.get("home")
    if not isinstance(home, Mapping):
        return dict(raw), ()
    assumed: list[Assumption] = []
    filled = {**raw, "home": _with_defaults("home", home, HOME, assumed)}
    code = raw.get("code", {})
    if isinstance(code, Mapping):
        filled["code"] = _with_defaults("code", code, CODE, assumed)
    if raw.get("panels", []) == []:
        service = filled["home"]["service"]
        filled["panels"] = [{"id": "main", "feeder": service}]
        assumed.append(Assumption("panels", f"one of {service}", PRACTICE))
    if raw.get("days", []) == []:
        filled["days"] = default_days(filled["home"])
        assumed.append(Assumption("days", ", ".join(day["label"] for day in filled["days"]),
                                  PRACTICE))
    return filled, tuple(assumed)


def _with_defaults(
    table: str, given: Mapping[str, Any], defaults: Mapping[str, Any], assumed: list[Assumption]
) -> dict[str, Any]:
    missing = {key: value for key, value in defaults.items() if key not in given}
    assumed += [Assumption(f"{table}.{key}",
                           ", ".join(value) if isinstance(value, list) else str(value), PRACTICE)
                for key, value in missing.items()]
    return {**given, **missing}


def default_days(home: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Give one day of each season; the extremes are the design temperatures of the home."""
    hot_degf, cold_degf = _degf(home, "summer_design"), _degf(home, "winter_design")
    extremes = {
        "hot": {"low": written(hot_degf - WARM_NIGHT_DEGF, "degF"),
                "high": written(hot_degf, "degF")},
        "cold": {"low": written(cold_degf, "degF"),
                 "high": written(cold_degf + FROSTY_NOON_DEGF, "degF")},
    }
    return [{**day, **extremes.get(day["id"], {})} for day in DAYS]


def _degf(home: Mapping[str, Any], key: str) -> float:
    """A design temperature; the default where the file's cannot be read, which is a finding."""
    try:
        return magnitude(parse(home.get(key, HOME[key]), "temperature"), "degF")
    except UnitError:
        return magnitude(parse(HOME[key], "temperature"), "degF")
