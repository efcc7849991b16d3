"""What a home file says to no effect is answered with a warning, not with silence."""

from __future__ import annotations

import pytest

from planner.case.read import read_home
from planner.errors import Severity
from tests.case.files import HEAD, load_text, read_load


def warnings(tmp_path, kind, *lines) -> list[str]:
    """Read a home with one load and give its warnings."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + load_text("it", kind, 'leg = "both"', *lines), encoding="utf-8")
    _, findings = read_home(path)
    return [str(finding) for finding in findings if finding.severity is Severity.WARNING]


@pytest.mark.parametrize(("kind", "lines", "words"), [
    ("electric dryer", ["must_run = true", "importance = 0"], "importance 0 on a must-run"),
    ("electric dryer", ["must_run = true", 'wait = "1 h"'], "does not wait"),
    ("electric dryer", ['start_power_factor = "0.5"'], "does not start hard"),
    ("electric dryer", ["with_supplemental = false"], "belongs to the heat pump"),
    ("lighting and receptacles", ['size = "1800 ft^2"', "heating_units = 2"], "is not read"),
    ("heat pump", ['size = "3 ton"', 'mop = "40 A"'], "breaker size alone"),
    ("heat pump", ['size = "3 ton"', 'locked_rotor = "80 A"', 'code_letter = "G"'],
     "because locked_rotor is given"),
])
def test_a_key_without_effect_is_said(tmp_path, kind, lines, words):
    """One warning names the key and why it changes nothing."""
    said = warnings(tmp_path, kind, *lines)
    assert len(said) == 1
    assert words in said[0]


def test_medical_equipment_needs_a_backup_of_its_own(tmp_path):
    """The caution stands beside every home with medical equipment."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + load_text("oxygen", "medical equipment", 'leg = "L1"'),
                    encoding="utf-8")
    _, findings = read_home(path)
    assert ["backup of its own" in str(finding) for finding in findings] == [True]


def test_a_plain_load_gives_no_warning(tmp_path):
    """Nothing is said where everything is read."""
    assert warnings(tmp_path, "electric dryer", 'wait = "4 h"', "importance = 2") == []


def test_a_nameplate_in_kilowatts_wins_over_a_size(tmp_path):
    """A 50 gal water heater whose nameplate says 5.5 kW draws 5.5 kW, not the usual 4.5 kW."""
    load = read_load(tmp_path, "electric water heater", 'size = "50 gal"', 'nameplate = "5.5 kW"')
    assert load.running_kw == pytest.approx(5.5)
    assert load.code.va == pytest.approx(5500.0)


def test_a_range_is_sized_by_its_nameplate(tmp_path):
    """15 kW counts 15 000 VA and draws 9.2 kW: 8 kW + 5 % for each kW above 12 (Table 220.55)."""
    load = read_load(tmp_path, "range", 'nameplate = "15 kW"')
    assert load.code.va == pytest.approx(15_000.0)
    assert load.running_kw == pytest.approx(9.2)
