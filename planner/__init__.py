"""Standby-power planner: the smallest generator for a home, which loads take turns, at what price.

`read_home`, `new_home` and `read_book` give what all else takes: `frontier` (every plan that no
other beats), `recommend`, `compare`, `explain`, and `simulate`, playing a plan second by second;
what cannot be done raises a `PlannerError`.

>>> import planner
>>> home = planner.read_home("cases/suburban.toml")
>>> len(home.loads)
18
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from planner.errors import (
        CaseError,
        Finding,
        LoopsError,
        NoPlanError,
        NotFoundError,
        PlannerError,
        SolverError,
        VerificationError,
    )
    from planner.facts.home import Home
    from planner.facts.price_book import PriceBook
    from planner.plan.plan import Plan
    from planner.public import (
        compare,
        explain,
        frontier,
        new_home,
        read_book,
        read_home,
        recommend,
        simulate,
    )
    from planner.search.limits import SearchLimits

__all__ = [
    "CaseError", "Finding", "Home", "LoopsError", "NoPlanError", "NotFoundError", "Plan",
    "PlannerError", "PriceBook", "SearchLimits", "SolverError", "VerificationError", "compare",
    "explain", "frontier", "new_home", "read_book", "read_home", "recommend", "simulate",
]

_WHERE = {
    "Home": "planner.facts.home", "PriceBook": "planner.facts.price_book",
    "Plan": "planner.plan.plan", "SearchLimits": "planner.search.limits",
    **dict.fromkeys(("CaseError", "Finding", "LoopsError", "NoPlanError", "NotFoundError",
                     "PlannerError", "SolverError", "VerificationError"), "planner.errors"),
}


def __getattr__(name: str) -> Any:  # noqa: ANN401 - whatever the name stands for
    """Import what is asked for only then, so that `import planner` stays fast."""
    if name not in __all__:
        msg = f"module 'planner' has no attribute {name!r}"
        raise AttributeError(msg)
    found = getattr(import_module(_WHERE.get(name, "planner.public")), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
