"""In how many of the houses that fit the file a plan holds."""

from planner.study.confidence.comparing import Comparing
from planner.study.confidence.houses import Houses, houses_like
from planner.study.confidence.share import TO_ORDER, TO_QUOTE, Confidence, Matter, confidence_of

__all__ = ["TO_ORDER", "TO_QUOTE", "Comparing", "Confidence", "Houses", "Matter", "confidence_of",
           "houses_like"]
