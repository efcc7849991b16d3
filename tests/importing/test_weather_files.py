"""Weather files: what a real one says, what a made one must say, what is wrong with dirty ones."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest

from planner.errors import CaseError
from planner.importing.weather import read as reading
from planner.importing.weather.read import read_weather
from tests.importing.years import HEADER, rows, year


def read(tmp_path, content, spell=3):
    """Read a file of this content."""
    path = tmp_path / "made.epw"
    path.write_bytes(content if isinstance(content, bytes) else content.encode("utf-8"))
    return read_weather(path, spell)


def refused(tmp_path, content):
    """Read a file that is refused; its findings as one text."""
    with pytest.raises(CaseError) as caught:
        read(tmp_path, content)
    return "\n".join(map(str, caught.value.findings))


def test_a_real_year(denver_year):
    """-19.4 to 40.0 degC, as stated of this TMY3 year; elevation 1650 m and the rest by its header.

    The percentiles are held against numpy on the column of the file; the ASHRAE 2009 values of many
    years in its header are 33.2 and -14.0 degC (DESIGN CONDITIONS, fields 1 % and 99 %).
    """
    found, findings = read_weather(Path(denver_year), 3)
    assert not findings
    assert (found.lowest_degf, found.highest_degf) == (-2.9, 104.0)
    assert (found.place, found.hours) == ("Denver Intl Ap, CO, USA", 8760)
    assert found.altitude_ft == pytest.approx(1650.0 / 0.3048, abs=0.5)
    assert found.many_years_degf == (91.8, 6.8)
    with Path(denver_year).open(encoding="latin-1") as stream:
        degf = np.array([float(row[6]) for row in list(csv.reader(stream))[8:]]) * 1.8 + 32.0
    assert found.summer_degf == pytest.approx(np.quantile(degf, 0.99), abs=0.1)
    assert found.winter_degf == pytest.approx(np.quantile(degf, 0.01), abs=0.1)
    assert abs(found.summer_degf - found.many_years_degf[0]) < 9.0


def test_the_days_of_a_real_year_by_plain_loops(denver_year):
    """The rule of `planner.importing.weather.days`, played over the file in plain Python."""
    found, _ = read_weather(Path(denver_year), 3)
    with Path(denver_year).open(encoding="latin-1") as stream:
        hours = [float(row[6]) * 1.8 + 32.0 for row in list(csv.reader(stream))[8:]]
    days = [hours[at:at + 24] for at in range(0, 8760, 24)]
    means = [sum(day) / 24.0 for day in days]
    hot = max(range(363), key=lambda at: sum(max(day) for day in days[at:at + 3]))
    cold = min(range(363), key=lambda at: sum(means[at:at + 3]))
    by_id = {one.id: one for one in found.days}
    assert by_id["hot"].high_degf == pytest.approx(max(map(max, days[hot:hot + 3])), abs=0.05)
    assert by_id["cold"].low_degf == pytest.approx(min(map(min, days[cold:cold + 3])), abs=0.05)
    assert by_id["cold"].high_degf == pytest.approx(
        sum(max(day) for day in days[cold:cold + 3]) / 3.0, abs=0.05)
    assert [by_id[one].days for one in ("hot", "cold", "between")] == [
        sum(mean > 65.0 for mean in means), sum(mean < 50.0 for mean in means),
        sum(50.0 <= mean <= 65.0 for mean in means)]
    assert [by_id[one].dates for one in ("hot", "cold")] == ["Jun 25 to 27", "Jan 28 to 30"]


def test_a_made_year(tmp_path):
    """By hand: hot 20.0/40.0 degC, cold -20.0/0.0 degC, mild 9/17 degC; 100, 100 and 165 days.

    87 of 8,760 hours may pass a design temperature: 36 belong to the hot spell, so 30 degC; below,
    36 to the cold spell, so -2 degC.
    """
    found, findings = read(tmp_path, year())
    assert not findings
    assert {one.id: (one.low_degf, one.high_degf, one.days) for one in found.days} == {
        "hot": (68.0, 104.0, 100), "cold": (-4.0, 32.0, 100), "between": (48.2, 62.6, 165)}
    assert (found.summer_degf, found.winter_degf) == (86.0, 28.4)
    assert read(tmp_path, year())[0] == found
    assert read(tmp_path, year(rows()[::-1]))[0] == found
    assert read(tmp_path, year().replace("\n", "\r\n"))[0] == found
    one_day = {one.id: one.dates for one in read(tmp_path, year(), spell=1)[0].days}
    assert (one_day["hot"], one_day["cold"]) == ("Jul 1", "Jan 21")


def test_a_season_that_there_is_not_has_no_day(tmp_path):
    """A year at 30 degC is all summer."""
    lines = [",".join([*row.split(",")[:6], "30.0", "0"]) for row in rows()]
    (day,) = read(tmp_path, year(lines))[0].days
    assert (day.id, day.days) == ("hot", 365)


def with_cell(place, cell, *numbers):
    """Rows with another cell in some of them."""
    found = rows()
    for number in numbers:
        cells = found[number].split(",")
        cells[place] = cell
        found[number] = ",".join(cells)
    return found


LITTLE = {
    "a missing mark": (with_cell(6, "99.9", 1500), "1 rows mark the dry bulb as missing"),
    "beyond belief": (with_cell(6, "77", 1500), "1 rows have a dry bulb beyond"),
    "no number": (with_cell(6, "warm", 1500), "1 rows cannot be read as a date"),
    "no date": (with_cell(2, "32", 1500), "1 rows have no date and hour"),
    "a row that is not there": (rows()[:1500] + rows()[1501:], "1 hours of the year have no row"),
    "an hour that came twice": ([*rows(), rows()[1500]], "1 rows are of an hour that came before"),
}


@pytest.mark.parametrize("what", LITTLE)
def test_a_little_dirt_is_said_and_changes_nothing(tmp_path, what):
    """A warning with the first line; the days stay, since the hour is of none of them."""
    lines, said = LITTLE[what]
    found, findings = read(tmp_path, year(lines))
    assert any(said in one.sentence for one in findings)
    assert {one.id: one.low_degf for one in found.days} == {"hot": 68.0, "cold": -4.0,
                                                            "between": 48.2}


MUCH = {
    "half a year": (year(rows()[:4380]), "4,380 hours of the year are without a temperature"),
    "two years": (year(rows() + rows()), "8,760 hours came twice"),
    "degF": (year(with_cell(6, "88", *range(3000, 4000))), "1,000 rows have a dry bulb beyond"),
    "hours from 0": (year([row.replace(",24,0,", ",0,0,") for row in rows()]), "not from 0 to 23"),
    "quarters": (year(header=(*HEADER[:-1], "DATA PERIODS,1,4")), '"4" records in an hour'),
    "no periods": (year(header=HEADER[:-1]), "no line DATA PERIODS"),
    "semicolons": (year().replace(",", ";"), "begins with LOCATION and a comma"),
    "UTF-16": (year().encode("utf-16"), "not a text file"),
    "an archive": (b"PK\x03\x04", "packed archive"),
    "nothing": (b"", "begins with LOCATION"),
}


@pytest.mark.parametrize("what", MUCH)
def test_what_is_no_year_is_refused(tmp_path, what):
    """With the reason in a sentence."""
    content, said = MUCH[what]
    assert said in refused(tmp_path, content)


def test_every_finding_at_once(tmp_path):
    """A wrong header, rows that cannot be read and a year that is not whole are said together."""
    said = refused(tmp_path, year(["what"] * 9, header=("PLACE,here", *HEADER[1:-1])))
    for part in ("begins with LOCATION", "no line DATA PERIODS", "rows cannot be read",
                 "8,760 hours of the year have no row"):
        assert part in said


def test_too_large_a_file(tmp_path, monkeypatch):
    """It is not read."""
    monkeypatch.setattr(reading, "MOST_BYTES", 1000)
    assert "it is too large" in refused(tmp_path, year())


def test_a_decimal_comma_in_the_header(tmp_path):
    """As some real files have it (time zone 5,5): the elevation is not taken, and that is said."""
    found, findings = read(tmp_path, year().replace("-6.0,300.0", "5,5,300"))
    assert found.altitude_ft is None
    assert "has 11 values where 10 belong" in findings[0].sentence


def test_an_elevation_that_cannot_be(tmp_path):
    """It is said and not taken."""
    found, findings = read(tmp_path, year().replace("-6.0,300.0", "-6.0,9999.9"))
    assert found.altitude_ft is None
    assert "is no elevation in m" in findings[0].sentence


def test_a_place_in_another_encoding(tmp_path):
    """Latin-1 has names of places."""
    found, _ = read(tmp_path, year().replace("Millbrook", "Mühlbach").encode("latin-1"))
    assert found.place == "Mühlbach, XX, USA"
