"""Ctrl-C and SIGTERM: heard soon, wherever the work is; no traceback, no half of an answer."""

from __future__ import annotations

import json
import signal
import sys
from subprocess import TimeoutExpired

import pytest

from tests.cli.processes import BOOK, CASES, PLANNER, started, told_to_end

SOON_S = 2.5  # 1 s is promised; the rest is for a machine that does other things besides
LARGE = CASES / "large_estate.toml"
AT_IMPORT = """
import os, runpy, signal, sys
number, wanted, *arguments = sys.argv[1:]
class Stumble:
    def find_spec(self, name, path=None, target=None):
        if name == wanted:
            os.kill(os.getpid(), int(number))
sys.meta_path.insert(0, Stumble())
sys.argv = ["planner", *arguments]
runpy.run_module("planner", run_name="__main__")
"""
DEAF = """
import sys, time
from planner.cli.terminal.interrupt import attended, listen, run_listening
def work():
    print("working", flush=True)
    if sys.argv[1] == "attended":
        with attended():
            time.sleep(60.0)
    time.sleep(60.0)
listen()
run_listening(work)
"""
WRITING = """
import sys
from planner.cli.terminal.interrupt import listen, run_listening
from planner.cli.terminal.output import emit
def work():
    print("working", file=sys.stderr, flush=True)
    emit({"numbers": list(range(100_000))})
    return 0
listen()
sys.exit(run_listening(work))
"""
ASKED = [("frontier",), ("plan",), ("compare",), ("explain",), ("simulate", "--seeds", "2")]


def go_on(process, seconds):
    """Let a process go on for a while; it must not have ended by then."""
    with pytest.raises(TimeoutExpired):
        process.wait(seconds)


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=lambda one: one.name)
@pytest.mark.parametrize("module", [
    "planner.cli.main", "click", "rich.console", "planner.cli.frontier", "numpy", "pydantic",
    "planner.search.frontier", "pulp"])
def test_an_interruption_of_the_imports_is_a_word(home_file, number, module):
    """Whatever is being imported: "Interrupted.", code 130, nothing on standard output."""
    with started(sys.executable, "-c", AT_IMPORT, int(number), module, "frontier", home_file(),
                 "--book", BOOK) as process:
        out, err = process.communicate(timeout=60.0)
    assert (process.returncode, out) == (130, "")
    assert [line for line in err.splitlines() if not line.startswith("note:")] == ["Interrupted."]


@pytest.mark.parametrize("after_s", [0.2, 2.0])
@pytest.mark.parametrize("asked", ASKED, ids=lambda asked: asked[0])
def test_a_large_home_is_left_soon_and_the_answer_is_whole_or_missing(asked, after_s):
    """Heard within a second; standard output is empty or an object that says it is not all."""
    command, *more = asked
    with started(*PLANNER, command, LARGE, *more, "--json") as process:
        process.stderr.readline()  # the first finding: the home is read
        go_on(process, after_s)
        ended = told_to_end(process)
    assert ended.code == 130
    assert ended.calm
    assert ended.after_s < SOON_S
    if ended.out:
        answer = json.loads(ended.out)
        assert answer.get("complete") is False or answer["error"]["exit_code"] == 130


def test_a_termination_is_an_interruption():
    """SIGTERM ends a search like Ctrl-C: code 130, whole JSON or none."""
    with started(*PLANNER, "frontier", LARGE, "--json") as process:
        process.stderr.readline()
        go_on(process, 1.0)
        ended = told_to_end(process, signal.SIGTERM)
    assert (ended.code, ended.calm) == (130, True)
    assert ended.after_s < SOON_S
    if ended.out:
        answer = json.loads(ended.out)
        assert answer.get("complete") is False or answer["error"]["exit_code"] == 130


def test_prose_about_an_interruption_goes_to_standard_error():
    """Without --json, too, nothing but an answer is on standard output."""
    with started(*PLANNER, "simulate", LARGE) as process:
        process.stderr.readline()
        go_on(process, 0.5)
        ended = told_to_end(process)
    assert (ended.code, ended.out, ended.calm) == (130, "", True)
    assert "nterrupted" in ended.err


@pytest.mark.parametrize("how", ["alone", "attended"])
def test_work_that_hears_nothing_is_left(how):
    """Where nothing looks the process leaves at once; where something should, after a moment."""
    with started(sys.executable, "-c", DEAF, how) as process:
        process.stdout.readline()
        ended = told_to_end(process)
    assert (ended.code, ended.out) == (130, "")
    assert ended.err == "Interrupted.\n"
    assert ended.after_s < SOON_S


def test_an_answer_that_is_being_written_is_finished():
    """A signal in the middle of it comes too late: all of it arrives, and the code is that."""
    with started(sys.executable, "-c", WRITING) as process:
        process.stderr.readline()
        go_on(process, 0.5)  # more is written than a pipe holds: it waits for us to read
        ended = told_to_end(process)
    assert (ended.code, ended.err) == (0, "")
    assert len(json.loads(ended.out)["numbers"]) == 100_000


def test_a_second_signal_ends_even_that():
    """Whoever insists is not kept waiting by a reader that does not read."""
    with started(sys.executable, "-c", WRITING) as process:
        process.stderr.readline()
        go_on(process, 0.5)
        process.send_signal(signal.SIGINT)
        go_on(process, 0.5)
        process.send_signal(signal.SIGINT)
        assert process.wait(SOON_S) == 130
