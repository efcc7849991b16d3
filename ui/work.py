"""Long work beside the page: in a thread of its own, with progress, left behind when outdated."""

from __future__ import annotations

import threading
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from planner.errors import PlannerError, VerificationError

Value = TypeVar("Value")
AT_A_TIME = 4  # pieces of work in one process, of all sessions together

_places = threading.BoundedSemaphore(AT_A_TIME)


class Abandoned(Exception):
    """Raised inside work whose answer nobody waits for any more."""


@dataclass
class Work:
    """One piece of work; `share` grows from 0 to 1, `found` takes what is known before the end."""

    key: Hashable
    share: float = 0.0
    waiting: bool = True
    found: list[Any] = field(default_factory=list)
    value: Any = None
    error: PlannerError | None = None
    _ended: threading.Event = field(default_factory=threading.Event)
    _left: threading.Event = field(default_factory=threading.Event)

    def tick(self, share: float) -> None:
        """Take note of the share done; end the work here if it was abandoned."""
        if self._left.is_set():
            raise Abandoned
        self.share = min(1.0, max(self.share, share))

    def find(self, part: object) -> None:
        """Take a part of the answer before the rest is known."""
        self.tick(self.share)
        self.found.append(part)

    def abandon(self) -> None:
        """Let the work end at its next step."""
        self._left.set()

    @property
    def done(self) -> bool:
        """Whether there is an answer, or an error."""
        return self._ended.is_set()

    def wait(self, seconds: float) -> None:
        """Wait for the end, this long at most."""
        self._ended.wait(seconds)

    def run(self, compute: Callable[[Work], object]) -> None:
        """Do the work in this thread; a mistake of the planner becomes a sentence."""
        with _places:
            self.waiting = False
            try:
                self.tick(0.0)
                self.value = compute(self)
            except Abandoned:
                pass
            except PlannerError as problem:
                self.error = problem
            except Exception as problem:
                self.error = VerificationError(f"A mistake of the planner, not yours: "
                                               f"{type(problem).__name__}: {problem}.")
        self._ended.set()


@dataclass(frozen=True)
class Answer(Generic[Value]):
    """What is known of an answer now.

    Attributes
    ----------
    value : object or None
        The answer; the last one that was known where `stale`.
    error : PlannerError or None
        Why there is none.
    stale : bool
        Whether the value belongs to what was asked before.
    work : Work or None
        Still going on.
    """

    value: Value | None
    error: PlannerError | None = None
    stale: bool = False
    work: Work | None = None


class Desk:
    """The work of one session: for every name the latest, and the last answer that was known."""

    def __init__(self) -> None:
        self._latest: dict[str, Work] = {}
        self._known: dict[str, Work] = {}

    def ask(
        self, name: str, key: Hashable, compute: Callable[[Work], Value], patience_s: float
    ) -> Answer[Value]:
        """Give the answer to a question, begin to work on it if it is new.

        Parameters
        ----------
        name : str
            The question; what was asked before under the same name and is not done is abandoned.
        key : hashable
            All that the answer depends on.
        compute : callable
            Does the work; tells its progress to the work that it is given.
        patience_s : float
            How long the page waits for it before it shows what it has [s].
        """
        work = self._latest.get(name)
        if work is None or work.key != key:
            if work is not None:
                work.abandon()
            work = Work(key)
            self._latest[name] = work
            threading.Thread(target=work.run, args=(compute,), daemon=True).start()
        if not work.done:
            work.wait(patience_s)
        if work.done:
            self._known[name] = work
            return Answer(work.value, work.error)
        known = self._known.get(name)
        value = known.value if known else None  # what was asked before may have had no answer
        return Answer(value, None, stale=value is not None, work=work)

    def known(self, name: str, key: Hashable) -> Any | None:  # noqa: ANN401
        """Give the answer to exactly this question if it is known already; else None."""
        work = self._latest.get(name)
        return work.value if work is not None and work.key == key and work.done else None

    @property
    def busy(self) -> bool:
        """Whether anything is still going on."""
        return any(not work.done for work in self._latest.values())

    def leave(self, name: str) -> None:
        """Stop working on a question; it is begun anew when it is asked again."""
        work = self._latest.pop(name, None)
        if work is not None:
            work.abandon()
