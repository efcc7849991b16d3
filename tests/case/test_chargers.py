"""A vehicle charger by its breaker and its current setting; branch breakers of other loads."""

from __future__ import annotations

import pytest

from planner.case.read import read_home
from planner.errors import CaseError, Severity
from planner.physics.wire.branch import branch_circuit
from planner.public import new_home
from tests.case.files import HEAD, load_text, read_load

CHARGER = "vehicle charger"


def test_a_fifty_ampere_breaker_is_a_forty_ampere_charger(tmp_path):
    """NEC 625.41, from memory: 80 % of the breaker; the size is not assumed besides."""
    load = read_load(tmp_path, CHARGER, 'breaker = "50 A"')
    assert load.running_a == pytest.approx(40.0)
    assert load.code.va == pytest.approx(9600.0)
    assert branch_circuit(load).breaker_a == 50.0
    assert "size" not in {one.key for one in load.assumed}
    assert any("625.41" in one.source for one in load.assumed if one.key == "running")


def test_a_list_may_say_the_breaker():
    """A charger with "50 A breaker" behind its name draws 40 A; one of 48 A draws that."""
    home = new_home(["EV charger, 50 A breaker", "EV charger, 48 A"])
    by_breaker, by_size = (one for one in home.loads if one.kind == CHARGER)
    assert by_breaker.code.va == pytest.approx(9600.0)
    assert by_size.code.va == pytest.approx(11_520.0)


def test_a_charger_counts_at_its_setting_and_keeps_its_breaker(tmp_path):
    """NEC 625.42, from memory: 48 A set to 24 A draws and counts 24 A behind its 60 A breaker."""
    load = read_load(tmp_path, CHARGER, 'size = "48 A"', 'current_setting = "24 A"')
    assert load.running_a == pytest.approx(24.0)
    assert load.code.va == pytest.approx(5760.0)
    assert branch_circuit(load).breaker_a == 60.0


@pytest.mark.parametrize(("lines", "said"), [
    (('size = "48 A"', 'breaker = "50 A"'), "carries a charger of 40 A, not of 48 A"),
    (('size = "32 A"', 'current_setting = "40 A"'), "above the 32 A"),
    (('breaker = "40 A"', 'current_setting = "40 A"'), "above the 32 A"),
])
def test_what_cannot_be_is_refused(tmp_path, lines, said):
    """A breaker below 125 % of the charger, a setting above what it can give."""
    with pytest.raises(CaseError) as refused:
        read_load(tmp_path, CHARGER, *lines)
    assert any(said in finding.sentence for finding in refused.value.findings)


@pytest.mark.parametrize(("lines", "said"), [
    (('running = "4.5 kW"', 'breaker = "15 A"'), "does not carry the 18.8 A"),
    (('running = "4.5 kW"', 'mop = "30 A"', 'breaker = "40 A"'), "above mop"),
])
def test_a_breaker_must_carry_its_load_and_keep_to_the_plate(tmp_path, lines, said):
    """Below what the load draws, or above what the nameplate allows, it is a mistake."""
    with pytest.raises(CaseError) as refused:
        read_load(tmp_path, "electric water heater", *lines)
    assert any(said in finding.sentence for finding in refused.value.findings)


def test_the_plate_says_the_largest_breaker(tmp_path):
    """``mop`` stands for the breaker unless that is given, which may be smaller."""
    plate = ('mca = "20 A"', 'mop = "35 A"')
    assert read_load(tmp_path, "central air conditioner", *plate).breaker_a == 35.0
    assert read_load(tmp_path, "central air conditioner", *plate,
                     'breaker = "30 A"').breaker_a == 30.0
    assert read_load(tmp_path, "central air conditioner", 'size = "3 ton"').breaker_a is None


def test_a_setting_of_something_else_is_not_read(tmp_path):
    """It is said, and the load stays as it is."""
    path = tmp_path / "house.toml"
    path.write_text(HEAD + load_text("it", "range", 'current_setting = "10 A"'), encoding="utf-8")
    home, findings = read_home(path)
    assert home.load("it").running_kw == pytest.approx(8.0)
    assert any(one.severity is Severity.WARNING and "current_setting" in one.where
               for one in findings)


def test_a_charger_counts_its_amperes_not_its_kilowatts(tmp_path):
    """40 A at 240 V are 9600 VA, and 125 % of them 50 A."""
    load = read_load(tmp_path, CHARGER, 'size = "40 A"')
    assert load.code.va == pytest.approx(9600.0)
    assert branch_circuit(load).breaker_a == 50.0
