"""A server that is killed loses nothing that it has kept, and leaves nothing half written."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from planner.jobs.store import Store

WRITER = """
import sys
from dataclasses import replace
from planner.jobs.content import Content, File
from planner.jobs.store import Store

store = Store(sys.argv[1], "owner")
content = Content(File("one.toml", "number = 0"), File("book.toml", "[book]"))
job = store.begin(content, "One")
print(job.id, flush=True)
for number in range(1, 100_000):
    text = f"number = {number}  # " + "x" * 20_000 + f"{number}"
    content = replace(content, home=File("one.toml", text),
                      past=(*content.past, content.home)[-50:])
    job = store.save(job, content)
    print(number, flush=True)
"""


@pytest.mark.parametrize("after_s", [0.05, 0.11, 0.17, 0.23, 0.31])
def test_nothing_that_was_kept_is_lost(tmp_path: Path, after_s: float) -> None:
    """Killed between any two writes, or within one, the store holds the last that was said kept.

    Or the next one, which it may not have come to say; always whole, with the step before it.
    """
    script = tmp_path / "writer.py"
    script.write_text(WRITER)
    writer = subprocess.Popen([sys.executable, str(script), str(tmp_path / "store")],
                              stdout=subprocess.PIPE, text=True,
                              env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)})
    assert writer.stdout is not None
    job_id = writer.stdout.readline().strip()
    writer.stdout.readline()
    time.sleep(after_s)
    writer.send_signal(signal.SIGKILL)
    said = [int(line) for line in writer.stdout.read().split()]
    writer.wait()
    writer.stdout.close()
    assert said
    store = Store(str(tmp_path / "store"), "owner")
    held = store.load(job_id).content
    kept = int(held.home.text.split()[2])
    assert kept in (said[-1], said[-1] + 1)
    assert held.home.text.endswith(f"x{kept}")
    assert held.past[-1].text.split()[2] == str(kept - 1)
    job = store.load(job_id)
    assert store.save(job, held).revision == job.revision + 1  # and it can be gone on with
    store.close()
