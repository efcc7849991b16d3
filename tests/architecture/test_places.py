"""Everything stands where it belongs."""

from __future__ import annotations

import ast
from fnmatch import fnmatch
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
AT_THE_TOP = {"planner", "ui", "tests", "cases", "README.md", "DEVELOPERS.md", "pyproject.toml"}
MODULES = sorted((ROOT / "planner").rglob("*.py"))
PAGES = sorted((ROOT / "ui").rglob("*.py"))
DRAWN = [path for path in PAGES if {"views", "parts"} & set(path.parts)]
RECKONING = (ast.Sub, ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow, ast.MatMult)
LONGEST = 300


def imported(path):
    """Collect the top-level names of the packages that a module imports."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names.update(alias.name.partition(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module.partition(".")[0])
    return names


def importers(package):
    """List the modules of the planner that import a package, as paths from the root."""
    return {path.relative_to(ROOT).as_posix() for path in MODULES if package in imported(path)}


def test_the_top_level_holds_only_what_is_allowed():
    """Packages, tests, cases, two documents and the project file; the rest are dot-files."""
    ignored = [line.rstrip("/") for line in (ROOT / ".gitignore").read_text("utf-8").split()]
    found = {path.name for path in ROOT.iterdir()
             if not path.name.startswith(".")
             and not any(fnmatch(path.name, pattern) for pattern in ignored)}
    assert found <= AT_THE_TOP
    assert {"planner", "tests", "cases", "pyproject.toml"} <= found


@pytest.mark.parametrize("package", ["pulp", "highspy"])
def test_only_the_model_room_knows_the_solver(package):
    """The solver can be exchanged in one place."""
    found = importers(package)
    assert found
    assert {path for path in found if not path.startswith("planner/model/")} == set()


def test_only_one_module_makes_a_unit_registry():
    """Two registries would refuse each other's quantities."""
    assert importers("pint") == {"planner/units.py"}


def test_only_the_command_line_writes_to_the_terminal():
    """Nothing else imports what draws on a terminal, and nothing prints."""
    drawing = importers("click") | importers("rich")
    assert drawing
    assert {path for path in drawing if not path.startswith("planner/cli/")} == set()
    printing = {path.relative_to(ROOT).as_posix() for path in MODULES
                for node in ast.walk(ast.parse(path.read_text("utf-8")))
                if isinstance(node, ast.Call) and isinstance(node.func, ast.Name)
                and node.func.id == "print"}
    assert printing == set()


@pytest.mark.parametrize("path", MODULES + PAGES,
                         ids=lambda path: path.relative_to(ROOT).as_posix())
def test_no_file_needs_scrolling_to_understand(path):
    """One idea per file: none is longer than 300 lines."""
    assert len(path.read_text("utf-8").splitlines()) <= LONGEST


@pytest.mark.parametrize("path", DRAWN, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_pages_hold_no_arithmetic(path):
    """A page shows what the engine says; figures are made elsewhere, where they are tested."""
    found = [node.lineno for node in ast.walk(ast.parse(path.read_text("utf-8")))
             if isinstance(node, ast.BinOp) and (
                 isinstance(node.op, RECKONING)
                 or (isinstance(node.op, ast.Add) and any(
                     isinstance(side, ast.Constant) and isinstance(side.value, int | float)
                     for side in (node.left, node.right))))]
    assert found == []


def test_one_file_touches_the_session_state():
    """Everything of a visitor is typed and in one place."""
    found = {path.relative_to(ROOT).as_posix() for path in PAGES
             if "session_state" in path.read_text("utf-8")}
    assert found == {"ui/state.py"}


def test_nothing_of_a_file_is_shown_as_markup():
    """Raw markup comes from one file, which shows nothing of a visitor's; nothing is unpickled."""
    raw = {path.relative_to(ROOT).as_posix() for path in PAGES
           if "st.html(" in path.read_text("utf-8")}
    assert raw == {"ui/look.py"}
    for path in PAGES:
        assert "unsafe_allow" not in path.read_text("utf-8")
        assert not imported(path) & {"pickle", "shelve", "marshal", "dill", "joblib"}


def test_answers_are_not_kept_for_all_visitors():
    """What is cached for the whole process is the warm-up and what came with the planner."""
    shared = {path.relative_to(ROOT).as_posix() for path in PAGES
              if "cache_data" in path.read_text("utf-8") or "cache_resource" in
              path.read_text("utf-8") or "lru_cache" in path.read_text("utf-8")}
    assert shared == {"ui/warm.py"}


FOR_THE_SITE = {"pipe", "vaporisation"}  # fuel at the site
WAITING = {"engine.no_return_hz", "engine.settled_hz"}
OF_THE_TANK = {"natural_gas_ft3_h", "propane_ft3_h", "run_time_h", "usable_gal"}  # the same


def public_functions(path):
    """Names of the functions that a module offers."""
    return {node.name for node in ast.parse(path.read_text("utf-8")).body
            if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")}


def names_in(path):
    """Every name and attribute that a module's code speaks of, docstrings left out."""
    tree = ast.parse(path.read_text("utf-8"))
    return ({node.id for node in ast.walk(tree) if isinstance(node, ast.Name)}
            | {node.attr for node in ast.walk(tree) if isinstance(node, ast.Attribute)})


def test_physics_is_reached():
    """Every function of the physics is used by the planner, or waits for the sheet of the site."""
    used = set[str]()
    for path in MODULES:
        used |= names_in(path)
    idle = {f"{path.stem}.{name}" for path in (ROOT / "planner" / "physics").rglob("*.py")
            if path.stem not in FOR_THE_SITE
            for name in public_functions(path) - OF_THE_TANK if name not in used}
    assert idle == WAITING
