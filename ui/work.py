"""Long work beside the page: in a thread of its own, with progress, left behind when outdated."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Collection, Hashable
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from planner.errors import PlannerError, VerificationError
from ui.places import Places, Seat

Value = TypeVar("Value")
AT_A_TIME = 4  # pieces of work in one process, of all sessions together
FAIR_PART = 2  # of them for one session, so that another one finds a place
LOOK_S = 0.25  # between two looks at whether a visitor is still there
STEP_S = 0.02  # of a page's waiting for an answer
GONE_S = 2.0  # how long a visitor may be away before the work is left: a broken line comes back

_places = Places(AT_A_TIME, FAIR_PART)


class Abandoned(Exception):
    """Raised inside work whose answer nobody waits for any more."""


@dataclass
class Work:
    """One piece of work; `share` grows from 0 to 1, `found` takes what is known before the end.

    `look` is called at each step.
    """

    key: Hashable
    look: Callable[[], object] = bool
    share: float = 0.0
    waiting: bool = True
    found: list[Any] = field(default_factory=list)
    value: Any = None
    error: PlannerError | None = None
    seat: Seat | None = None
    _ended: threading.Event = field(default_factory=threading.Event)
    _left: threading.Event = field(default_factory=threading.Event)

    def tick(self, share: float) -> None:
        """Take note of the share done; end the work here if it was abandoned."""
        self.look()
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
    def left(self) -> bool:
        """Whether it was abandoned: it has no answer then."""
        return self._left.is_set()

    @property
    def done(self) -> bool:
        """Whether nothing more comes: there is an answer or an error, or it was abandoned."""
        return self._ended.is_set()

    def wait(self, seconds: float) -> None:
        """Wait for the end, this long at most."""
        self._ended.wait(seconds)

    def end(self) -> None:
        """Let nothing more come."""
        self._ended.set()

    def run(self, compute: Callable[[Work], object]) -> None:
        """Do the work in this thread; a mistake of the planner becomes a sentence."""
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
    provisional : bool
        Whether the value is a first answer to what was asked, and `work` may change it.
    """

    value: Value | None
    error: PlannerError | None = None
    stale: bool = False
    work: Work | None = None
    provisional: bool = False

    @property
    def settled(self) -> bool:
        """Whether there is a value, and nothing that goes on will change it."""
        return self.value is not None and not self.stale and not self.provisional


class Desk:
    """The work of one session: for every name the latest, and the last answer that was known.

    Parameters
    ----------
    is_there : callable
        Whether the visitor is still there. Once gone for `GONE_S`, all the work is left.
    give_way : callable
        Called every `STEP_S` while a page waits for an answer; what it raises ends the waiting.
    places : Places
        Where the work is done; the same for all sessions of a process.
    """

    def __init__(
        self, is_there: Callable[[], bool] = lambda: True, give_way: Callable[[], object] = bool,
        places: Places = _places,
    ) -> None:
        self._is_there, self._give_way, self._places = is_there, give_way, places
        self._lock = threading.RLock()  # work looks whether the visitor is gone, in its own thread
        self._latest: dict[str, Work] = {}
        self._known: dict[str, Work] = {}
        self._looked_s = 0.0
        self._gone_since_s: float | None = None

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
        with self._lock:
            self._gone_since_s = None  # who asks is there
            work = self._latest.get(name)
            if work is None or work.key != key:
                self.leave(name)
                work = self._latest[name] = Work(key, self._look)
                work.seat = self._places.ask(self, self._beginning(work, compute))
        end_s = time.monotonic() + patience_s
        while not work.done and (left_s := end_s - time.monotonic()) > 0.0:
            work.wait(min(STEP_S, left_s))
            self._give_way()
        if work.done and not work.left:
            self._known[name] = work
            return Answer(work.value, work.error)
        known = self._known.get(name)
        value = known.value if known else None  # what was asked before may have had no answer
        return Answer(value, None, stale=value is not None, work=work)

    def known(self, name: str, key: Hashable) -> Any | None:  # noqa: ANN401
        """Give the answer to exactly this question if it is known already; else None."""
        work = self._latest.get(name)
        return work.value if work is not None and work.key == key and work.done else None

    def last(self, name: str) -> Any | None:  # noqa: ANN401
        """Give the last answer that was known to a question, whatever it was about; else None."""
        work = self._known.get(name)
        return work.value if work is not None else None

    @property
    def busy(self) -> bool:
        """Whether anything is still going on."""
        return any(not work.done for work in list(self._latest.values()))

    def leave(self, name: str) -> None:
        """Stop working on a question; it is begun anew when it is asked again."""
        with self._lock:
            work = self._latest.pop(name, None)
            if work is None or work.done:
                return
            work.abandon()
            if work.seat is not None and self._places.withdraw(work.seat):
                work.end()  # it is never begun

    def leave_unfinished(self, names: Collection[str] | None = None) -> None:
        """Stop working on these questions, or on all; answers that are there stay."""
        with self._lock:
            for name in [name for name, work in self._latest.items() if not work.done]:
                if names is None or name in names:
                    self.leave(name)

    def _beginning(
        self, work: Work, compute: Callable[[Work], object]
    ) -> Callable[[Seat], None]:
        """What is to be done when there is a place: the work, in a thread of its own."""

        def do(seat: Seat) -> None:
            work.run(compute)
            self._places.give_back(seat)
            work.end()

        return lambda seat: threading.Thread(target=do, args=(seat,), daemon=True).start()

    def _look(self) -> None:
        """Leave all the work if the visitor has been gone for some time."""
        now_s = time.monotonic()
        if now_s - self._looked_s < LOOK_S:
            return
        self._looked_s = now_s
        if self._is_there():
            self._gone_since_s = None
        elif self._gone_since_s is None:
            self._gone_since_s = now_s
        elif now_s - self._gone_since_s >= GONE_S:
            self.leave_unfinished()
