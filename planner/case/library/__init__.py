"""The appliance library: what a kind and a size say about a load, each value with its source."""

from planner.case.library.kinds import Curve, Given, Kind, SizeOption, kinds
from planner.case.library.motors import code_letter_kva_per_hp, equivalent_hp, full_load_a

__all__ = [
    "Curve", "Given", "Kind", "SizeOption", "code_letter_kva_per_hp", "equivalent_hp",
    "full_load_a", "kinds",
]
