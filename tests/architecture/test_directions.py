"""Imports point one way, and the check that says so can fail."""

from __future__ import annotations

from pathlib import Path

import pytest
import tomlkit
from importlinter.cli import EXIT_STATUS_ERROR, EXIT_STATUS_SUCCESS, lint_imports

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def from_the_root(monkeypatch):
    """Run the import linter where the package is found."""
    monkeypatch.chdir(ROOT)


def test_every_contract_holds():
    """No room imports from a room downstream of it, and only the model room knows the solver."""
    assert lint_imports(str(ROOT / "pyproject.toml"), no_cache=True) == EXIT_STATUS_SUCCESS


def test_the_opposite_direction_breaks_the_contract(tmp_path, capsys):
    """The same contract with its layers upside down fails, so the check sees the imports."""
    settings = tomlkit.parse((ROOT / "pyproject.toml").read_text("utf-8")).unwrap()
    contract = next(one for one in settings["tool"]["importlinter"]["contracts"]
                    if one["type"] == "layers")
    contract["layers"].reverse()
    linter = {"root_packages": ["planner", "ui"], "contracts": [contract]}
    upside_down = tmp_path / "upside_down.toml"
    upside_down.write_text(tomlkit.dumps({"tool": {"importlinter": linter}}), "utf-8")
    assert lint_imports(str(upside_down), no_cache=True) == EXIT_STATUS_ERROR
    assert "0 kept, 1 broken" in capsys.readouterr().out


def test_every_room_has_its_place_in_the_contract():
    """A new package under planner/ is part of the order, so that nothing stays unchecked."""
    settings = tomlkit.parse((ROOT / "pyproject.toml").read_text("utf-8")).unwrap()
    layers = settings["tool"]["importlinter"]["contracts"][0]["layers"]
    placed = {room.strip() for layer in layers for room in layer.split("|")} - {"ui"}
    rooms = {f"planner.{path.stem}" for path in (ROOT / "planner").iterdir()
             if (path / "__init__.py").exists() or path.suffix == ".py"}
    assert rooms - {"planner.__init__", "planner.__main__"} == placed
