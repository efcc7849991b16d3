"""Interval data as tables: headers as utilities write them, gaps, repeated rows, refusals."""

from __future__ import annotations

import pytest

from planner.errors import CaseError
from planner.importing.meter.read import read_meter

FOUR = ("0.25", "0.5", "1.5", "0.25")  # kWh of four quarters of an hour: the highest is 6 kW
CLOCK = ("00:00", "00:15", "00:30", "00:45")
ENDS = ("00:15", "00:30", "00:45", "01:00")


def measured(tmp_path, text):
    """Read a table from a file."""
    path = tmp_path / "meter.csv"
    path.write_text(text, "utf-8")
    return read_meter(path)


def rows(*columns, by=","):
    """Put columns side by side."""
    return "\n".join(by.join(cells) for cells in zip(*columns, strict=True)) + "\n"


DATES = ("2024-01-31",) * 4
AMERICAN = ("01/31/2024",) * 4
SHAPES = {
    "start": "start,kWh\n" + rows([f"2024-01-31T{c}" for c in CLOCK], FOUR),
    "no header": rows([f"2024-01-31 {c}" for c in CLOCK], FOUR),
    "date and both ends": "TYPE,DATE,START TIME,END TIME,USAGE (kWh),COST,NOTES\n" + rows(
        ["Electric usage"] * 4, AMERICAN, CLOCK, ENDS, FOUR, ["$0.10"] * 4, [""] * 4),
    "to the minute before": "Date,Start,End,Usage kWh\n" + rows(
        AMERICAN, CLOCK, ("00:14", "00:29", "00:44", "00:59"), FOUR),
    "words above": "Name,A. Customer\nAddress,\n\nInterval start,Value (Wh)\n" + rows(
        [f"2024-01-31 {c}" for c in CLOCK], [f"{1000 * float(x):g}" for x in FOUR]),
    "semicolons and commas": "Zeit start;kWh\n" + rows(
        [f"31.01.2024 {c}" for c in CLOCK], [x.replace(".", ",") for x in FOUR], by=";"),
    "power": "timestamp,Demand kW\n" + rows(
        [f"1/31/2024 {c}" for c in CLOCK], [f"{4 * float(x):g}" for x in FOUR]),
    "with zone": "start,kWh\n" + rows([f"2024-01-31T{c}:00-05:00" for c in CLOCK], FOUR),
}


@pytest.mark.parametrize("shape", SHAPES)
def test_shapes_of_exports(tmp_path, shape):
    """The same four quarters of an hour, however they are written: 2.5 kWh, 6 kW (derived)."""
    found = measured(tmp_path, SHAPES[shape])
    assert found.kwh == pytest.approx(2.5)
    assert found.peak_kw == pytest.approx(6.0)
    assert (found.interval_min, found.readings, found.missing) == (15.0, 4, 0)
    assert found.peak_at == "2024-01-31 00:30"


def test_gaps_repeated_rows_and_rows_without_a_figure(tmp_path):
    """A gap is counted, a row twice adds nothing, a row that cannot be read is said."""
    text = ("start,kWh\n2024-01-01 00:00,1\n2024-01-01 01:00,2\n2024-01-01 01:00,2\n"
            "2024-01-01 04:00,3\n2024-01-01 05:00,n/a\n2024-01-01 06:00,4\n")
    found = measured(tmp_path, text)
    assert (found.readings, found.missing, found.repeated) == (4, 3, 1)
    assert found.kwh == pytest.approx(10.0)
    assert any("1 rows have no time or no reading" in one for one in found.notes)


def test_a_column_of_exports_tells_of_generation(tmp_path):
    """What was sent to the utility is not usage."""
    text = "start,Import kWh,Export kWh\n" + rows(
        [f"2024-01-31 {c}" for c in CLOCK], FOUR, ["0", "0", "2", "0"])
    found = measured(tmp_path, text)
    assert found.gives_back
    assert found.kwh == pytest.approx(2.5)


def test_the_usual_day(tmp_path):
    """Each hour's mean over all days as a share of the highest hour's (derived)."""
    text = "start,kWh\n" + "".join(
        f"2024-01-{day:02} {hour:02}:00,{(4 if hour == 18 else 1) * day}\n"
        for day in (1, 2, 3) for hour in range(24))
    found = measured(tmp_path, text)
    assert found.hours == tuple(1.0 if hour == 18 else 0.25 for hour in range(24))


@pytest.mark.parametrize(("text", "said"), [
    ("", "no line names a column"),
    ("some,words\nand,more\n", "no line names a column"),
    ("start,kWh\nnever,1\n", "no row has a time and a reading"),
    ("start,kWh\n2024-01-01 00:00,0\n2024-01-01 01:00,0\n", "no reading in it is above 0"),
])
def test_what_is_no_interval_data_is_refused(tmp_path, text, said):
    """One sentence that says what is wrong."""
    with pytest.raises(CaseError) as caught:
        measured(tmp_path, text)
    assert said in caught.value.findings[0].sentence


def test_what_is_no_text_is_refused(tmp_path):
    """Bytes that are no text, such as a spreadsheet's."""
    path = tmp_path / "meter.csv"
    path.write_bytes(b"PK\x03\x04\xff\xfe\x00\x81")
    with pytest.raises(CaseError, match="cannot be read") as caught:
        read_meter(path)
    assert "neither XML nor a table" in caught.value.findings[0].sentence
