"""An interruption by the user, whatever disguise it arrives in."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


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
