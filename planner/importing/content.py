"""Opening a file of a stranger: never a device or a pipe, never more than a stated size."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import BinaryIO

from planner.errors import CaseError, Finding, Severity
from planner.quoting import shortened

LONGEST_SAID = 200
"""Characters of a file's name or path that a message repeats."""
_AT_ONCE = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0)  # should it have become a pipe in between


@contextmanager
def opened(path: Path, most_bytes: int) -> Iterator[BinaryIO]:
    """Open a file to be read.

    Parameters
    ----------
    path : Path
        The file.
    most_bytes : int
        Largest size that is read.

    Raises
    ------
    CaseError
        There is no such file; it is a directory, a device or a pipe; it may not be read; it is
        larger.
    """
    name = path.name
    try:
        mode = path.stat().st_mode  # looked at before it is opened: opening a pipe waits
        if stat.S_ISDIR(mode):
            raise refusal(name, "this is a directory.", "Give the name of a file.")
        if not stat.S_ISREG(mode):
            raise refusal(name, "this is a device or a pipe.", "Save it as a file first.")
        stream = os.fdopen(os.open(path, _AT_ONCE), "rb")
    except FileNotFoundError:
        looked = shortened(str(path), LONGEST_SAID)
        raise refusal(name, "there is no such file.", f"Looked for {looked}.") from None
    except OSError as problem:
        raise refusal(name, f"it cannot be read ({problem.strerror}).", "") from None
    except ValueError:
        raise refusal(name, "no file is called so.", "Its name holds the character 0.") from None
    with stream:
        refuse_too_large(os.fstat(stream.fileno()).st_size, most_bytes, name)
        try:
            yield stream
        except OSError as problem:
            raise refusal(name, f"it cannot be read ({problem.strerror}).", "") from None


def refuse_too_large(size: int, most_bytes: int, name: str) -> None:
    """Refuse more bytes than are read.

    Raises
    ------
    CaseError
        There are more.
    """
    if size > most_bytes:
        raise refusal(name, "it is too large.", f"At most {most_bytes:,} bytes are read.")


def refusal(name: str, sentence: str, remedy: str = "") -> CaseError:
    """Make the exception for a file that cannot be read."""
    name = shortened(name, LONGEST_SAID)
    return CaseError(f"{name} cannot be read.",
                     [Finding(Severity.ERROR, name, sentence, remedy)])
