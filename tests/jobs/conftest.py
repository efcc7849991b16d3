"""Stores to test with: a file of SQLite, and PostgreSQL where Debian's package is installed."""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest

from planner.jobs.content import Content, File
from planner.jobs.store import Store

SUPERUSER = "postgres"


@pytest.fixture
def content() -> Content:
    """A home and a price book, each a line long."""
    return Content(File("one.toml", '[home]\nlabel = "One"\n'), File("book.toml", "[book]\n"))


@pytest.fixture(params=["SQLite", pytest.param("PostgreSQL", marks=pytest.mark.database)])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    """An empty store in either database."""
    address = (str(tmp_path / "store") if request.param == "SQLite"
               else request.getfixturevalue("postgresql"))
    made = Store(address, uuid.uuid4().hex)
    yield made
    made.close()


@pytest.fixture(scope="session")
def postgresql() -> Iterator[str]:
    """The address of a database server that lives as long as the tests."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin"))
    if not found:
        pytest.skip("PostgreSQL is not installed")
    folder = Path(tempfile.mkdtemp(prefix="postgresql-"))
    who: dict[str, int] = {}
    if os.geteuid() == 0:  # the server refuses to run as root
        user = pwd.getpwnam(SUPERUSER)
        who = {"user": user.pw_uid, "group": user.pw_gid}
        os.chown(folder, user.pw_uid, user.pw_gid)
    data, with_socket = folder / "data", socket.socket()
    with with_socket:
        with_socket.bind(("127.0.0.1", 0))
        port = with_socket.getsockname()[1]

    def run(*line: str) -> None:
        subprocess.run([str(found[-1] / line[0]), *line[1:]], check=True, cwd=folder,
                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **who)

    run("initdb", "-D", str(data), "-U", SUPERUSER, "-A", "trust", "-E", "UTF8", "--locale=C")
    options = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder}"
    run("pg_ctl", "-D", str(data), "-w", "-l", str(folder / "log"), "-o", options, "start")
    try:
        yield f"postgresql+psycopg://{SUPERUSER}@127.0.0.1:{port}/postgres"
    finally:
        run("pg_ctl", "-D", str(data), "-m", "immediate", "stop")
        shutil.rmtree(folder)
