"""The compiled loops are there, are those of these sources, and are refused when they are not."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from importlib import import_module
from pathlib import Path

import pytest

from loops_source import Sources
from planner.compiled import UNCOMPILED, changed, compiled, loops, name_in_extension
from planner.errors import LoopsError

ROOT = Path(__file__).parents[2]
HOME = ROOT / "cases" / "suburban.toml"


def test_every_marked_function_is_compiled():
    """Whatever carries the mark is in the extension, and is called there."""
    marked = [f"{module.name}.{node.name}" for module in Sources(ROOT).marked_modules()
              for node in module.marked()]
    assert len(marked) > 40
    for name in marked:
        module, _, function = name.rpartition(".")
        found = getattr(loops(), name_in_extension(name))
        assert getattr(import_module(module), function) is found


def test_the_extension_is_that_of_these_sources():
    """It names every file with a marked function, and none has changed since."""
    package = ROOT / "planner"
    files = {path.relative_to(package).as_posix() for path in package.rglob("*.py")
             if "@compiled\n" in path.read_text("utf-8")}
    assert files <= loops().SOURCES.keys()
    assert changed(loops().SOURCES, package) == []


def test_it_also_knows_the_files_that_only_give_numbers_and_named_tuples():
    """A constant or a field that changes makes the extension old too."""
    files = {"simulation/columns.py", "simulation/tally.py", "physics/thermal.py"}
    assert files <= loops().SOURCES.keys()


def test_a_function_that_is_not_compiled_is_refused():
    """A mark on something that was not there when the loops were built is an error that says so."""
    def late(second: int) -> int:
        return second

    with pytest.raises(LoopsError, match="late is not among the compiled loops"):
        compiled(late)


def test_uncompiled_leaves_python(monkeypatch):
    """With the setting in the environment the mark does nothing."""
    def late(second: int) -> int:
        return second

    monkeypatch.setenv(UNCOMPILED, "1")
    assert compiled(late) is late


@pytest.fixture
def copy(tmp_path):
    """Copy the package, and give a function that runs the planner in it."""
    shutil.copytree(ROOT / "planner", tmp_path / "planner",
                    ignore=shutil.ignore_patterns("__pycache__"))
    environment = {key: value for key, value in os.environ.items() if key != UNCOMPILED}
    environment["PYTHONPATH"] = str(tmp_path)

    def run(*arguments):
        return subprocess.run([sys.executable, "-m", "planner", *arguments], cwd=tmp_path,
                              env=environment, capture_output=True, text=True, check=False)

    return tmp_path / "planner", run


@pytest.mark.parametrize("name", ["simulation/loops/play.py", "simulation/columns.py"])
def test_a_source_newer_than_the_extension_is_said(copy, name):
    """Stale loops are never used: the command ends with a sentence that names file and remedy."""
    package, run = copy
    with (package / name).open("a", encoding="utf-8") as file:
        file.write("\n# a change\n")
    done = run("simulate", str(HOME), "--seeds", "1")
    assert done.returncode == LoopsError.exit_code
    assert f"The compiled loops are older than {name}. Build them: pip install" in done.stderr
    assert "Traceback" not in done.stderr
    assert done.stdout == ""


def test_a_missing_extension_is_said(copy):
    """Without the extension the command ends with a sentence that says how to build it."""
    package, run = copy
    for path in package.glob("_loops*"):
        path.unlink()
    done = run("simulate", str(HOME), "--seeds", "1")
    assert done.returncode == LoopsError.exit_code
    assert "The loops of the planner are not compiled" in done.stderr
    assert "pip install" in done.stderr
    assert "Traceback" not in done.stderr
