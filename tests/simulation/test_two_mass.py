"""The step of two coupled bodies in closed form, against the matrix exponential."""

from __future__ import annotations

import random
import warnings

import numpy as np
import pytest
from scipy.linalg import expm

from planner.simulation.appliances.two_mass import TwoMass, write_step
from planner.simulation.columns import F00, F11, K00, K11, LOSS
from tests.simulation.alone import blank


def by_the_exponential(body, seconds):
    """F and K of a step [1, degF/(Btu/h)] from one exponential of the system beside its heat."""
    capacity = np.array([body.air_btu_degf, body.mass_btu_degf])
    h, loss = body.coupling_btu_h_degf, body.loss_btu_h_degf
    whole = np.zeros((4, 4))
    whole[:2, :2] = np.array([[-loss - h, h], [h, -h]]) / capacity[:, None]
    whole[:2, 2:] = np.diag(1.0 / capacity)
    step = expm(whole * seconds / 3600.0)
    return step[:2, :2], step[:2, 2:]


def assert_exact(body, seconds):
    """All eight coefficients agree to 1e-12, those of the heat in parts of the step's length."""
    row, _ = blank(seconds)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        write_step(body, seconds, row)
    kept, warmed = by_the_exponential(body, seconds)
    per_heat = min(body.air_btu_degf, body.mass_btu_degf) * 3600.0 / seconds
    assert row[F00:F11 + 1].reshape(2, 2) == pytest.approx(kept, rel=0.0, abs=1e-12)
    assert per_heat * row[K00:K11 + 1].reshape(2, 2) == pytest.approx(
        per_heat * warmed, rel=0.0, abs=1e-12)
    assert row[LOSS] == body.loss_btu_h_degf


@pytest.mark.parametrize("seed", range(200))
def test_the_closed_form_is_the_matrix_exponential(seed):
    """For houses and cold boxes of every size, a second to an hour long, without a warning."""
    rng = random.Random(f"two masses {seed}")
    air = 10.0 ** rng.uniform(-1.0, 4.0)
    body = TwoMass(air, air * 10.0 ** rng.uniform(-1.0, 2.0), air * 10.0 ** rng.uniform(-2.0, 2.0),
                   air * 10.0 ** rng.uniform(-3.0, 1.0))
    assert_exact(body, 10.0 ** rng.uniform(0.0, 3.5))


@pytest.mark.parametrize("body", [
    TwoMass(500.0, 4500.0, 1e6, 600.0),  # as one body
    TwoMass(900.0, 4000.0, 1e-6, 600.0),  # hardly coupled: the rates of two bodies alone
    TwoMass(1000.0, 1000.0, 100.0, 1e-6),  # hardly a loss: one rate near 0
    TwoMass(1000.0, 1000.0, 1e-3, 1e-3)])  # both rates near each other and near 0
def test_the_ends(body):
    """Where a rate goes to 0 or both come near each other no digits are lost."""
    assert_exact(body, 60.0)


def test_the_coefficients_are_real_numbers():
    """Numbers of numpy's plain float kind go in: nothing is cast from complex and dropped."""
    row, _ = blank(10.0)
    write_step(TwoMass(900.0, 4000.0, 2500.0, 600.0), 10.0, row)
    assert row.dtype == np.float64
    assert np.isfinite(row).all()
