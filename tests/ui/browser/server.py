"""The front end as its user starts it: in a process of its own, on a free port."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from planner.jobs.store import ADDRESS, VISITORS

ROOT = Path(__file__).parents[3]
HOST = "127.0.0.1"
PATIENCE_S = 60.0


@contextmanager
def serving() -> Iterator[str]:
    """Start the front end, give its address once it answers, stop it at the end; see `running`."""
    with running() as (address, _):
        yield address


@contextmanager
def running(
    store: str = "", *, visitors: bool = False, port: int | None = None
) -> Iterator[tuple[str, int]]:
    """Start the front end, give its address and its process id, stop it at the end.

    Parameters
    ----------
    store : str
        Where jobs are kept; in a place of this process if it is not said.
    visitors : bool
        Whether every browser has jobs of its own.
    port : int, optional
        A free one if it is not said.

    Raises
    ------
    RuntimeError
        It did not answer in time, or ended before it was stopped.
    """
    port = port or _free_port()
    told = {ADDRESS: store, VISITORS: "1" if visitors else ""}
    process = subprocess.Popen(
        [sys.executable, "-m", "streamlit", "run", "ui/serve.py" if visitors else "ui/app.py",
         "--server.port", str(port), "--server.headless", "true"],
        cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        env={**os.environ, **told})
    try:
        _wait(process, f"http://{HOST}:{port}/_stcore/health")
        try:
            yield f"http://{HOST}:{port}", process.pid
        finally:
            if not visitors and not store:  # those are killed by tests
                _still_runs(process)
    finally:
        process.terminate()
        try:
            process.wait(10.0)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind((HOST, 0))
        return int(probe.getsockname()[1])


def _wait(process: subprocess.Popen[bytes], address: str) -> None:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        _still_runs(process)
        try:
            with urllib.request.urlopen(address, timeout=1.0):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.05)
    message = f"The front end did not answer within {PATIENCE_S:g} s."
    raise RuntimeError(message)


def _still_runs(process: subprocess.Popen[bytes]) -> None:
    if process.poll() is not None:
        message = f"The front end ended by itself, with code {process.returncode}."
        raise RuntimeError(message)
