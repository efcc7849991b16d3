"""Saving: whole or not at all, comments kept, reading after saving is the identity."""

from __future__ import annotations

import stat
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planner.case.read import read_home
from planner.editing.save import edit, save_text
from planner.editing.values import edited
from planner.errors import CaseError
from tests.case.files import HEAD

COMMENTED = HEAD + """
# The dryer is old; ask about gas.
[[loads]]
id = "dryer"
kind = "electric dryer"      # 240 V
wait = "6 h"   # they said so

[[loads]]
id = "fridge"
kind = "refrigerator"
[loads.use.every]
kind = "always"  # worst case
"""
CASES = Path(__file__).parents[2] / "cases"


@pytest.fixture
def path(tmp_path) -> Path:
    """Write a commented home file."""
    path = tmp_path / "house.toml"
    path.write_bytes(COMMENTED.encode())
    return path


def test_no_change_is_the_identity(path):
    """Editing nothing gives the same text, byte for byte."""
    edit(path, {})
    assert path.read_bytes() == COMMENTED.encode()


@pytest.mark.parametrize("case", sorted(CASES.glob("*.toml")), ids=lambda case: case.stem)
def test_every_case_survives_a_round_trip(case):
    """Each file in cases/ comes through the editor unchanged, comments and all."""
    text = case.read_bytes().decode("utf-8")
    assert edited(text, {}) == text


def test_windows_line_ends_survive():
    """A file written elsewhere keeps its line ends."""
    text = COMMENTED.replace("\n", "\r\n")
    assert edited(text, {}) == text


def test_a_change_keeps_every_comment(path):
    """One value changes on its line; every other line stays."""
    edit(path, {("loads", "dryer", "wait"): "3 h"})
    before, after = COMMENTED.splitlines(), path.read_text(encoding="utf-8").splitlines()
    changed = [(a, b) for a, b in zip(before, after, strict=True) if a != b]
    assert changed == [('wait = "6 h"   # they said so', 'wait = "3 h"   # they said so')]
    assert read_home(path)[0].load("dryer").wait_h == 3.0


def test_keys_come_and_go(path):
    """A new key, a new table and a removed key are read back as such."""
    edit(path, {("loads", "dryer", "importance"): 5, ("limits", "allowed_dip"): "20 %",
                ("loads", "dryer", "wait"): None,
                ("loads", "fridge", "use", "every", "kind"): "never"})
    home, _ = read_home(path)
    assert home.load("dryer").importance == 5
    assert home.limits.allowed_dip == 0.2
    assert "wait" in {item.key for item in home.load("dryer").assumed}
    assert home.load("fridge").use["every"].kind == "never"


WAITS = st.integers(min_value=0, max_value=96).map(lambda slots: f"{15 * slots} min")


@settings(max_examples=40, deadline=None,
          suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(wait=WAITS, importance=st.integers(0, 5), must_run=st.booleans(),
       area=st.integers(0, 20_000))
def test_reading_after_saving_gives_what_was_saved(tmp_path, wait, importance, must_run, area):
    """Whatever wishes are saved, the home that is read has them, and the rest is untouched."""
    path = tmp_path / "house.toml"
    save_text(path, COMMENTED)
    before = read_home(path)[0]
    edit(path, {("loads", "dryer", "wait"): wait, ("loads", "dryer", "importance"): importance,
                ("loads", "dryer", "must_run"): must_run, ("home", "floor_area"): f"{area} ft^2"})
    after = read_home(path)[0]
    dryer = after.load("dryer")
    assert dryer.wait_h == pytest.approx(int(wait.split()[0]) / 60)
    assert (dryer.importance, dryer.must_run) == (importance, must_run)
    assert after.floor_area_ft2 == area
    assert after.load("fridge") == before.load("fridge")
    assert after.days == before.days


def test_a_path_that_leads_nowhere_is_refused(path):
    """An unknown load id is refused with the nearest one, and the file is untouched."""
    with pytest.raises(CaseError, match='Did you mean "dryer"'):
        edit(path, {("loads", "drier", "wait"): "3 h"})
    assert path.read_text(encoding="utf-8") == COMMENTED


def test_a_file_that_is_not_toml_is_not_edited(tmp_path):
    """It is refused in words and stays as it was."""
    path = tmp_path / "house.toml"
    path.write_text("[home", encoding="utf-8")
    with pytest.raises(CaseError, match="is not TOML"):
        edit(path, {("home", "label"): "x"})
    assert path.read_text(encoding="utf-8") == "[home"


def test_a_failed_save_leaves_the_old_file_and_no_rest(path, monkeypatch):
    """When the disk fails in the last step, the old text is there and no half-written file."""
    def fail(self, target):
        raise OSError("disk full")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(OSError, match="disk full"):
        save_text(path, "new")
    assert path.read_bytes() == COMMENTED.encode()
    assert [child.name for child in path.parent.iterdir()] == ["house.toml"]


def test_a_saved_file_keeps_its_permissions(path):
    """A file that a group may read stays readable for it."""
    path.chmod(0o664)
    save_text(path, "x = 1\n")
    assert stat.S_IMODE(path.stat().st_mode) == 0o664
    assert path.read_text(encoding="utf-8") == "x = 1\n"
