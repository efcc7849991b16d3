"""What one visitor has on the table; the only file that touches Streamlit's session state."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field, replace
from itertools import count
from typing import TYPE_CHECKING, Any, Literal, TypeVar, cast

import streamlit as st

from planner.case.text import parse_toml
from planner.editing.items import id_for
from planner.editing.lists import Listed
from planner.editing.new_home import completed, with_listed
from planner.errors import CaseError, Finding
from planner.plan.goal import USUAL_COVERAGE
from planner.report.words import count as counted
from ui.demos import DEMO_BOOK, demo_text, given_home
from ui.presence import presence
from ui.work import Desk

if TYPE_CHECKING:
    from planner.facts.home import Home
    from planner.study.owning import Basis

Made = TypeVar("Made")
KEY = "on the table"
NEW_NAME = "new_home.toml"
MOST_STEPS_BACK = 50
MOST_PINS = 4
FILLED = ("What the file leaves out about the house is assumed and marked so, in the fields below "
          "and in the file. Change what you know.")
ABOUT_THE_GOAL = ("recommended", "recommended for sure", "options", "wishes", "reasons", "smaller",
                  "doubts")  # see ui/answers


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


@dataclass
class Session:
    """Everything of one visitor: files as text, goal, what was picked, answers in work."""

    home_name: str = ""
    home_text: str = ""
    book_name: str = DEMO_BOOK
    book_text: str = field(default_factory=lambda: demo_text(DEMO_BOOK))
    past: list[tuple[str, str]] = field(default_factory=list)
    undone: list[tuple[str, str]] = field(default_factory=list)
    goal: Goal = Goal()
    basis: Basis | None = None
    patience: Patience = "quick"
    picked: PlanKey | None = None
    pins: tuple[PlanKey, ...] = ()
    own_order: tuple[str, ...] = ()
    outage: OutageWish = OutageWish()
    outage_plan: PlanKey | None = None
    said: str = ""
    told: frozenset[Finding] = frozenset()  # findings about loads that are known to the visitor
    notes: tuple[Finding, ...] = ()  # about what was read last
    readable: Home | None = None  # as it was read last without an error
    desk: Desk = field(default_factory=Desk)
    rounds: Iterator[int] = field(default_factory=lambda: count(1))  # numbers for laid-out tables
    tables: dict[str, Any] = field(default_factory=dict)  # by section: see parts/table_editor
    _memory: dict[str, tuple[Hashable, object]] = field(default_factory=dict)

    def remembered(self, name: str, key: Hashable, make: Callable[[], Made]) -> Made:
        """Give what was made of a key before, or make it; one thing is kept for each name."""
        known = self._memory.get(name)
        if known is None or known[0] != key:
            known = (key, make())
            self._memory[name] = known
        return cast("Made", known[1])

    @property
    def has_home(self) -> bool:
        """Whether a home has been begun."""
        return bool(self.home_text)

    def change_home(self, text: str) -> None:
        """Replace the text of the home; the step can be taken back."""
        if text != self.home_text:
            if self.has_home:  # nothing comes before a home: taking that back would lose it
                self.past = [*self.past, (self.home_name, self.home_text)][-MOST_STEPS_BACK:]
            self.undone = []
            self.home_text = text
            self.notes = ()
            self.desk.leave_unfinished()

    def edit_home(self, edit: Callable[[str], str]) -> None:
        """Change the text of the home as it is now, not as it was when the page was drawn."""
        self.change_home(edit(self.home_text))

    def edit_book(self, edit: Callable[[str], str]) -> None:
        """Change the text of the price book as it is now."""
        self.change_book(edit(self.book_text))

    def open_home(self, name: str, text: str) -> None:
        """Put another home on the table; the one before can be brought back.

        What the file leaves out about the house is written into it, marked as assumed.
        """
        whole = with_what_is_assumed(text)
        self.change_home(whole)
        self.home_name = name
        self.said = FILLED if whole != text else ""
        self.picked, self.pins, self.own_order = None, (), ()
        self.readable = None

    def change_book(self, text: str) -> None:
        """Replace the text of the price book."""
        self.open_book(self.book_name, text)

    def open_book(self, name: str, text: str) -> None:
        """Put another price book on the table."""
        if text != self.book_text:
            self.desk.leave_unfinished()
        self.book_name, self.book_text = name, text

    def add_listed(self, name: str, text: str, listed: Listed) -> None:
        """Put loads of a list into a home, and say what was read and what was not."""
        home = with_listed(text, listed)
        if name == self.home_name and text == self.home_text:
            self.change_home(home)
        else:
            self.open_home(name, home)
        self.said = (f"{counted(len(listed.rows), 'load')} read from the list. Check names, kinds "
                     "and sizes below; what the list does not say is assumed.")
        self.notes = listed.findings

    @property
    def file_name(self) -> str:
        """What the saved home is called: as it was opened, a new one after its label."""
        if self.home_name != NEW_NAME:
            return self.home_name
        try:
            home = parse_toml(self.home_text, self.home_name).get("home")
        except CaseError:
            return NEW_NAME
        label = home.get("label") if isinstance(home, dict) else None
        return f"{id_for(label, ())}.toml" if isinstance(label, str) else NEW_NAME

    def step_back(self) -> None:
        """Bring back the home as it was before the last change."""
        if self.past:
            self.undone = [*self.undone, (self.home_name, self.home_text)]
            self.home_name, self.home_text = self.past[-1]
            self.past = self.past[:-1]
            self.desk.leave_unfinished()

    def step_forward(self) -> None:
        """Do again what was taken back last."""
        if self.undone:
            self.past = [*self.past, (self.home_name, self.home_text)]
            self.home_name, self.home_text = self.undone[-1]
            self.undone = self.undone[:-1]
            self.desk.leave_unfinished()

    def set_goal(self, **changes: Any) -> None:  # noqa: ANN401
        """Change the goal; a picked plan gives way to the recommended one."""
        self.goal = replace(self.goal, **changes)
        self.picked = None
        self.desk.leave_unfinished(ABOUT_THE_GOAL)

    def set_patience(self, patience: Patience) -> None:
        """Look longer for the plans of the curve, or no longer."""
        self.patience = patience
        if patience == "quick":
            self.desk.leave("exact curve")

    def pin(self, point: PlanKey) -> None:
        """Keep a plan for the comparison; the oldest gives way when there are too many."""
        if point not in self.pins:
            self.pins = (*self.pins, point)[-MOST_PINS:]

    def unpin(self, point: PlanKey) -> None:
        """Let a plan go from the comparison."""
        self.pins = tuple(one for one in self.pins if one != point)


def with_what_is_assumed(text: str) -> str:
    """Complete the text of a home; where it cannot be changed, the reader assumes the same."""
    try:
        return completed(text)
    except CaseError:
        return text


def session() -> Session:
    """Give the visitor's session, a new one on the first visit."""
    if KEY not in st.session_state:
        st.session_state[KEY] = begun = Session(desk=Desk(presence(), give_way))
        name, text = given_home()
        if text:
            begun.open_home(name, text)
    found = st.session_state[KEY]
    if not isinstance(found, Session):
        message = f"The state holds {type(found).__name__} where the session belongs."
        raise TypeError(message)
    return found


def give_way() -> None:
    """Let a page that waits be drawn anew, or another one be drawn, if the visitor asked for it.

    Looking at the state is where the server takes such a wish. Left until the waiting is over, a
    click on another page can get lost: what watches progress on this page asks for this page, and
    of wishes that pile up the last one wins.
    """
    _ = KEY in st.session_state


def widget(key: str) -> Any:  # noqa: ANN401
    """Give the value of a widget; None before it is drawn."""
    return st.session_state.get(key)


def bound(key: str, value: object) -> str:
    """Set a widget to the truth before it is drawn, and give back its key."""
    st.session_state[key] = value
    return key


def heard(key: str, take: Callable[[Any], None]) -> Callable[[], None]:
    """Make a callback that hands the new value of a widget on."""
    return lambda: take(widget(key))
