"""What a job holds: the files as text, and what was chosen for them."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from planner.plan.goal import USUAL_COVERAGE
from planner.study.basis import Basis

Patience = Literal["quick", "exact"]
"""How long is searched for the plans of the curve."""


@dataclass(frozen=True, slots=True)
class Goal:
    """What the plan has to reach: a coverage (0-1), or as much as a budget buys."""

    by: Literal["coverage", "budget"] = "coverage"
    coverage: float = USUAL_COVERAGE
    budget_usd: float = 10_000.0
    none_starved: bool = True  # everything that matters gets its turn, if there is such a plan
    sturdy: bool = True  # it holds in enough of the houses that fit the file


@dataclass(frozen=True, slots=True)
class PlanKey:
    """One plan, told by its size and what it covers; found again after the home has changed."""

    generator: str
    coverage: float


@dataclass(frozen=True, slots=True)
class OutageWish:
    """The outage to play: design day, hour of the loss, length, seed."""

    day: str = ""
    start_h: float = 14.0
    hours: float = 72.0
    seed: int = 0


@dataclass(frozen=True, slots=True)
class Choices:
    """What was chosen beside the files: the goal, pinned plans, an order of one's own.

    `can_spend_usd` is what the family said that it can spend [USD]; the goal may be another.
    """

    goal: Goal = Goal()
    basis: Basis | None = None
    patience: Patience = "quick"
    picked: PlanKey | None = None
    pins: tuple[PlanKey, ...] = ()
    own_order: tuple[str, ...] = ()
    outage: OutageWish = OutageWish()
    outage_plan: PlanKey | None = None
    can_spend_usd: float | None = None


@dataclass(frozen=True, slots=True)
class File:
    """A home or a price book as text, under the name of its file."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Content:
    """All that a job holds.

    Attributes
    ----------
    book : File
        The price book, as text.
    past, undone : tuple of File
        The home before each change that can be taken back, the oldest first; and after each that
        was taken back, the next one to be done again last.
    """

    home: File
    book: File
    choices: Choices = Choices()
    past: tuple[File, ...] = ()
    undone: tuple[File, ...] = ()


@dataclass(frozen=True, slots=True)
class Quote:
    """A plan that went out to the customer, as it was then.

    Attributes
    ----------
    at_s : float
        When it was kept [s since 1970, UTC].
    sentence : str
        The plan in one line, with its price.
    cost_usd : float
    plan : str
        The plan, as ``planner plan --json`` writes it.
    """

    at_s: float
    sentence: str
    cost_usd: float
    home: File
    book: File
    plan: str


@dataclass(frozen=True, slots=True)
class Job:
    """A job as it is kept.

    Attributes
    ----------
    id : str
    label : str
        What it is called.
    customer : str
    revision : int
        Counts the changes; who changes a job says which one was seen last.
    changed_s : float
        When it was changed last [s since 1970, UTC].
    """

    id: str
    label: str
    customer: str
    revision: int
    changed_s: float
    content: Content
    quotes: tuple[Quote, ...] = field(default=())


@dataclass(frozen=True, slots=True)
class Line:
    """A job in the list of jobs; `deleted_s` is when it was deleted, or None."""

    id: str
    label: str
    customer: str
    changed_s: float
    quotes: int
    deleted_s: float | None = None
