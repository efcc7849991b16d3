"""Which assumed values to verify on site, those first on which the recommended plan hangs."""

from planner.study.verify.ranking import Doubt, End, to_verify

__all__ = ["Doubt", "End", "to_verify"]
