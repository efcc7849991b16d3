"""Homes that name a meter's file: the peak and the usual day come out of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.case.read import read_home, read_home_text
from planner.errors import CaseError, Severity
from planner.physics.demand import calculated_load
from tests.importing.feeds import block, entry, feed, kind, row

HOME = """\
[home]
label = "Metered"
[code]
method = "measured"
[code.measured]
file = "meter.xml"
[[loads]]
id = "lights"
kind = "lighting and receptacles"
use.every = {kind = "measured"}
"""
BY_HAND = """\
peak = "7.2 kVA"
days = 365
interval = "15 min"
"""


def year(peak_wh=1800, direction=1):
    """A year of quarters of an hour; the highest of them once."""
    values = [100] * (365 * 96)
    values[5000] = peak_wh
    return feed(entry(kind(direction=direction)), entry(block(row(values))))


def read(tmp_path, meter, home=HOME):
    """Read a home with a meter's file beside it."""
    (tmp_path / "meter.xml").write_text(meter, "utf-8")
    path = tmp_path / "home.toml"
    path.write_text(home, "utf-8")
    return read_home(path)


def refused(tmp_path, meter, home=HOME):
    """Read a home that is refused; its errors."""
    with pytest.raises(CaseError) as caught:
        read(tmp_path, meter, home)
    return [one for one in caught.value.findings if one.severity is Severity.ERROR]


def test_a_peak_of_7_2_kw(tmp_path):
    """7.2 kW over 15 min of a year: 9.0 kVA, 37.5 A at 240 V (NEC 220.87, 2023; derived)."""
    sheet = calculated_load(read(tmp_path, year())[0])
    assert sheet.total_va == pytest.approx(9000.0)
    assert sheet.amperes_a == pytest.approx(37.5)


def test_a_file_says_what_is_written_by_hand(tmp_path):
    """The same home with its peak, days and interval by hand has the same code basis."""
    by_file = read(tmp_path, year())[0]
    plain = HOME.replace('file = "meter.xml"', BY_HAND.rstrip()).replace('"measured"}', '"always"}')
    assert read_home_text(plain, "home.toml")[0].code == by_file.code


def test_an_hour_counts_twice_and_the_sheet_says_so(green_button_year, tmp_path):
    """5.18 kW over an hour: 10.36 kVA for 15 min, x 1.25 = 12.95 kVA (NEC 220.87; √4 derived)."""
    home = read(tmp_path, Path(green_button_year).read_text("utf-8"))[0]
    sheet = calculated_load(home)
    assert sheet.total_va == pytest.approx(12_950.0)
    assert any("5,180 VA over 60 min taken × 2.00" in line.text for line in sheet.lines)
    assert any("understate the highest 15-min demand" in one.sentence for one in sheet.findings)


def test_the_usual_day_is_the_use_of_a_load(green_button_year, tmp_path):
    """24 shares, the highest 1, in place of the library's pattern."""
    home = read(tmp_path, Path(green_button_year).read_text("utf-8"))[0]
    use = home.loads[0].use["every"]
    assert use.kind == "duty"
    assert len(use.hours) == 24
    assert max(use.hours) == 1.0 == use.hours[19]  # 19:00 standard time, as the file's means are


def test_what_was_read_is_said(tmp_path):
    """Readings, days, energy, the highest demand and when, gaps and repeated readings."""
    said = next(one for one in read(tmp_path, year())[1] if "meter.xml" in one.sentence)
    assert said.severity is Severity.NOTE
    for part in ("35,040 readings", "365.0 days", "7.2 kW over 15 min",
                 "0 intervals have no reading", "0 readings came twice"):
        assert part in said.sentence


def test_energy_given_back_keeps_the_measurement_from_counting(tmp_path):
    """Generation behind the meter hides demand from it (NEC 220.87 exception, 2023)."""
    meter = year(direction=4).replace("<value>100<", "<value>-100<", 1)
    home, findings = read(tmp_path, meter)
    assert home.code.measured_with_generation
    assert any("energy flows back" in one.sentence for one in findings)


def test_everything_wrong_is_said_at_once(tmp_path):
    """A meter's file that cannot be read hides no other fault, and brings no second one about."""
    found = refused(tmp_path, "<feed/>", HOME.replace('label = "Metered"', 'floor_area = "much"'))
    assert {one.where for one in found} == {
        "home.toml: code: measured.file", "home.toml: home: label", "home.toml: home: floor_area"}
    assert any(one.sentence.startswith("meter.xml: there is no reading type") for one in found)


def test_a_meter_that_is_not_there(tmp_path):
    """Where it was looked for is said."""
    (finding,) = refused(tmp_path, "", HOME.replace("meter.xml", "gone.xml"))
    assert "gone.xml: there is no such file" in finding.sentence
    assert str(tmp_path) in finding.remedy


def test_text_without_a_folder_opens_no_file(tmp_path, monkeypatch):
    """A home that is only text, as a visitor hands it in, may not have files opened for it."""
    (tmp_path / "meter.xml").write_text(year(), "utf-8")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(CaseError) as caught:
        read_home_text(HOME, "home.toml")
    assert any("only the text of the home" in one.sentence for one in caught.value.findings)
