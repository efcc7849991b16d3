"""Standard output and standard error as a command finds them: open, full, closed, or left.

An answer that cannot be written is a failure with a sentence and a code; what cannot be said on
standard error is left out. Neither leaves anything for the interpreter to stumble over at its end.
"""

from __future__ import annotations

import errno
import io
import os
import sys
from typing import TYPE_CHECKING, TextIO, cast

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer

NOT_WRITTEN = 5
READER_LEFT = 141  # 128 + SIGPIPE, as other programs leave whose reader has left
STANDARD = (0, 1, 2)


class NotWritten(Exception):
    """The answer cannot be written to standard output.

    Attributes
    ----------
    exit_code : int
        `READER_LEFT` where whoever reads a pipe has seen enough, else `NOT_WRITTEN`.
    """

    def __init__(self, problem: OSError) -> None:
        self.reason = problem.strerror or str(problem)
        super().__init__(f"The answer cannot be written to standard output: {self.reason}.")
        self.exit_code = READER_LEFT if problem.errno == errno.EPIPE else NOT_WRITTEN

    def say(self) -> int:
        """Say it on standard error, unless the reader has just left; gives the exit code."""
        if self.exit_code == NOT_WRITTEN:
            sys.stderr.write(f"{self}\n")
            sys.stderr.flush()
        return self.exit_code


class Outlet(io.RawIOBase):
    """The end of a standard stream; once a write has failed, all that follows is dropped.

    Parameters
    ----------
    raw : RawIOBase
        Where it goes.
    needed : bool
        Whether a failure is told, as NotWritten.
    """

    def __init__(self, raw: io.RawIOBase, *, needed: bool) -> None:
        self._raw = raw
        self._needed = needed
        self._failed = False

    def writable(self) -> bool:
        """Say that it is one to write to."""
        return True

    def fileno(self) -> int:
        """Give the descriptor behind it."""
        return self._raw.fileno()

    def isatty(self) -> bool:
        """Whether somebody looks on."""
        return self._raw.isatty()

    def write(self, data: ReadableBuffer) -> int | None:
        """Write some bytes; gives how many were taken.

        Raises
        ------
        NotWritten
            The first time that it fails, if the stream is needed.
        """
        if not self._failed:
            try:
                return self._raw.write(data)
            except OSError as problem:
                self._failed = True
                if self._needed:
                    raise NotWritten(problem) from problem
        return memoryview(data).nbytes


def open_streams() -> None:
    """Make standard output and standard error fit to be written to, whatever they are.

    Raises
    ------
    NotWritten
        If standard output is closed.
    """
    for number in STANDARD:
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest number: no file may get this one
    closed = sys.stdout is None
    sys.stderr = _ended(sys.stderr, needed=False)
    if closed:
        raise NotWritten(OSError(errno.EBADF, "it is closed"))
    sys.stdout = _ended(sys.stdout, needed=True)


def _ended(stream: TextIO | None, *, needed: bool) -> TextIO:
    """Give a text stream its outlet; signs that it cannot show are replaced."""
    if stream is None:
        return open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123 - before pathlib is there
    raw = getattr(stream.buffer, "raw", stream.buffer)  # the same where nothing is buffered
    return io.TextIOWrapper(io.BufferedWriter(Outlet(cast("io.RawIOBase", raw), needed=needed)),
                            encoding=stream.encoding, errors="replace",
                            line_buffering=stream.isatty() or not needed)
