"""The appliance library: what a kind and a size say about a load, each value with its source."""

from planner.case.library.kinds import Curve, Given, Group, Kind, SizeOption, groups, kinds
from planner.case.library.not_planned import not_planned

__all__ = ["Curve", "Given", "Group", "Kind", "SizeOption", "groups", "kinds", "not_planned"]
