"""The one-line of a plan: what feeds what, as a graph that documents draw."""

from planner.site.one_line.graph import GENERATOR, TRANSFER, UTILITY, OneLine, one_line

__all__ = ["GENERATOR", "TRANSFER", "UTILITY", "OneLine", "one_line"]
