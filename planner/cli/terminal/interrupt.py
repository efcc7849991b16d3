"""An interruption by the user or the system: heard by the main thread, taken where work can end.

The main thread only listens. A signal sets a mark; what runs in the other thread looks at it at
each step of its progress and ends there, so that what was found so far can be shown. Where nothing
looks (imports, the compiler), the process leaves at once. So no signal strikes in the middle of an
import, of compiled code or of a half-written answer. Imports nothing heavy: it comes first.
"""

from __future__ import annotations

import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType

INTERRUPTED, NO_ANSWER = 130, "Interrupted."
GRACE_S = 0.7  # for coming to a step of the progress, before the process leaves anyway
STEP_S = 0.02  # between two looks of the main thread
SHOW_CURSOR = "\x1b[?25h"


class Hearing:
    """What was heard, and how far the command is with it.

    Attributes
    ----------
    times : int
        Signals heard.
    attended : bool
        Whether something looks now and then, to end well.
    taken : bool
        Whether it has ended; what it says about that is waited for.
    leaving : callable or None
        Called before the process leaves at once: ends what it has started.
    """

    def __init__(self) -> None:
        self.times = 0
        self.attended = False
        self.taken = False
        self.writing = threading.Lock()
        self.leaving: Callable[[], None] | None = None

    def look(self) -> None:
        """End the work here, once, if there was a signal.

        Raises
        ------
        KeyboardInterrupt
            At the first look after the signal.
        """
        if self.times and not self.taken:
            self.taken = True
            raise KeyboardInterrupt

    def heard(self) -> bool:
        """Whether there was a signal; who hears it so ends soon, with what it has."""
        self.taken = self.taken or bool(self.times)
        return bool(self.times)


hearing = Hearing()


def listen() -> None:
    """From now on Ctrl-C (SIGINT) and SIGTERM are heard and interrupt nothing by themselves."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, _hear)


def _hear(_number: int, _frame: FrameType | None) -> None:
    hearing.times += 1


def run_listening(work: Callable[[], int]) -> int:
    """Do the work in another thread and listen in this one; gives what the work gives.

    After a signal the work has `GRACE_S` to come to a place where it ends well, if anything looks;
    then, and at a second signal, the process leaves. An answer that is being written is finished.
    """
    outcome: list[int] = []
    worker = threading.Thread(target=lambda: outcome.append(work()), daemon=True)
    worker.start()
    leave_at_s = float("inf")
    while worker.is_alive():
        worker.join(STEP_S)
        if not hearing.times or (hearing.taken and hearing.times == 1):
            continue
        leave_at_s = min(leave_at_s, time.monotonic() + (GRACE_S if hearing.attended else 0.0))
        if hearing.times > 1 or time.monotonic() >= leave_at_s:
            _leave()
    return outcome[0] if outcome else 1


def _leave() -> None:
    """End the process, unless an answer is being written and no second signal asks for the end."""
    if hearing.times == 1 and not hearing.writing.acquire(blocking=False):
        return
    if sys.stderr.isatty():
        os.write(sys.stderr.fileno(), SHOW_CURSOR.encode())
    sys.stderr.write(f"{NO_ANSWER}\n")
    sys.stderr.flush()
    if hearing.leaving is not None:
        hearing.leaving()
    os._exit(INTERRUPTED)


@contextmanager
def attended() -> Iterator[None]:
    """Within this, `hearing.look` is called now and then."""
    hearing.attended = True
    try:
        yield
    finally:
        hearing.attended = False


@contextmanager
def in_one_piece() -> Iterator[None]:
    """Within this, something is written that must not be cut; a second signal still cuts it.

    What was written is the answer: the command ends as if there had been no signal.
    """
    with hearing.writing:
        hearing.taken = True
        yield


@contextmanager
def plain_interruption() -> Iterator[None]:
    """Let an interruption of compiled code through as KeyboardInterrupt.

    A signal that comes in while a compiled function returns is reported by the interpreter as a
    SystemError ("returned a result with an exception set") whose cause is the interruption.
    """
    try:
        yield
    except SystemError as problem:
        if isinstance(problem.__cause__, KeyboardInterrupt):
            raise KeyboardInterrupt from problem
        raise
