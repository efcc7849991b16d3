"""Air and mass of a house or a cold box: an exact step of two coupled first-order bodies.

    Ca·dTa/dt = UA·(To − Ta) + H·(Tm − Ta) + Qa
    Cm·dTm/dt = H·(Ta − Tm) + Qm

For heat that is constant over the step the step is exact: x⁺ = F·x + K·q with F = exp(A·Δt) and
K = A⁻¹(F − 1)C⁻¹, the outdoor term UA·To being part of the heat into the air.

Derived: with a = H/Ca, b = UA/Ca, c = H/Cm the matrix A = ((−a − b, a), (c, −c)) has the rates
r = −(a + b + c)/2 ± w/2, w² = (a + b + c)² − 4·b·c = (a + b − c)² + 4·a·c > 0: two bodies that
exchange heat never swing, both rates are real and apart. So by Sylvester's formula
F = e^(r₁Δt)·(A − r₂)/w + e^(r₂Δt)·(r₁ − A)/w, and K has (e^(rΔt) − 1)/r in place of e^(rΔt).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from planner.arrays import FloatRows, Floats
from planner.compiled import compiled
from planner.simulation.columns import (
    AIR,
    F00,
    F01,
    F10,
    F11,
    K00,
    K01,
    K10,
    K11,
    LOSS,
    MASS,
)


@dataclass(frozen=True, slots=True)
class TwoMass:
    """Capacities of air and mass [Btu/degF], coupling and loss [Btu/(h·degF)]."""

    air_btu_degf: float
    mass_btu_degf: float
    coupling_btu_h_degf: float
    loss_btu_h_degf: float


def write_step(body: TwoMass, seconds: float, row: Floats) -> None:
    """Put the eight coefficients of a step, and the loss, into a row of parameters.

    Parameters
    ----------
    body : TwoMass
        House or box; all its values above 0.
    seconds : float
        Length of the step [s].
    row : ndarray of float
        Parameters of the machine; changed in place.
    """
    hours, loss = seconds / 3600.0, body.loss_btu_h_degf
    a, b = body.coupling_btu_h_degf / body.air_btu_degf, loss / body.air_btu_degf
    c = body.coupling_btu_h_degf / body.mass_btu_degf
    apart = math.sqrt((a + b - c) ** 2 + 4.0 * a * c)
    fast = -(a + b + c + apart) / 2.0
    slow = b * c / fast  # their product is b·c: no digits are lost where they lie far apart
    rates = np.array([[-a - b, a], [c, -c]])
    slowly, fastly = (rates - fast * np.eye(2)) / apart, (slow * np.eye(2) - rates) / apart
    capacity = np.array([body.air_btu_degf, body.mass_btu_degf])
    row[F00:F11 + 1] = (math.exp(slow * hours) * slowly + math.exp(fast * hours) * fastly).ravel()
    row[K00:K11 + 1] = ((math.expm1(slow * hours) / slow * slowly
                         + math.expm1(fast * hours) / fast * fastly) / capacity).ravel()
    row[LOSS] = loss


@compiled
def relax(
    i: int, state: FloatRows, parameters: FloatRows, outdoor_degf: float, air_btu_h: float,
    power_btu_h: float, mass_btu_h: float,
) -> None:
    """Bring air and mass of machine i to the end of its step.

    What its machines bring into the air is spread over the step.
    """
    into_air = parameters[i, LOSS] * outdoor_degf + air_btu_h + power_btu_h
    air, mass = state[i, AIR], state[i, MASS]
    state[i, AIR] = (parameters[i, F00] * air + parameters[i, F01] * mass
                     + parameters[i, K00] * into_air + parameters[i, K01] * mass_btu_h)
    state[i, MASS] = (parameters[i, F10] * air + parameters[i, F11] * mass
                      + parameters[i, K10] * into_air + parameters[i, K11] * mass_btu_h)
