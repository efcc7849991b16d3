"""The front end starts on this machine only, says what hinders it, and ends when it is told to."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from contextlib import suppress
from pathlib import Path

import pytest

from planner.cli.app import ADDRESS, USUAL_PORT

SECONDS = 60.0
MOMENTS_S = 0.5


def a_free_port():
    """A port that nobody listens on."""
    with socket.socket() as probe:
        probe.bind((ADDRESS, 0))
        return probe.getsockname()[1]


@pytest.fixture(autouse=True)
def store(monkeypatch, tmp_path):
    """Keep jobs beside the test, not among those of whoever runs it."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return tmp_path / "data" / "standby-planner"


@pytest.fixture
def no_process(monkeypatch):
    """Keep what would be started instead of starting it, and answer with a code."""
    started = []

    class Ended:
        """A server that has ended at once."""

        def __init__(self, line, env):
            started.append(line)
            started.append(env)

        def wait(self, _seconds):
            return 7

        def poll(self):
            return 7

        def kill(self):
            raise AssertionError("it has ended by itself")

    monkeypatch.setattr("planner.cli.app.subprocess.Popen", Ended)
    return started


def option(line, name):
    """What stands behind an option of a command line."""
    return line[line.index(name) + 1]


def test_it_is_served_to_this_machine_only(planner, no_process):
    """The address is the loopback, the port the one asked for; the process's code comes back."""
    port = a_free_port()
    outcome = planner("app", "--port", port, "--no-browser")
    assert outcome.code == 7
    assert f"http://127.0.0.1:{port}" in outcome.out
    line = no_process[0]
    assert option(line, "--server.address") == ADDRESS == "127.0.0.1"
    assert option(line, "--server.port") == str(port)
    assert option(line, "--server.headless") == "true"
    assert option(line, "--logger.hideWelcomeMessage") == "true"
    assert Path(option(line, "run")).parts[-2:] == ("ui", "app.py")
    assert "--" not in line


def test_jobs_are_kept_among_the_users_data_or_where_they_are_wanted(
    planner, no_process, store, tmp_path
):
    """The pages are told the place, which is there; for visitors each browser has its own jobs."""
    assert planner("app", "--port", a_free_port()).code == 7
    assert no_process[1]["STANDBY_STORE"] == str(store)
    assert (store / "jobs.sqlite").is_file()
    assert "STANDBY_VISITORS" not in no_process[1]
    mine = tmp_path / "mine"
    assert planner("app", "--port", a_free_port(), "--store", mine, "--visitors").code == 7
    assert no_process[3]["STANDBY_STORE"] == str(mine)
    assert no_process[3]["STANDBY_VISITORS"] == "1"
    assert Path(option(no_process[2], "run")).name == "serve.py"
    refused = planner("app", "--port", a_free_port(), "--store", "nothing://x")
    assert refused.code == 1
    assert "no address of a database" in refused.err


def test_a_browser_is_opened_unless_it_is_not_wanted(planner, no_process):
    """Headless means without."""
    planner("app", "--port", a_free_port())
    assert option(no_process[0], "--server.headless") == "false"


def test_a_home_is_handed_over_by_its_whole_path(planner, no_process, home_file, monkeypatch):
    """Whatever directory it is named from."""
    path = home_file()
    monkeypatch.chdir(path.parent)
    assert planner("app", path.name, "--port", a_free_port()).code == 7
    assert no_process[0][-2:] == ["--", str(path.resolve())]


@pytest.mark.parametrize("host", ["127.0.0.1", "0.0.0.0"])
def test_a_taken_port_is_named(planner, no_process, host):
    """Someone else listens there, on this machine only or for all: nothing is started."""
    with socket.socket() as taken:
        taken.bind((host, 0))
        taken.listen()
        port = taken.getsockname()[1]
        outcome = planner("app", "--port", port)
    assert outcome.code == 1
    assert outcome.err.strip() == f"Port {port} is taken. Give another one with --port."
    assert (no_process, outcome.out) == ([], "")


def test_a_port_that_was_just_left_is_free(planner, no_process):
    """A connection that lingers after its end takes no port away."""
    with socket.socket() as server:
        server.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as servers do
        server.bind((ADDRESS, 0))
        server.listen()
        port = server.getsockname()[1]
        with socket.create_connection((ADDRESS, port)):
            server.accept()[0].close()
    assert planner("app", "--port", port).code == 7


@pytest.mark.parametrize("port", ["80", "0", "-1", "65536", "many"])
def test_a_port_that_is_none_is_a_usage_error(planner, no_process, port):
    """Ports below 1024 belong to the system, above 65 535 there are none."""
    assert planner("app", "--port", port).code == 2
    assert no_process == []
    assert 1024 <= USUAL_PORT <= 65535


@pytest.mark.parametrize(("name", "content", "said"), [
    ("nowhere.toml", None, "no such file"), ("odd.toml", b"[home", "this is not TOML"),
    ("odd.toml", b"\xff\xfe", "this is not a text file")])
def test_a_home_that_cannot_be_read_is_named(planner, no_process, tmp_path, name, content, said):
    """Nothing is started for a file that is missing, or that is no TOML."""
    if content is not None:
        (tmp_path / name).write_bytes(content)
    outcome = planner("app", tmp_path / name)
    assert outcome.code == 2
    assert name in outcome.err
    assert said in outcome.err
    assert (no_process, outcome.out) == ([], "")


def test_a_front_end_that_did_not_come_along_is_missed(planner, no_process, monkeypatch):
    """Without its package there is a sentence, not a traceback."""
    monkeypatch.setattr("planner.cli.app.find_spec", lambda _: None)
    outcome = planner("app", "--port", a_free_port())
    assert (outcome.code, no_process) == (1, [])
    assert "front end is missing" in outcome.err


def answer_of(port, process):
    """Wait until the page answers, and give its status."""
    end = time.monotonic() + SECONDS
    while time.monotonic() < end and process.poll() is None:
        try:
            with urllib.request.urlopen(f"http://{ADDRESS}:{port}/", timeout=5.0) as page:
                return page.status
        except (urllib.error.URLError, ConnectionError):
            time.sleep(0.1)
    return None


def children_of(process):
    """Ids of the processes that a process has started."""
    listed = subprocess.run(["ps", "-A", "-o", "pid=,ppid="], capture_output=True, text=True,
                            check=True)
    pairs = [map(int, line.split()) for line in listed.stdout.splitlines()]
    return [child for child, parent in pairs if parent == process.pid]


def is_gone(number):
    """Whether a process has ended, or does so within moments of the end of who started it."""
    end = time.monotonic() + MOMENTS_S
    while time.monotonic() < end:
        listed = subprocess.run(["ps", "-p", str(number), "-o", "stat="], capture_output=True,
                                text=True, check=False)
        if listed.stdout.strip()[:1] in ("", "Z"):
            return True
    return False


@pytest.mark.parametrize("times", [1, 2], ids=["once", "twice"])
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM], ids=["Ctrl-C", "SIGTERM"])
@pytest.mark.parametrize("everyone", [True, False], ids=["to the group", "to the process"])
def test_the_started_process_answers_and_ends_when_interrupted(home_file, everyone, number, times):
    """It answers on its port; a signal ends it with 130, and the process that serves the pages."""
    port = a_free_port()
    process = subprocess.Popen(
        [sys.executable, "-m", "planner", "app", str(home_file()), "--port", str(port),
         "--no-browser"], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        start_new_session=True)
    try:
        assert answer_of(port, process) == 200
        servers = children_of(process)
        assert servers
        if times > 1:  # nobody asks twice who is heard at once
            for server in servers:
                os.kill(server, signal.SIGSTOP)
        for _ in range(times):
            (os.killpg if everyone else os.kill)(process.pid, number)
            time.sleep(0.15)  # the first one is noticed before the second comes
        out, err = process.communicate(timeout=SECONDS)
        assert process.returncode == 130
        assert "Traceback" not in out + err
        assert all(map(is_gone, servers))
        with socket.socket() as probe, pytest.raises(ConnectionRefusedError):
            probe.connect((ADDRESS, port))
    finally:
        with suppress(ProcessLookupError):  # all of the group have ended
            os.killpg(process.pid, signal.SIGKILL)
        process.wait()
