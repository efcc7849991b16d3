"""What one visitor has on the table: a job, and answers in work."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator
from dataclasses import dataclass, field, replace
from itertools import count
from typing import TYPE_CHECKING, Any, TypeVar, cast

from planner.editing.items import id_for
from planner.editing.lists import Listed
from planner.editing.new_home import completed, with_listed
from planner.errors import CaseError, Finding
from planner.jobs.content import Choices, Content, File, Goal, OutageWish, Patience, PlanKey, Quote
from planner.jobs.project import project_of
from planner.report.words import count as counted
from ui.demos import DEMO_BOOK, demo_text
from ui.keeping import Keeper, keeper, label_of
from ui.work import Desk

if TYPE_CHECKING:
    from planner.facts.home import Home
    from planner.study.basis import Basis

Made = TypeVar("Made")
NEW_NAME = "new_home.toml"
MOST_STEPS_BACK = 50
MOST_PINS = 4
FILLED = ("What the file leaves out about the house is assumed and marked so, in the fields below "
          "and in the file. Change what you know.")
ABOUT_THE_GOAL = ("recommended", "recommended for sure", "options", "wishes", "reasons", "smaller",
                  "doubts")  # see ui/answers


@dataclass
class Session:
    """Everything of one visitor: files as text, goal, what was picked, answers in work."""

    home_name: str = ""
    home_text: str = ""
    book_name: str = DEMO_BOOK
    book_text: str = field(default_factory=lambda: demo_text(DEMO_BOOK))
    past: tuple[File, ...] = ()
    undone: tuple[File, ...] = ()
    goal: Goal = field(default_factory=Goal)
    basis: Basis | None = None
    patience: Patience = "quick"
    picked: PlanKey | None = None
    pins: tuple[PlanKey, ...] = ()
    own_order: tuple[str, ...] = ()
    outage: OutageWish = field(default_factory=OutageWish)
    outage_plan: PlanKey | None = None
    can_spend_usd: float | None = None
    said: str = ""
    keeper: Keeper = field(default_factory=keeper)
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
                self.past = (*self.past, self.home)[-MOST_STEPS_BACK:]
            self.undone = ()
            self.home_text = text
            self.notes = ()
            self.desk.leave_unfinished()
            self.keep()

    def edit_home(self, edit: Callable[[str], str]) -> None:
        """Change the text of the home as it is now, not as it was when the page was drawn."""
        self.change_home(edit(self.home_text))

    def edit_book(self, edit: Callable[[str], str]) -> None:
        """Change the text of the price book as it is now."""
        self.change_book(edit(self.book_text))

    def open_home(self, name: str, text: str, origin: str = "") -> None:
        """Put another home on the table, as a job of its own; the one before stays kept.

        What the file leaves out about the house is written into it, marked as assumed.
        """
        whole = with_what_is_assumed(text)
        self.take(Content(File(name, whole), self.book, Choices(
            self.goal, self.basis, self.patience)))
        self.said = FILLED if whole != text else ""
        self.keeper.begin(self.content, origin)

    def change_book(self, text: str) -> None:
        """Replace the text of the price book."""
        self.open_book(self.book_name, text)

    def open_book(self, name: str, text: str) -> None:
        """Put another price book on the table."""
        if text != self.book_text:
            self.desk.leave_unfinished()
        self.book_name, self.book_text = name, text
        self.keep()

    def add_listed(self, name: str, text: str, listed: Listed) -> None:
        """Put loads of a list into a home, and say what was read and what was not."""
        home = with_listed(text, listed)
        if name == self.home_name and text == self.home_text:
            self.change_home(home)
        else:
            self.open_home(name, home)
        self.said = (f"{counted(len(listed.rows), 'load')} read from the list. Check names, kinds "
                     "and sizes below; what the list does not say is assumed.")
        if listed.budget_usd is not None:
            self.can_spend_usd = listed.budget_usd
            self.set_goal(budget_usd=listed.budget_usd)
        self.notes = listed.findings

    @property
    def home(self) -> File:
        """The home on the table."""
        return File(self.home_name, self.home_text)

    @property
    def book(self) -> File:
        """The price book on the table."""
        return File(self.book_name, self.book_text)

    @property
    def content(self) -> Content:
        """All that a job holds, as it is now."""
        return Content(self.home, self.book, Choices(
            self.goal, self.basis, self.patience, self.picked, self.pins, self.own_order,
            self.outage, self.outage_plan, self.can_spend_usd), self.past, self.undone)

    def keep(self) -> None:
        """Keep what has changed, in the store."""
        self.keeper.keep(self.content)

    def follow(self) -> None:
        """Take over what another tab has kept of this job, where nothing here is unsaved."""
        if self.keeper.job is not None and self.keeper.job.content != self.content:
            self.keep()  # what was chosen without a file being changed
        newer = self.keeper.newer()
        if newer is not None:
            self.take(newer)
            self.said = "This job was changed in another tab; this is how it is now."

    def keep_a_copy(self) -> None:
        """Make what is on the table a job of its own, where another tab was first."""
        self.keeper.begin(self.content)

    def take_saved(self) -> None:
        """Drop what could not be kept, and show what is."""
        if self.keeper.job is not None:
            self.open_job(self.keeper.job.id)

    def open_job(self, job_id: str) -> None:
        """Put another job on the table."""
        found = self.keeper.open(job_id)
        if found is not None:
            self.take(found)
            self.said = ""

    def open_quote(self, sent: Quote) -> None:
        """Put a quote on the table as it went out, as a job of its own."""
        self.take(Content(sent.home, sent.book))
        self.keeper.begin(self.content)

    def clear(self) -> None:
        """Put nothing on the table."""
        self.keeper.job = None
        self.take(Content(File("", ""), self.book))

    def open_project(self, text: str, name: str) -> None:
        """Take a project file in, as a job of its own.

        Raises
        ------
        CaseError
            It is none.
        """
        found = project_of(text, name)
        self.take(found.content)
        self.keeper.take_in(found)

    def _show(self, home: File) -> None:
        self.home_name, self.home_text = home.name, home.text
        self.desk.leave_unfinished()

    def take(self, content: Content) -> None:
        """Put on the table what a job holds."""
        chosen = content.choices
        self._show(content.home)
        self.book_name, self.book_text = content.book.name, content.book.text
        self.past, self.undone = content.past, content.undone
        self.goal, self.basis, self.patience = chosen.goal, chosen.basis, chosen.patience
        self.picked, self.pins, self.own_order = chosen.picked, chosen.pins, chosen.own_order
        self.outage, self.outage_plan = chosen.outage, chosen.outage_plan
        self.can_spend_usd = chosen.can_spend_usd
        self.readable, self.notes = None, ()

    @property
    def file_name(self) -> str:
        """What the saved home is called: as it was opened, a new one after its label."""
        if self.home_name != NEW_NAME:
            return self.home_name
        label = label_of(self.content)
        return NEW_NAME if label == NEW_NAME else f"{id_for(label, ())}.toml"

    def step_back(self) -> None:
        """Bring back the home as it was before the last change."""
        if self.past:
            self.undone = (*self.undone, self.home)
            self._show(self.past[-1])
            self.past = self.past[:-1]
            self.keep()

    def steps_back(self, number: int) -> None:
        """Take back the last changes, so many."""
        for _ in range(number):
            self.step_back()

    @property
    def steps(self) -> list[tuple[int, str, str]]:
        """The last changes, the latest first: how many steps back, text before, text after."""
        texts = [one.text for one in (*self.past, self.home)]
        return [(back, texts[-back - 1], texts[-back]) for back in range(1, len(texts))]

    def step_forward(self) -> None:
        """Do again what was taken back last."""
        if self.undone:
            self.past = (*self.past, self.home)
            self._show(self.undone[-1])
            self.undone = self.undone[:-1]
            self.keep()

    def set_goal(self, **changes: Any) -> None:  # noqa: ANN401
        """Change the goal; a picked plan gives way to the recommended one."""
        self.goal = replace(self.goal, **changes)
        self.picked = None
        self.desk.leave_unfinished(ABOUT_THE_GOAL)
        self.keep()

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
