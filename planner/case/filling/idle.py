"""Keys of a load that say something which its kind has no use for."""

from __future__ import annotations

from planner.case.file import LoadEntry
from planner.case.filling.ledger import Ledger
from planner.case.library import Kind

COUNTED_BY_CIRCUIT = ("general", "small-appliance", "laundry")


def doubt_idle_keys(
    entry: LoadEntry, kind: Kind, starting_kva: float, ledger: Ledger, *, sized_by_motor: bool
) -> None:
    """Warn of keys that say something which this kind of load has no use for."""
    if entry.motor is not None and starting_kva == 0.0 and not sized_by_motor:
        ledger.doubt("motor", "it is not read: nothing says that the load starts hard.",
                     "Give locked_rotor or code_letter if it does.")
    if entry.start_power_factor is not None and starting_kva == 0.0:
        ledger.doubt("start_power_factor", "it is not read: the load does not start hard.",
                     "Give locked_rotor if it does.")
    given = entry.model_fields_set
    moves_heat = kind.sizes[0].running.unit == "ton"
    for key, is_read in (("year", moves_heat), ("eer", moves_heat), ("blower", kind.blower),
                         ("wires", kind.submersible)):
        if key in given and not is_read:
            ledger.doubt(key, f'it is not read for kind "{kind.name}".', "Leave it out.")
    if "heating_units" in given and kind.category in COUNTED_BY_CIRCUIT:
        ledger.doubt("heating_units", f'it is not read for kind "{kind.name}".', "Leave it out.")
    if "with_supplemental" in given and kind.category != "heat-pump":
        ledger.doubt("with_supplemental", f'it is not read for kind "{kind.name}".',
                     "It belongs to the heat pump.")
