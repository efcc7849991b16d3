"""Conductors against the code, and their resistance against metal and geometry.

The tables of the NEC were read in secondary copies whose edition was not noted; numbers of tables
are those of 2020 and 2023. Which values are from memory stands beside the tables.
"""

from __future__ import annotations

from itertools import pairwise
from math import pi, sqrt

import pytest

from planner.physics.wire import conductor, voltage_drop
from planner.physics.wire.conductor_tables import (
    AMBIENT_FACTOR,
    AMPACITY_A,
    BUNDLING_FACTOR,
    CIRCULAR_MILS,
    DC_OHM_PER_KFT,
    DWELLING_SERVICE,
    SIZES,
    SMALL_CONDUCTOR_A,
    STANDARD_RATINGS_A,
)
from planner.physics.wire.impedance_tables import AC_OHM_PER_KFT, REACTANCE_OHM_PER_KFT

K_OHM_CMIL_PER_FT = {"copper": 12.9, "aluminum": 21.2}
"""Resistance of a wire of one circular mil and one foot at 75 degC (common practice, no source)."""

GAUGE = {"1/0": 0, "2/0": -1, "3/0": -2, "4/0": -3}


def _diameter_mm(size: str) -> float:
    """Diameter of a gauge number by ASTM B258 (formula; edition not noted)."""
    gauge = GAUGE[size] if size in GAUGE else int(size)
    return 0.127 * 92.0 ** ((36 - gauge) / 39.0)


@pytest.mark.parametrize(("service_a", "size", "derived_a"), [
    (175.0, "1/0", 180.7), (100.0, "4", 102.4), (200.0, "2/0", 210.8)])
def test_d7_dwelling_conductors(service_a, size, derived_a):
    """NEC Annex D, D7: 175 A 1/0, 100 A 4, 200 A 2/0 copper, by 83 % of Table 310.16.

    Ampacity over 0.83 derived: 150 / 0.83 = 180.7, 85 / 0.83 = 102.4, 175 / 0.83 = 210.8 A.
    """
    assert conductor.dwelling_conductor(service_a) == size
    assert conductor.ampacity_a(size) / 0.83 == pytest.approx(derived_a, abs=0.05)


@pytest.mark.parametrize("material", ["copper", "aluminum"])
def test_dwelling_table_is_83_percent(material):
    """NEC Table 310.12(A): each size is the smallest whose 75 degC ampacity is 83 % of the rating.

    600 kcmil aluminum lies beyond the ampacities held here.
    """
    for rating_a in DWELLING_SERVICE:
        size = conductor.dwelling_conductor(float(rating_a), material)
        if size != "600":
            assert conductor.smallest_conductor(0.83 * rating_a, material) == size


def test_next_dwelling_row_and_its_limits():
    """A rating between two rows takes the next; below 100 A and above 400 A there is none."""
    assert conductor.dwelling_conductor(160.0) == conductor.dwelling_conductor(175.0)
    for service_a in (60.0, 401.0):
        with pytest.raises(ValueError, match=r"310\.12"):
            conductor.dwelling_conductor(service_a)


@pytest.mark.parametrize(("material", "degc", "size"), [
    ("copper", 30.0, "2/0"), ("copper", 40.0, "2/0"), ("copper", 48.9, "3/0"),
    ("aluminum", 40.0, "4/0"), ("aluminum", 48.9, "4/0"), ("aluminum", 54.0, "250")])
def test_heat_takes_the_dwelling_table_away(material, degc, size):
    """NEC 310.12: where a correction applies, 83 % of the rating is carried after it (from memory).

    200 A: 166 A. At 48.9 degC 0.82: 2/0 copper 195 · 0.82 = 159.9 A is too little, 3/0 184.5 A
    enough; 4/0 aluminum 205 · 0.82 = 168.1 A is enough, at 54 degC (0.76) 155.8 A is not, and 250
    kcmil carries 174.8 A (derived from Tables 310.16 and 310.15(B)(1)).
    """
    assert conductor.dwelling_conductor(200.0, material, degc) == size


def test_where_copies_of_the_table_differ_the_lower_value_counts():
    """NEC Table 310.16: 1 AWG copper 145 A at 90 degC, 8 AWG aluminum 30 A at 60 degC.

    145 and 35 A are from memory; as it was read the table has 150 and 30 A (edition not noted).
    """
    assert conductor.ampacity_a("1", "copper", 90) == 145.0
    assert conductor.ampacity_a("8", "aluminum", 60) == 30.0


@pytest.mark.parametrize("material", ["copper", "aluminum"])
def test_ampacity_table_properties(material):
    """NEC Table 310.16: rises with the size and the insulation; aluminum below copper."""
    table = AMPACITY_A[material]
    assert list(table) == [size for size in SIZES if size in table]
    for (_, lower), (_, upper) in pairwise(table.items()):
        assert all(a < b for a, b in zip(lower, upper, strict=True))
    for size, row in table.items():
        assert row[0] < row[1] < row[2]
        if material == "aluminum":
            assert all(a < c for a, c in zip(row, AMPACITY_A["copper"][size], strict=True))


def test_ambient_factors_follow_the_equation():
    """NEC 310.15(B): factor = √((Tc − Ta)/(Tc − 30)) at the upper end of each band, rounded.

    0.88 at 36 degC and 75 degC insulation is NEC Table 310.15(B)(1).
    """
    for insulation_degc, rows in AMBIENT_FACTOR.items():
        for upper_degc, factor in rows:
            exact = sqrt((insulation_degc - upper_degc) / (insulation_degc - 30.0))
            assert factor == pytest.approx(exact, abs=0.0051)
    assert conductor.ambient_factor(36.0, 75) == 0.88


def test_corrections_multiply():
    """NEC 310.15: 6 AWG copper, 40 degC, five conductors: 65 · 0.88 · 0.8 = 45.8 A (derived)."""
    found_a = conductor.ampacity_a("6", ambient_degc=40.0, current_carrying=5)
    assert found_a == pytest.approx(65.0 * 0.88 * 0.8)
    shares = [conductor.bundling_factor(count) for count in range(1, 60)]
    assert shares == sorted(shares, reverse=True)
    assert shares[-1] == 0.35
    assert all(conductor.bundling_factor(count) == share for count, share in BUNDLING_FACTOR)


def test_generator_conductor():
    """NEC 445.13: 20 kW at unity and 240 V, 83.3 A: 95.8 A (derived), 3 AWG copper at 75 degC."""
    needed_a = conductor.generator_conductor_a(20000.0 / 240.0)
    assert needed_a == pytest.approx(95.8, abs=0.05)
    assert conductor.smallest_conductor(needed_a) == "3"
    assert conductor.smallest_conductor(needed_a, insulation_degc=60) == "1"


def test_small_conductors_are_capped():
    """NEC 240.4(D): 14, 12 and 10 copper carry 15, 20 and 30 A whatever their table says."""
    for material, caps in SMALL_CONDUCTOR_A.items():
        for size, cap_a in caps.items():
            assert conductor.smallest_conductor(cap_a, material) == size
            assert conductor.smallest_conductor(cap_a + 0.1, material) != size


@pytest.mark.parametrize(("amperes", "rating_a"), [
    (34.95, 35), (85.0, 90), (59.5, 60), (104.0, 110), (145.0, 150), (100.0, 100), (0.0, 15)])
def test_next_standard_rating(amperes, rating_a):
    """NEC 240.6(A) with Annex D, D8 (85 -> 90 A, 59.5 -> 60 A), D1(b) and D2(c).

    34.95 -> 35 A and the two ends are derived from the series itself.
    """
    assert conductor.next_standard_size_a(amperes) == rating_a


def test_standard_ratings_end():
    """NEC 240.6(A) rises to 6000 A; beyond that there is an error, not a guess."""
    assert list(STANDARD_RATINGS_A) == sorted(set(STANDARD_RATINGS_A))
    with pytest.raises(ValueError, match="6000"):
        conductor.next_standard_size_a(6000.1)


def test_conductors_that_do_not_exist_are_refused():
    """No 14 aluminum, no conductor above 500 kcmil, no air above the insulation."""
    with pytest.raises(ValueError, match=r"310\.16"):
        conductor.ampacity_a("14", "aluminum")
    with pytest.raises(ValueError, match="No single copper"):
        conductor.smallest_conductor(381.0)
    with pytest.raises(ValueError, match="too hot"):
        conductor.ambient_factor(70.0, 75)
    with pytest.raises(ValueError, match="at least one"):
        conductor.bundling_factor(0)


def _area_mm2(size: str) -> float:
    """Cross section by the gauge, or of so many thousand circular mils [mm²]."""
    if size in GAUGE or int(size) < 250:
        return pi / 4.0 * _diameter_mm(size) ** 2
    return pi / 4.0 * 25.4**2 / 1e6 * 1000.0 * int(size)


def test_cross_sections_from_the_gauge():
    """NEC Chapter 9, Table 8, circular mils, within 0.1 % of the diameters of ASTM B258."""
    for size, area in CIRCULAR_MILS.items():
        assert _area_mm2(size) / (pi / 4.0 * 0.0254**2) == pytest.approx(area, rel=1e-3)


@pytest.mark.parametrize("size", list(DC_OHM_PER_KFT["copper"]))
def test_copper_resistance_from_first_principles(size):
    """NEC Chapter 9, Table 8, stranded copper at 75 degC, within 0.5 % of metal and geometry.

    Diameter by ASTM B258; 0.017241 ohm·mm²/m at 20 degC and 0.00393/K by IEC 60028 (1925, from
    memory); 2 % longer by the lay of the strands (common practice, no source). The table has three
    digits, which is up to 0.4 % more.
    """
    ohm_mm2_per_m = 0.017241 * (1.0 + 0.00393 * 55.0)
    ohm_per_kft = 1.02 * ohm_mm2_per_m / _area_mm2(size) * 304.8
    digits = 0.005 if ohm_per_kft >= 1.0 else 0.0005 if ohm_per_kft >= 0.1 else 0.00005
    assert DC_OHM_PER_KFT["copper"][size] == pytest.approx(
        ohm_per_kft, abs=0.005 * ohm_per_kft + digits)


@pytest.mark.parametrize("size", list(DC_OHM_PER_KFT["aluminum"]))
def test_aluminum_resistance_from_first_principles(size):
    """NEC Chapter 9, Table 8, stranded aluminum at 75 degC, within 0.5 % of metal and geometry.

    0.028264 ohm·mm²/m at 20 degC and 0.00403/K by IEC 60889 (1987, from memory); the rest as for
    copper.
    """
    ohm_per_kft = 1.02 * 0.028264 * (1.0 + 0.00403 * 55.0) / _area_mm2(size) * 304.8
    digits = 0.005 if ohm_per_kft >= 1.0 else 0.0005 if ohm_per_kft >= 0.1 else 0.00005
    assert DC_OHM_PER_KFT["aluminum"][size] == pytest.approx(
        ohm_per_kft, abs=0.005 * ohm_per_kft + digits)


@pytest.mark.parametrize("raceway", ["PVC", "steel"])
@pytest.mark.parametrize("material", ["copper", "aluminum"])
def test_ac_resistance_is_dc_resistance_for_small_wire(material, raceway):
    """NEC Chapter 9, Table 9 against Table 8: never 4 % below, little above but in large wire.

    Two printed digits leave 5 %; skin and proximity add up to 13 % at 500 kcmil in steel (from
    memory). The planner takes the larger of both tables.
    """
    for size, resistance in AC_OHM_PER_KFT[material][raceway].items():
        dc = DC_OHM_PER_KFT[material][size]
        assert 0.96 < resistance / dc < (1.14 if CIRCULAR_MILS[size] >= 250000 else 1.07)
        assert voltage_drop.wire_ohm_per_kft(size, material, raceway).real == max(dc, resistance)


def test_steel_raises_the_reactance_by_a_quarter():
    """NEC Chapter 9, Table 9 (from memory): steel over PVC is 1.2 to 1.3 at every size."""
    for size, pvc in REACTANCE_OHM_PER_KFT["PVC"].items():
        assert 0.038 < pvc < 0.06
        assert 1.2 < REACTANCE_OHM_PER_KFT["steel"][size] / pvc < 1.3


@pytest.mark.parametrize(("size", "copper", "aluminum"), [
    ("12", (1.7, 1.7), (2.8, 2.8)), ("10", (1.1, 1.1), (1.8, 1.8)), ("8", (0.69, 0.70), (1.1, 1.1)),
    ("6", (0.44, 0.45), (0.71, 0.72)), ("4", (0.29, 0.30), (0.46, 0.46)),
    ("3", (0.23, 0.24), (0.37, 0.37)), ("2", (0.19, 0.20), (0.30, 0.30)),
    ("1", (0.16, 0.16), (0.24, 0.25)), ("1/0", (0.13, 0.13), (0.19, 0.20)),
    ("2/0", (0.11, 0.11), (0.16, 0.16)), ("3/0", (0.088, 0.094), (0.13, 0.14)),
    ("4/0", (0.074, 0.080), (0.11, 0.11)), ("250", (0.066, 0.073), (0.094, 0.10)),
    ("300", (0.059, 0.065), (0.082, 0.088)), ("350", (0.053, 0.060), (0.073, 0.080)),
    ("400", (0.049, 0.056), (0.066, 0.073)), ("500", (0.043, 0.050), (0.057, 0.064))])
def test_effective_impedance(size, copper, aluminum):
    """NEC Chapter 9, Table 9, Z at 0.85 in PVC and steel (from memory): within 7 %.

    R·cosθ + X·sinθ; the printed Z and R have two digits, which leaves that much.
    """
    for material, printed in (("copper", copper), ("aluminum", aluminum)):
        for raceway, ohm_per_kft in zip(("PVC", "steel"), printed, strict=True):
            found = voltage_drop.effective_ohm_per_kft(size, 0.85, material, raceway)
            assert found == pytest.approx(ohm_per_kft, rel=0.07)


def test_voltage_drop_of_a_branch_circuit():
    """12 AWG (1.98 ohm/kft, NEC Chapter 9, Table 8), 22 A, 50 ft, 120 V: 4.356 V, 3.63 %.

    Derived: 2 · 22 · 50 · 1.98 / 1000 = 4.356; a text without a title has 4.36.
    """
    drop_v = voltage_drop.voltage_drop_v(22.0, 50.0, DC_OHM_PER_KFT["copper"]["12"])
    assert drop_v == pytest.approx(4.356, abs=5e-4)
    assert drop_v / 120.0 == pytest.approx(0.0363, abs=5e-5)


def test_voltage_drop_of_a_feeder():
    """3 AWG in PVC, Z 0.23 (NEC Chapter 9, Table 9), 100 A, 150 ft, 240 V: 6.90 V, 2.875 %.

    Derived: 2 · 100 · 150 · 0.23 / 1000 = 6.90.
    """
    drop_v = voltage_drop.voltage_drop_v(100.0, 150.0, 0.23)
    assert drop_v == pytest.approx(6.90)
    assert drop_v / 240.0 == pytest.approx(0.02875)


def test_voltage_drop_two_ways():
    """K (common practice, no source) gives the drop of NEC Chapter 9, Table 8, within 2 %."""
    for material in ("copper", "aluminum"):
        for size, ohm_per_kft in DC_OHM_PER_KFT[material].items():
            by_table = voltage_drop.voltage_drop_v(30.0, 100.0, ohm_per_kft)
            by_constant = (2.0 * K_OHM_CMIL_PER_FT[material] * 30.0 * 100.0
                           / CIRCULAR_MILS[size])
            assert by_constant == pytest.approx(by_table, rel=0.02)


def test_voltage_drop_refuses_what_it_does_not_hold():
    """A size outside the tables or a power factor above 1 is an error."""
    with pytest.raises(ValueError, match="Table 9"):
        voltage_drop.effective_ohm_per_kft("600", 0.9)
    with pytest.raises(ValueError, match="Table 9"):
        voltage_drop.wire_ohm_per_kft("14", "aluminum")
    with pytest.raises(ValueError, match="power factor"):
        voltage_drop.effective_ohm_per_kft("10", 1.1)
