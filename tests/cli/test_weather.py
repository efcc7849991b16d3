"""A weather file on the command line: ``check`` shows its days, ``new`` names it."""

from __future__ import annotations

from planner.case.read import read_home
from tests.importing.years import year


def test_a_new_home_with_a_weather_file(planner, tmp_path):
    """The file is named from where the home stands; `check` shows the place, days and dates."""
    (tmp_path / "made.epw").write_text(year(), "utf-8")
    (tmp_path / "list.txt").write_text("central air, 3 ton\n", "utf-8")
    (tmp_path / "house").mkdir()
    path = tmp_path / "house" / "home.toml"
    made = planner("new", tmp_path / "list.txt", "--weather", tmp_path / "made.epw", "-o", path)
    assert made.code == 0
    assert 'file = "../made.epw"' in path.read_text("utf-8")
    assert read_home(path)[0].days[0].high_degf == 104.0
    shown = planner("check", path)
    rows = {line.split()[0]: line.split() for line in reversed(shown.out.splitlines())
            if line.strip()}
    assert rows["Hottest"][3:] == ["summer", "68", "104", "27%", "Jun", "30", "to", "Jul", "2"]
    assert "Millbrook" in shown.err
    data = planner("check", path, "--json").data
    assert data["days"]["cold"]["low_degf"] == -4.0
    assert data["weather"]["place"] == "Millbrook, XX, USA"


def test_a_weather_file_that_is_not_there(planner, tmp_path):
    """A sentence, and nothing is written."""
    (tmp_path / "list.txt").write_text("fridge\n", "utf-8")
    made = planner("new", tmp_path / "list.txt", "--weather", tmp_path / "gone.epw")
    assert made.code == 2
    assert "there is no such file" in made.err
    assert made.out == ""
