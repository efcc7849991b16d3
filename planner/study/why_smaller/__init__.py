"""Why no smaller generator was recommended: what each could do, what it could not, what helps."""

from planner.study.why_smaller.sizes import SmallerSize, why_not_smaller

__all__ = ["SmallerSize", "why_not_smaller"]
