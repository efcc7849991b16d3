"""The command line as a process of its own: its streams, its signals, its end."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parents[2]
CASES = ROOT / "cases"
BOOK = CASES / "demo_price_book.toml"
MOST_S = 300.0
PLANNER = (sys.executable, "-m", "planner")
SIGNS_OF_A_CRASH = ("Traceback", "Exception ignored", "BrokenPipeError", "KeyboardInterrupt")


@dataclass(frozen=True)
class Ended:
    """How a process ended: its code, what it wrote, and the seconds since it was told to end."""

    code: int
    out: str
    err: str
    after_s: float

    @property
    def calm(self) -> bool:
        """Whether nothing of the interpreter's inside came to light."""
        return not any(sign in self.err + self.out for sign in SIGNS_OF_A_CRASH)


@contextmanager
def started(*line: object) -> Iterator[subprocess.Popen[str]]:
    """Start a process with pipes; it is gone at the end."""
    process = subprocess.Popen([str(part) for part in line], stdout=subprocess.PIPE,
                               stderr=subprocess.PIPE, text=True, cwd=ROOT)
    try:
        yield process
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


def told_to_end(process: subprocess.Popen[str], number: int = signal.SIGINT) -> Ended:
    """Send a signal and wait for the end."""
    at_s = time.monotonic()
    process.send_signal(number)
    out, err = process.communicate(timeout=MOST_S)
    return Ended(process.returncode, out, err, time.monotonic() - at_s)


def written_to(out: int | None, err: int | None, *arguments: object) -> tuple[int, str]:
    """Run the command line on two descriptors, None for a closed one; its code and what it said.

    What it said on standard error is kept where `err` is -1.
    """
    def close() -> None:
        for number, stream in ((1, out), (2, err)):
            if stream is None:
                os.close(number)

    done = subprocess.run(
        [*PLANNER, *map(str, arguments)], stdout=out, cwd=ROOT, timeout=MOST_S, check=False,
        stderr=subprocess.PIPE if err == -1 else err, preexec_fn=close)
    return done.returncode, (done.stderr or b"").decode()
