"""The site parts of the demonstration price book follow the rules that the book states."""

from __future__ import annotations

import pytest

from planner.physics.pipe_tables import INSIDE_DIAMETER_IN
from planner.physics.wire.conductor_tables import AMPACITY_A, CIRCULAR_MILS, SIZES
from tests.case.test_demo_book import BOOK, steps

SITE = BOOK.site
INCHES = {"1/2": 0.5, "3/4": 0.75, "1": 1.0, "1-1/4": 1.25, "1-1/2": 1.5, "2": 2.0, "2-1/2": 2.5}
R5_OF_R40, R10_3_OF_R40 = 8, 12  # terms of R40 (ISO 3) between two of the series


@pytest.mark.parametrize(("material", "first", "usd"), [
    ("copper", "8", 0.10), ("aluminum", "6", 0.04)])
def test_wire_follows_from_its_cross_section(material, first, usd):
    """Every size from the first to 500 kcmil once; 3 USD and so much for each 1000 circular mil."""
    wires = [one for one in SITE.wires if one.material == material]
    sizes = [one for one in SIZES if one in AMPACITY_A[material]]
    assert [one.size for one in wires] == sizes[sizes.index(first):sizes.index("500") + 1]
    for one in wires:
        mils = CIRCULAR_MILS.get(one.size) or 1000.0 * float(one.size)
        assert one.usd_per_ft == pytest.approx(3.0 + usd * mils / 1000.0, abs=0.05 + 1e-9)
        assert round(10.0 * one.usd_per_ft) == pytest.approx(10.0 * one.usd_per_ft)


def test_pipe_follows_from_its_size():
    """Schedule 40 from 1/2 to 2-1/2 in; 12 USD and 8 USD for each inch."""
    assert [one.size for one in SITE.pipes] == list(INSIDE_DIAMETER_IN)[:7]
    for one in SITE.pipes:
        assert one.usd_per_ft == pytest.approx(12.0 + 8.0 * INCHES[one.size])


def test_meters_and_regulators_are_terms_of_r5():
    """250 to 1000 ft³/h by R5 (ISO 3); prices on lines; from 10 psi for 30 USD more."""
    by_inlet = {psi: [one for one in SITE.regulators if one.inlet_psi == pytest.approx(psi)]
                for psi in (2.0, 10.0)}
    assert len(SITE.regulators) == sum(map(len, by_inlet.values()))
    assert {one.inlet_psi for one in SITE.meters} == {None}
    for parts, price, each, installation in ((SITE.meters, 200.0, 0.60, 250.0),
                                             (by_inlet[2.0], 60.0, 0.20, 80.0),
                                             (by_inlet[10.0], 90.0, 0.20, 80.0)):
        passes = [one.ft3_h for one in parts]
        assert (passes[0], passes[-1], steps(passes)) == (250.0, 1000.0, [R5_OF_R40] * 3)
        for one in parts:
            assert one.price == pytest.approx(price + each * one.ft3_h)
            assert one.installation == installation


def test_tanks_are_terms_of_r10_and_alike():
    """125 to 1000 gal by R10/3 (ISO 3), like that of 500 gal, 41 in by 8 ft 8 in."""
    gallons = [one.gal for one in SITE.tanks]
    assert (gallons[0], gallons[-1], steps(gallons)) == (125.0, 1000.0, [R10_3_OF_R40] * 3)
    for one in SITE.tanks:
        like = (one.gal / 500.0) ** (1.0 / 3.0)
        assert one.diameter_in == pytest.approx(41.0 * like, abs=0.25)
        assert one.length_in == pytest.approx(104.0 * like, abs=0.25)
        assert one.price == pytest.approx(300.0 + 3.2 * one.gal)
        assert one.installation == pytest.approx(450.0 + 0.5 * one.gal, abs=5.0)
        assert one.installation % 10.0 == 0.0


def test_ground_is_priced():
    """15 USD for each foot of trench, 400 USD for a raised pad."""
    assert (SITE.trench_usd_per_ft, SITE.raised_pad_usd) == (15.0, 400.0)
