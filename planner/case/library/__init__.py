"""The appliance library: what a kind and a size say about a load, each value with its source."""

from planner.case.library.kinds import Curve, Given, Kind, SizeOption, kinds

__all__ = ["Curve", "Given", "Kind", "SizeOption", "kinds"]
