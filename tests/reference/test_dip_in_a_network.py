"""Voltage dip against OpenDSS (EPRI, open source) and against the equations of the circuit.

The house with a feeder is a case of our own: its voltages are derived, from three equations of the
nodes of its panel that stand here, and OpenDSS has to find the same.
"""

from __future__ import annotations

import itertools
from math import sqrt
from typing import NamedTuple

import numpy as np
import pytest

from planner.physics.motor_start import voltage_dip, voltage_dip_with_power_factor
from planner.physics.wire.start_drop import run_ohm, start_voltages

opendssdirect = pytest.importorskip("opendssdirect")


class Volts(NamedTuple):
    """Voltages at the panel: leg A and leg B to neutral, leg to leg, neutral to earth."""

    a: float
    b: float
    legs: float
    neutral: float


class Load(NamedTuple):
    """A constant impedance between two nodes of the panel (3 is the neutral)."""

    nodes: str
    volts: float
    kw: float
    power_factor: float


def solve(source_ohm: complex, feeder_ohm: complex, loads: list[Load]) -> Volts:
    """Solve a 120/240 V source of two legs, a feeder of three conductors and some loads.

    `source_ohm` is of the 240 V loop, half of it in each leg; `feeder_ohm` of one conductor.
    """
    run = opendssdirect.dss.Text.Command
    half = source_ohm / 2.0
    impedance = f"R1={half.real} X1={half.imag} R0={half.real} X0={half.imag}"
    run("clear")
    run("set defaultbasefreq=60")
    run(f"new circuit.gen bus1=gen.1 phases=1 basekv=0.12 pu=1 angle=0 {impedance}")
    run(f"new vsource.leg_b bus1=gen.2 phases=1 basekv=0.12 pu=1 angle=180 {impedance}")
    for place, (start, end) in enumerate([("gen.1", "panel.1"), ("gen.2", "panel.2"),
                                          ("gen.0", "panel.3")]):
        run(f"new reactor.wire{place} bus1={start} bus2={end} phases=1 "
            f"R={feeder_ohm.real} X={feeder_ohm.imag}")
    for place, load in enumerate(loads):
        run(f"new load.load{place} bus1=panel.{load.nodes} phases=1 kv={load.volts / 1000.0} "
            f"kw={load.kw} pf={load.power_factor} model=2 vminpu=0.01 vmaxpu=2")
    run("set voltagebases=[0.208 0.24]")
    run("set maxiterations=500 tolerance=1e-10")
    run("solve mode=snapshot")
    opendssdirect.dss.Circuit.SetActiveBus("panel")
    flat = opendssdirect.dss.Bus.Voltages()
    node = {name: complex(*flat[2 * i:2 * i + 2])
            for i, name in enumerate(opendssdirect.dss.Bus.Nodes())}
    return Volts(abs(node[1] - node[3]), abs(node[2] - node[3]), abs(node[1] - node[2]),
                 abs(node[3]))


@pytest.mark.parametrize(("reactance", "share", "power_factor"), [
    *itertools.product((0.1, 0.2, 0.3), (0.4, 1.2, 2.5), (0.35, 0.7)), (0.2, 1.2, 0.99)])
def test_dip_with_power_factor_is_the_circuit(reactance, share, power_factor):
    """X'd, one locked rotor, no feeder, nothing running: the same dip as OpenDSS, to 1e-6."""
    generator_kva = 22.0
    starting_kva = share * generator_kva
    source_ohm = 1j * reactance * 240.0**2 / (1000.0 * generator_kva)
    motor = Load("1.2", 240.0, starting_kva * power_factor, power_factor)
    wire_ohm = 1e-9 + 0j
    idle = Load("3.0", 120.0, 1e-6, 1.0)  # ties the neutral node into the network
    solved = 1.0 - solve(source_ohm, wire_ohm, [motor, idle]).legs / 240.0
    ours = voltage_dip_with_power_factor(reactance, starting_kva, generator_kva, power_factor)
    assert ours == pytest.approx(solved, abs=1e-6)


def by_hand(source_ohm: complex, feeder_ohm: complex, loads: list[Load]) -> Volts:
    """Derive the same voltages from the currents into leg A, leg B and the neutral of the panel.

    Two sources of 120 V in opposite phase behind half the source's and a feeder's impedance, the
    neutral earthed at the source, every load a constant admittance between two nodes.
    """
    leg = 1.0 / (source_ohm / 2.0 + feeder_ohm)
    admittance = np.diag([leg, leg, 1.0 / feeder_ohm])
    for load in loads:
        start, end = (int(name) - 1 for name in load.nodes.split("."))
        kvar = load.kw * sqrt(1.0 / load.power_factor**2 - 1.0)
        across = 1000.0 * complex(load.kw, -kvar) / load.volts**2
        admittance[[start, end], [start, end]] += across
        admittance[[start, end], [end, start]] -= across
    a, b, neutral = np.linalg.solve(admittance, [120.0 * leg, -120.0 * leg, 0.0])
    return Volts(abs(a - neutral), abs(b - neutral), abs(a - b), abs(neutral))


RUNNING = [Load("1.3", 120.0, 2.0, 1.0), Load("2.3", 120.0, 1.2, 0.98),
           Load("1.2", 240.0, 4.5, 1.0)]
SOURCE_OHM = complex(0.14 / 8.0, 0.14) * 240.0**2 / 22000.0
LOCKED_240_V = Load("1.2", 240.0, 26.4 * 0.45, 0.45)
LOCKED_120_V = Load("1.3", 120.0, 0.12 * 45.0 * 0.5, 0.5)


FEEDER_OHM = complex(0.156, 0.0415) * 80.0 / 1000.0
"""80 ft of a conductor of 0.156 + j0.0415 ohm per 1000 ft; invented, as is the whole house."""


@pytest.mark.parametrize(("start", "volts"), [
    ([], (118.526, 118.565, 237.087, 0.088)),
    ([LOCKED_240_V], (101.469, 101.502, 202.968, 0.075)),
    ([LOCKED_120_V], (110.683, 118.905, 229.570, 0.556))],
    ids=["running", "240 V start", "120 V start"])
def test_house_with_feeder_and_running_loads(start, volts):
    """22 kVA, X'' 0.14, X/R 8, 80 ft of feeder: both ways to 0.001 V (derived, `by_hand`).

    Running; with 110 A of locked rotor at 240 V, power factor 0.45; with 45 A at 120 V, 0.5.
    """
    assert by_hand(SOURCE_OHM, FEEDER_OHM, [*RUNNING, *start]) == pytest.approx(volts, abs=1e-3)
    assert solve(SOURCE_OHM, FEEDER_OHM, [*RUNNING, *start]) == pytest.approx(volts, abs=1e-3)


def test_the_deciding_form_beside_that_house():
    """X''·s / (1 + X''·s) with s = 26.4 / 22 is 14.38 % (derived); the whole house dips by 14.39 %.

    So close partly by luck: the form leaves out feeder, power factor and running loads. 0.5 points
    are what may be asked of it.
    """
    dip = voltage_dip(0.14, 0.24 * 110.0, 22.0)
    assert dip == pytest.approx(0.1438, abs=5e-5)
    before = by_hand(SOURCE_OHM, FEEDER_OHM, RUNNING)
    after = by_hand(SOURCE_OHM, FEEDER_OHM, [*RUNNING, LOCKED_240_V])
    assert 1.0 - after.legs / before.legs == pytest.approx(0.1439, abs=5e-5)
    assert 1.0 - after.legs / before.legs == pytest.approx(dip, abs=0.005)


def test_a_start_on_one_leg_lifts_the_other():
    """The neutral is pulled towards the leg with the start, so the other leg sees more volts."""
    before = solve(SOURCE_OHM, FEEDER_OHM, RUNNING)
    after = solve(SOURCE_OHM, FEEDER_OHM, [*RUNNING, LOCKED_120_V])
    assert after.b > before.b
    assert after.a < before.a


@pytest.mark.parametrize(("size", "length_ft", "power_factor"), [
    ("3", 80.0, 0.7), ("1/0", 250.0, 0.45), ("6", 120.0, 0.9)])
def test_start_through_a_feeder_is_the_circuit(size, length_ft, power_factor):
    """X'd, a feeder and one locked rotor in series: the same voltage as OpenDSS, to 1e-6 (derived).

    The neutral carries nothing, so the loop is source, line, motor, line.
    """
    feeder_ohm = run_ohm(size, length_ft)
    source_ohm = 0.2j * 240.0**2 / 22000.0
    motor = Load("1.2", 240.0, 24.0 * power_factor, power_factor)
    idle = Load("3.0", 120.0, 1e-6, 1.0)
    solved = solve(source_ohm, feeder_ohm, [motor, idle]).legs / 240.0
    ours = start_voltages(24.0, power_factor, 240.0, 22.0, 0.2, feeder_ohm).at_panel
    assert ours == pytest.approx(solved, abs=1e-6)


def test_start_of_a_120_v_motor_through_a_feeder_is_the_circuit():
    """One leg: half the source, a line and the neutral in series, to 1e-6 (derived, OpenDSS)."""
    feeder_ohm = run_ohm("3", 80.0)
    source_ohm = 0.2j * 240.0**2 / 22000.0
    solved = solve(source_ohm, feeder_ohm, [LOCKED_120_V]).a / 120.0
    ours = start_voltages(5.4, 0.5, 120.0, 22.0, 0.2, feeder_ohm).at_panel
    assert ours == pytest.approx(solved, abs=1e-6)
