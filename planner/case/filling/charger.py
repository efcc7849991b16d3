"""What a vehicle charger draws: by the current it is set to, its size, or its breaker."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.library import Kind
from planner.physics.draw import LINE_VOLTS
from planner.physics.wire.branch import vehicle_a
from planner.units import magnitude, written

if TYPE_CHECKING:
    from planner.case.filling.sizes import Size

BY_BREAKER = "80 % of its breaker: charging is continuous, NEC 625.41 and 625.42, from memory"
SETTING = "the current it is set to, NEC 625.42"


def breaker_sizes(entry: LoadEntry, kind: Kind) -> bool:
    """Whether the breaker says how large a vehicle charger is, since nothing else does."""
    return (kind.category == "vehicle" and entry.breaker is not None
            and (entry.size, entry.running, entry.nameplate, entry.mca) == (None,) * 4)


def rated_a(entry: LoadEntry, size: Size | None) -> float | None:
    """Rated current of a charger by its size [A]; None if it has none."""
    if size is None:
        return vehicle_a(magnitude(entry.breaker, "A")) if entry.breaker is not None else None
    return 1000.0 * size.option.running.at(size.value) / LINE_VOLTS


def charging_a(
    entry: LoadEntry, kind: Kind, size: Size | None, ledger: Ledger
) -> float | None:
    """Give the current that a vehicle charger is set to, or that its breaker makes of it [A].

    Parameters
    ----------
    entry, kind, size
        The load, its kind, its size if there is one.
    ledger : Ledger
        Takes what was assumed and refused.

    Returns
    -------
    float or None
        None for other loads, and where its size or its nameplate says it.

    References
    ----------
    NEC 625.42 (2017 to 2023), from memory: a charger with an adjustable setting counts at it where
    the setting is marked and kept from the user.
    """
    if entry.current_setting is not None:
        if kind.category != "vehicle":
            ledger.doubt("current_setting", f'it is not read for kind "{kind.name}".',
                         "Leave it out.")
            return None
        setting_a, most_a = magnitude(entry.current_setting, "A"), rated_a(entry, size)
        if most_a is not None and setting_a > most_a * (1.0 + 1e-9):
            ledger.refuse("current_setting", f"{setting_a:g} A is above the {most_a:g} A that the "
                          "charger can give.", "Check its size, its breaker and the setting.")
        else:
            ledger.note("current_setting", f"the charger counts at {setting_a:g} A only where the "
                        "setting is marked and kept from the user (NEC 625.42).",
                        "Verify it on site, or leave the setting out.")
        ledger.assume("running", written(setting_a, "A"), SETTING)
        return setting_a
    if breaker_sizes(entry, kind) and entry.breaker is not None:
        amperes = vehicle_a(magnitude(entry.breaker, "A"))
        ledger.assume("running", f"{amperes:.3g} A", BY_BREAKER)
        return amperes
    return None
