"""Green Button feeds become a measured demand, whatever of ESPI's freedoms they use."""

from __future__ import annotations

import time
import tracemalloc

import pytest

from planner.errors import CaseError
from planner.importing.meter import espi
from planner.importing.meter.read import read_meter
from tests.importing.feeds import START_S, block, entry, feed, kind, meter, reading, row

BOMB = ('<?xml version="1.0"?><!DOCTYPE feed [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;">'
        '<!ENTITY c "&b;&b;&b;&b;">]>')
OUTSIDE = '<?xml version="1.0"?><!DOCTYPE feed [<!ENTITY a SYSTEM "file:///etc/hostname">]>'


def measured(tmp_path, text):
    """Read a feed from a file."""
    path = tmp_path / "meter.xml"
    path.write_text(text, "utf-8")
    return read_meter(path)


def refusal(tmp_path, text):
    """Read a feed that is refused; its one finding."""
    with pytest.raises(CaseError) as caught:
        measured(tmp_path, text)
    (finding,) = caught.value.findings
    return finding


@pytest.mark.parametrize("prefixed", [False, True])
def test_a_quarter_of_an_hour_of_250_wh(tmp_path, prefixed):
    """900 s, 250, uom 72, multiplier 0: 0.25 kWh, 1.0 kW (NAESB REQ.21 units; derived)."""
    p = "espi:" if prefixed else ""
    found = measured(tmp_path, feed(entry(kind(p=p)), entry(block(reading(START_S, 250, p=p), p)),
                                    prefixed=prefixed))
    assert found.kwh == pytest.approx(0.25)
    assert found.peak_kw == pytest.approx(1.0)
    assert found.interval_min == 15.0


@pytest.mark.parametrize(("said", "values", "length_s", "kwh"), [
    (kind(length_s=3600), [1000, 1500], 3600, 2.5),
    (kind(power=3), [500], 900, 500.0),
    (kind(power=-3), [500_000], 900, 0.5),
    (kind(uom=38), [2000, 4000], 900, 1.5),
    ("", [250], 900, 0.25),
])
def test_units_and_powers_of_ten(tmp_path, said, values, length_s, kwh):
    """Value x 10^multiplier Wh, or W over the interval; else Wh (NAESB REQ.21; derived)."""
    entries = ([entry(said)] if said else []) + [entry(block(row(values, length_s)))]
    found = measured(tmp_path, feed(*entries))
    assert found.kwh == pytest.approx(kwh)
    assert any("no reading type" in one for one in found.notes) == (not said)


def test_gas_beside_electricity_does_not_count(tmp_path):
    """A feed of two meters: the gas is left out and said, wherever the types stand."""
    found = measured(tmp_path, feed(
        *meter(1, 1, kind(uom=169, commodity=7), row([90_000, 90_000])),
        *meter(2, 0, kind(), row([250, 500]))))
    assert found.kwh == pytest.approx(0.75)
    assert any("gas" in one for one in found.notes)


def test_two_electric_meters_are_refused(tmp_path):
    """Nobody can say which of them feeds the dwelling."""
    text = feed(*meter(1, 0, kind(), row([250])), *meter(2, 0, kind(), row([500])))
    assert "2 electric meters" in refusal(tmp_path, text).sentence


def test_energy_given_back_is_known_and_not_taken(tmp_path):
    """Flow direction 19 is not usage, and tells of generation behind the meter."""
    entries = (entry(kind()), entry(block(row([250, 500]))))
    assert not measured(tmp_path, feed(*entries)).gives_back
    back = (entry(kind(direction=19)), entry(block(row([9000, 0]))))
    found = measured(tmp_path, feed(*entries, *back))
    assert found.kwh == pytest.approx(0.75)
    assert found.gives_back


def test_net_readings_below_zero_are_given_back(tmp_path):
    """A net meter that ran backwards has generation behind it."""
    found = measured(tmp_path, feed(entry(kind(direction=4)), entry(block(row([250, -100])))))
    assert found.gives_back
    assert found.peak_kw == pytest.approx(1.0)


def test_blocks_in_any_order_and_twice(tmp_path):
    """Neither the order of blocks nor one that comes twice changes anything but what is said."""
    first, second = block(row([100, 200, 300])), block(row([400, 500], start_s=START_S + 3600))
    plain = measured(tmp_path, feed(entry(kind()), entry(first), entry(second)))
    mixed = measured(tmp_path, feed(entry(kind()), entry(second), entry(first), entry(second)))
    assert plain.missing == mixed.missing == 1
    assert (plain.repeated, mixed.repeated) == (0, 2)
    assert (mixed.kwh, mixed.peak_kw, mixed.days, mixed.hours) == (
        plain.kwh, plain.peak_kw, plain.days, plain.hours)


def test_of_readings_that_disagree_the_largest_counts(tmp_path):
    """Two values for one interval: the safe side, and it is counted."""
    found = measured(tmp_path, feed(entry(kind()), entry(block(row([100, 200]) + row([150, 200])))))
    assert (found.repeated, found.contradicting) == (2, 1)
    assert found.kwh == pytest.approx(0.35)


def test_minutes_are_averaged_over_a_quarter_of_an_hour(tmp_path):
    """5-min readings: the highest 15 min, wherever they begin (NEC 220.87 exception; derived)."""
    wh = [100, 100, 600, 900, 300, 100, 100]
    found = measured(tmp_path, feed(entry(kind(length_s=300)), entry(block(row(wh, 300)))))
    assert found.interval_min == 15.0
    assert found.peak_kw == pytest.approx((600 + 900 + 300) / 1000 * 4)


@pytest.mark.parametrize("head", [BOMB, OUTSIDE])
def test_entities_are_refused(tmp_path, head):
    """A document type is refused before anything in it is opened or grows."""
    text = feed(entry(kind()), entry(block(row([250]))), head=head).replace(">250<", ">&a;<")
    assert "document type or entities" in refusal(tmp_path, text).sentence


@pytest.mark.parametrize(("text", "said"), [
    ("<feed><entry>", "not whole XML"),
    ("<feed/>", "no reading type and no block"),
    (feed(entry(kind(uom=42)), entry(block(row([1])))), "no reading of electricity"),
    (feed(entry(kind(behaviour=3)), entry(block(row([1])))), "no reading of electricity"),
    (feed(entry(kind()), entry(block(row([0, 0])))), "no reading in it is above 0"),
    (feed(entry(kind()), entry(block(row(["many"])))), "a figure in it cannot be read"),
    (feed(entry(kind(power=400)), entry(block(row([1])))), "a figure in it cannot be read"),
    (feed(entry(kind()), entry(block(row([10 ** 30])))), "a figure in it cannot be read"),
])
def test_what_is_no_usage_is_refused(tmp_path, text, said):
    """One sentence that says what is wrong, and never another exception."""
    assert said in refusal(tmp_path, text).sentence


def test_too_much_is_refused(tmp_path, monkeypatch):
    """Neither more bytes nor more readings than are stated."""
    text = feed(entry(kind()), entry(block(row([1, 2, 3]))))
    monkeypatch.setattr(espi, "MOST_READINGS", 2)
    assert "more than 2 readings" in refusal(tmp_path, text).sentence
    monkeypatch.setattr(espi, "MOST_BYTES", 100)
    assert "it is too large" in refusal(tmp_path, text).sentence


def test_a_year_of_quarters_in_little_time_and_memory(tmp_path):
    """35,040 readings: less than 30 s and 60 MB (chosen: many times what it takes; no source)."""
    path = tmp_path / "year.xml"
    days = [row([200 + i % 7] * 96, start_s=START_S + 86400 * i) for i in range(365)]
    path.write_text(feed(entry(kind()), *(entry(block(one)) for one in days)), "utf-8")
    began = time.perf_counter()
    found = read_meter(path)
    assert time.perf_counter() - began < 30.0
    assert (found.readings, found.missing, found.days) == (35_040, 0, 365.0)
    tracemalloc.start()
    read_meter(path)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert peak < 60e6
