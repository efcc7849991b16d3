"""The portable generators of the demonstration price book follow the rules that the book states."""

from __future__ import annotations

import pytest

from planner.case.book.portable import portable_parts
from planner.facts.portable import REACTANCE, RECEPTACLES_A
from planner.facts.price_book import Derating
from planner.physics.gasoline import GASOLINE_BTU_PER_GAL
from tests.case.test_demo_book import BOOK, BTU_PER_KWH, on_the_line, steps

PORTABLES, TRANSFERS = BOOK.by_hand.portables, BOOK.by_hand.transfers
R5_OF_R40 = 8  # terms of R40 (ISO 3) between two of R5
ENDS = (2.5, 10.0)


def test_sizes_are_preferred_numbers():
    """R5 from 2.5 to 10 kW (ISO 3); the smallest gives 120 V alone; gasoline has a price."""
    kws = [one.kw for one in PORTABLES]
    assert (kws[0], kws[-1], steps(kws)) == (2.5, 10.0, [R5_OF_R40] * 3)
    assert [one.volts for one in PORTABLES] == [120, 240, 240, 240]
    assert BOOK.by_hand.gasoline_per_gal == 3.5


@pytest.mark.parametrize("one", PORTABLES, ids=lambda one: one.id)
def test_a_machine_follows_from_its_size(one):
    """As many kVA as kW; receptacle, tank, fuel, reactance, noise and price by the stated rules.

    Gasoline: 120,214 Btu/gal (EIA, from memory), of which 18 % becomes electricity (the rule).
    """
    own_a = 1000.0 * one.kva / one.volts
    assert one.kva == one.kw
    assert one.receptacle_a == min(a for a in RECEPTACLES_A if a >= own_a)
    full = one.kw * BTU_PER_KWH / 0.18 / GASOLINE_BTU_PER_GAL
    for gal_h, share in zip(one.gal_h, (1 / 3, 2 / 3, 1.0), strict=True):
        assert gal_h == pytest.approx(share * full, abs=0.005 + 1e-9)
    assert one.tank_gal == one.kw
    assert one.tank_gal / one.gal_h[1] >= 8.0
    assert one.tank_gal / 10.0**0.2 / one.gal_h[1] < 8.0
    assert one.reactance == pytest.approx(on_the_line(one.kw, ENDS, (0.30, 0.24)), abs=0.005 + 1e-9)
    assert one.noise_db == pytest.approx(on_the_line(one.kw, ENDS, (68.0, 74.0)), abs=0.5 + 1e-9)
    large = one.kw >= 6.3
    assert (one.neutral_bonded, one.electric_start) == (large, large)
    assert one.propane_kw == (pytest.approx(0.9 * one.kw) if large else None)
    assert one.price % 25.0 == 0.0
    assert one.price == pytest.approx(200.0 + 120.0 * one.kw, abs=12.5)
    assert one.derating == Derating(0.035, 0.0, 0.01, 77.0)
    assert one.unstated == ("inertia", "governor_lag")
    assert one.co_shutoff


def test_what_connects_them_follows_from_inlet_and_positions():
    """An interlock for each inlet of 240 V, a switch for each inlet; R5 of positions (ISO 3)."""
    interlocks = [one for one in TRANSFERS if one.kind == "interlock"]
    switches = [one for one in TRANSFERS if one.kind == "switch"]
    assert [one.inlet_a for one in interlocks] == [20.0, 30.0, 50.0]
    assert [(one.volts, one.inlet_a) for one in switches] == [
        (one.volts, one.receptacle_a) for one in PORTABLES]
    exact = [4.0 * 10.0 ** (k / 5.0) for k in range(4)]
    assert [one.positions for one in switches] == [2 * round(one / 2.0) for one in exact]
    for one in TRANSFERS:
        assert one.switches_neutral is False
        assert one.cord == (30.0 + 2.0 * one.inlet_a) * (1.5 if one.volts == 240 else 1.0)
        each, work = (20.0, 25.0) if one.kind == "switch" else (0.0, 0.0)
        base, labour = (100.0, 250.0) if one.kind == "switch" else (
            60.0, 300.0 + 4.0 * one.inlet_a)
        assert one.price == base + 2.0 * one.inlet_a + each * one.positions
        assert one.installation == labour + work * one.positions


def test_a_book_without_them_offers_none():
    """The section may be left out; what a maker does not state has a usual value and a range."""
    assert portable_parts((), (), None).portables == ()
    assert REACTANCE.low < REACTANCE.value < REACTANCE.high
