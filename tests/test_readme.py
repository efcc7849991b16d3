"""The worked example of the README is what the program prints."""

from __future__ import annotations

import shlex
from pathlib import Path

import pytest

from planner.cli.main import run

ROOT = Path(__file__).parents[1]
TEXT = (ROOT / "README.md").read_text("utf-8")
LEFT_OUT = "..."


def block(language):
    """The text of the first block of a language."""
    return TEXT.partition(f"```{language}\n")[2].partition("\n```")[0]


def steps():
    """Each command of the example, and the stretches of output that stand below it."""
    found = []
    for part in f"\n{block('console')}".split("\n$ ")[1:]:
        command, _, output = part.partition("\n")
        lines = f"\n{output}\n".split(f"\n{LEFT_OUT}\n")
        found.append((command, [text.strip("\n") for text in lines if text.strip()]))
    return found


@pytest.fixture
def at_work(tmp_path, monkeypatch):
    """A directory with the list and the cases in it."""
    (tmp_path / "list.txt").write_text(block("text"), "utf-8")
    (tmp_path / "cases").symlink_to(ROOT / "cases")
    monkeypatch.chdir(tmp_path)


def test_the_worked_example_is_true(at_work, capsys):
    """Every command of it works, and every line below it is printed, in one piece."""
    assert len(steps()) == 3
    for command, stretches in steps():
        program, *arguments = shlex.split(command)
        assert program == "planner"
        assert stretches
        assert run(arguments) == 0
        printed = capsys.readouterr().out
        for stretch in stretches:
            assert stretch in printed, command


def test_every_command_is_told(capsys):
    """The table of the README has a row for each command that the help lists, and no other."""
    run(["--help"])
    listed = capsys.readouterr().out.partition("Commands:\n")[2].partition("\n\n")[0]
    commands = {line.split()[0] for line in listed.splitlines() if line.startswith("  ")
                and not line.startswith("   ")}
    rows = {line.split("`")[1].split()[1] for line in TEXT.splitlines()
            if line.startswith("| `planner ")}
    assert rows == commands
