"""The breaker and the poles of a circuit, held against what its kind usually has."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from planner.case.library import Kind
from planner.case.messages import note, warning
from planner.case.read import read_home_text
from planner.editing.items import with_items
from planner.editing.new_home import EMPTY_HOME
from planner.editing.values import Value
from planner.errors import CaseError, Finding
from planner.facts.home import Load
from planner.physics.draw import LINE_VOLTS
from planner.physics.wire.branch import CONTINUOUS, branch_circuit

AT_120_V = {"range": "gas range", "cooktop": "gas range", "wall oven": "gas range",
            "electric dryer": "gas dryer", "electric water heater": "power-vent water heater",
            "tankless electric water heater": "gas tankless water heater",
            "grinder pump": "sewage ejector"}
"""What stands on one pole where the electric one needs two: common practice, no source."""
AT_240_V = {"gas furnace": "electric furnace"}
RANGE_CIRCUIT_A = 50
"""NEC 210.23 (2017 to 2023), from memory: circuits of 40 and 50 A supply cooking of any size."""
SIZED_BY_BREAKER = ("electric furnace", "heat pump back-up heat", "electric baseboard heat")
_STORAGE_HEATERS = ("electric water heater", "heat pump water heater")


def checked(
    row: Mapping[str, Value], kind: Kind, where: str, breaker_a: float | None, *, shared: bool
) -> tuple[dict[str, Value], list[Finding]]:
    """Put the breaker of its circuit into a row, or say why it does not belong there.

    A breaker that several loads share may be larger than one of them asks for.

    Returns
    -------
    tuple
        The row, without what could not be read, and findings.
    """
    found: list[Finding] = []
    kept = dict(row)
    if breaker_a is not None:
        kept["breaker"] = f"{breaker_a:g} A"
    load = _load_of(kept)
    for key in ("breaker", "nameplate", "size", "leg"):
        if isinstance(load, Load):
            break
        if key in kept and any(f": {key}: " in f"{one.where}: " for one in load):
            found += [warning(where, f"{one.sentence}", f"{one.remedy} {key} is left out.".strip())
                      for one in load if f": {key}: " in f"{one.where}: "]
            del kept[key]
            load = _load_of(kept)
    if not isinstance(load, Load) or "breaker" not in kept or breaker_a is None:
        return kept, found
    if kind.category == "vehicle":
        return kept, found
    assumed = any(one.key == "size" for one in load.assumed)
    found += _sizes(load, kind, where, breaker_a, shared=shared, assumed=assumed)
    return kept, found


def by_breaker(kind: Kind, breaker_a: float, volts: float) -> str | None:
    """Largest size of electric heat behind a breaker, 80 % of it, where the kind is sized in kW.

    References
    ----------
    NEC 424.4(B) (2020, 2023), from memory: the circuit of fixed heating counts 125 % of it.
    """
    option = next((one for one in kind.sizes if one.unit == "kW"), None)
    if kind.name not in SIZED_BY_BREAKER or option is None:
        return None
    kw = int(10.0 * volts * breaker_a / CONTINUOUS / 1000.0) / 10.0
    return f"{min(max(kw, option.low), option.high):g} kW"


def _sizes(
    load: Load, kind: Kind, where: str, breaker_a: float, *, shared: bool, assumed: bool
) -> list[Finding]:
    drawn_a = load.code.va / load.volts
    as_said = "as is assumed" if assumed else "as is said"
    heats = kind.category in ("heating", "supplemental-heat")
    if (heats or kind.name in _STORAGE_HEATERS) and breaker_a < CONTINUOUS * drawn_a - 0.5:
        clause = "424.4(B)" if heats else "422.13"
        return [warning(where, f"a {breaker_a:g} A breaker is small for {drawn_a:.1f} A, "
                        f"{as_said}: 125 % of it is {CONTINUOUS * drawn_a:.1f} A (NEC {clause}).",
                        "Check the nameplate and the breaker.")]
    usual = branch_circuit(replace(load, breaker_a=None))
    if shared or breaker_a <= usual.breaker_a or (kind.category == "cooking"
                                        and breaker_a <= RANGE_CIRCUIT_A):
        return []
    remedy = ("Electric back-up heat may stand behind the same breaker: add it, with its kW."
              if kind.category == "air-handler" else
              "It may be larger: write its size." if assumed else "Check the nameplate.")
    return [note(where, f"a {breaker_a:g} A breaker is above the {usual.breaker_a:g} A for "
                 f"{drawn_a:.1f} A, {as_said} ({usual.clause}).", remedy)]


def _load_of(row: Mapping[str, Value]) -> Load | tuple[Finding, ...]:
    return _read(tuple(sorted((key, str(value)) for key, value in row.items()
                              if key not in ("label", "panel"))))


@lru_cache(maxsize=512)
def _read(row: tuple[tuple[str, str], ...]) -> Load | tuple[Finding, ...]:
    base = EMPTY_HOME.partition("[[loads]]")[0]
    try:
        home, _ = read_home_text(with_items(base, "loads", [dict(row)]), "circuit")
    except CaseError as problem:
        return problem.findings
    return home.loads[-1]


def volts_of(poles: int) -> float:
    """Volts of a circuit by its poles; both legs where nobody says."""
    return LINE_VOLTS / 2.0 if poles == 1 else float(LINE_VOLTS)
